//! What is bought and put in: wall fittings, drain pipes, pumps, skimmers, heaters, probes.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::{DrainDuty, DrainPipe, Equipment, EquipmentKind, Wall, WallFitting};
use plate::{Contour, Cut, Plate, Shape, Turned};

use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::frame::pose;
use crate::model::{JointKind, Role};
use crate::sock_holder::sock_middles;
use crate::spaces::{Layout, Space};

/// How far pipes and equipment are drawn above their places.
const PIPE_LIFT_MM: f64 = 420.0;
const EQUIPMENT_LIFT_MM: f64 = 200.0;
/// A drain pipe ends this far above the rim unless the file says otherwise.
const ABOVE_RIM_MM: f64 = 60.0;
/// Play of a fitting's barrel in its hole, on the diameter.
const BARREL_PLAY_MM: f64 = 1.0;
/// Thickness of a fitting's flange and nut, common practice.
const FLANGE_MM: f64 = 6.0;
const FITTING_COLOUR: [u8; 3] = [96, 102, 110];
const PIPE_COLOUR: [u8; 3] = [205, 208, 210];

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, fitting) in b.file.wall_fitting.iter().enumerate() {
        wall_fitting(b, enclosure, fitting, &format!("wall_fitting[{i}]"));
    }
    for (i, drain) in b.file.drain.iter().enumerate() {
        if let Some(chamber) = layout.chamber(&drain.chamber) {
            drain_pipe(b, enclosure, layout, chamber, drain, &format!("drain[{i}]"));
        }
    }
    for (i, thing) in b.file.equipment.iter().enumerate() {
        if let Some(chamber) = layout.chamber(&thing.chamber) {
            equipment(b, enclosure, chamber, thing, &format!("equipment[{i}]"));
        }
    }
}

fn wall_fitting(b: &mut Builder<'_>, enclosure: &Enclosure, spec: &WallFitting, parameter: &str) {
    let host = enclosure.wall(spec.wall);
    let [inside_lo, inside_hi] = enclosure.inside;
    let z = enclosure.floor_z + spec.height.to_mm();
    let at = spec.at.to_mm();
    let (middle, along) = match spec.wall {
        Wall::Front | Wall::Back => {
            (dvec2(inside_lo.x + at, host.plane), inside_hi.x - inside_lo.x)
        }
        Wall::InletEnd | Wall::FarEnd => {
            (dvec2(host.plane, inside_lo.y + at), inside_hi.y - inside_lo.y)
        }
    };
    let (hole, flange) = (spec.hole.to_mm(), spec.flange.to_mm());
    if flange <= hole {
        let message = format!("a flange of {flange:.1} mm does not cover a hole of {hole:.1} mm");
        b.find(
            Finding::fails("flange-smaller-than-hole", format!("{parameter}.flange"), message)
                .with_hint("give the flange's outer diameter"),
        );
        return;
    }
    check_edges(
        b,
        spec,
        parameter,
        [at, along - at, spec.height.to_mm(), enclosure.inside_height_mm() - spec.height.to_mm()],
    );
    b.cut(&host, Cut::through(Contour::circle(host.local(middle.extend(z)), 0.5 * hole)));

    let t = b.sheet(None).thickness_mm();
    let barrel = 0.5 * (hole - BARREL_PLAY_MM);
    let bore = 0.7 * barrel;
    let (inner, outer) = (spec.inside.to_mm().max(FLANGE_MM), spec.outside.to_mm().max(FLANGE_MM));
    let flange = 0.5 * flange;
    // Local z points out of the wall into the sump; the wall lies from -t to 0.
    let spool = |z0: f64, z1: f64| Turned {
        profile: vec![
            dvec2(bore, z0),
            dvec2(barrel, z0),
            dvec2(barrel, -t - FLANGE_MM),
            dvec2(flange, -t - FLANGE_MM),
            dvec2(flange, -t),
            dvec2(barrel, -t),
            dvec2(barrel, 0.0),
            dvec2(flange, 0.0),
            dvec2(flange, FLANGE_MM),
            dvec2(barrel, FLANGE_MM),
            dvec2(barrel, z1),
            dvec2(bore, z1),
        ],
    };
    // A flange that ends where the barrel ends has no step there.
    let (z0, z1) = (-t - outer.max(FLANGE_MM + 1.0), inner.max(FLANGE_MM + 1.0));
    let id = b.add(
        Draft::new(
            Role::WallFitting,
            format!("fitting {}", spec.name),
            parameter,
            Shape::Turned(spool(z0, z1)),
        )
        .colour(FITTING_COLOUR)
        .pose(pose(DVec3::Z, host.inward.cross(DVec3::Z), middle.extend(z))),
    );
    b.touch(JointKind::Clamped, id, host.draft);
}

/// Distances of a fitting's middle from the wall's ends, the bottom and the wall's upper edge.
fn check_edges(b: &mut Builder<'_>, spec: &WallFitting, parameter: &str, distances: [f64; 4]) {
    let (hole, flange) = (spec.hole.to_mm(), spec.flange.to_mm());
    let names = ["the near end", "the far end", "the bottom", "the wall's upper edge"];
    for (distance, name) in distances.into_iter().zip(names) {
        let field = if name.ends_with("end") { "at" } else { "height" };
        let (land, seat) = (distance - 0.5 * hole, distance - 0.5 * flange);
        let message = if land < 0.0 {
            format!("the hole of fitting `{}` reaches {:.1} mm beyond {name}", spec.name, -land)
        } else {
            format!("the hole of fitting `{}` is {land:.1} mm from {name}", spec.name)
        };
        let finding = if seat < 0.0 {
            Finding::fails(
                "hole-near-edge",
                format!("{parameter}.{field}"),
                format!("{message}: its flange of {flange:.0} mm does not seat"),
            )
            .with_limit(seat, 0.0, "mm")
        } else if land < hole {
            Finding::tight(
                "hole-near-edge",
                format!("{parameter}.{field}"),
                format!("{message}; at least its own diameter, {hole:.0} mm, is wanted"),
            )
            .with_limit(land, hole, "mm")
            .with_source("common practice: one hole diameter of sheet to every edge")
        } else {
            continue;
        };
        b.find(finding.with_hint(format!("move it with `{field}`")));
    }
}

/// The middle of something in a chamber: where the file says, else `default`.
fn middle(chamber: &Space, at: Option<[units::Length; 2]>, default: DVec2) -> DVec2 {
    at.map_or(default, |[x, y]| chamber.min + dvec2(x.to_mm(), y.to_mm()))
}

fn drain_pipe(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    chamber: &Space,
    spec: &DrainPipe,
    parameter: &str,
) {
    let diameter = spec.diameter.to_mm();
    let wall = spec.wall.map_or(0.1 * diameter, units::Length::to_mm);
    let bore = diameter - 2.0 * wall;
    let end = enclosure.floor_z + spec.end.to_mm();
    let top =
        spec.top.map_or(enclosure.outside.z + ABOVE_RIM_MM, |top| enclosure.floor_z + top.to_mm());
    if bore < 1.0 || top - end < 10.0 {
        let message = if bore < 1.0 {
            format!("a wall of {wall:.1} mm leaves no bore in a pipe of {diameter:.1} mm")
        } else {
            format!("the pipe would be {:.0} mm long: its end lies above its top", top - end)
        };
        b.find(
            Finding::fails("drain-pipe", parameter, message)
                .with_hint("check `diameter`, `wall`, `end` and `top`"),
        );
        return;
    }
    let default = sock_middles(b, enclosure, layout, &chamber.name)
        .and_then(|m| m.first().copied())
        .unwrap_or(0.5 * (chamber.min + chamber.max));
    let at = middle(chamber, spec.at, default);
    check_inside(
        b,
        chamber,
        &spec.name,
        &format!("{parameter}.at"),
        at,
        DVec2::splat(0.5 * diameter),
    );
    b.add(
        Draft::new(
            Role::DrainPipe,
            format!("drain {}", spec.name),
            parameter,
            Shape::Turned(Turned::pipe(diameter, bore, top - end)),
        )
        .pose(pose(DVec3::X, DVec3::Y, at.extend(end)))
        .lifts(PIPE_LIFT_MM)
        .note(format!("{} drain, {diameter:.0} × {wall:.1} mm pipe", duty_words(spec.duty)))
        .colour(PIPE_COLOUR),
    );
}

fn duty_words(duty: DrainDuty) -> &'static str {
    match duty {
        DrainDuty::Main => "main",
        DrainDuty::Secondary => "secondary",
        DrainDuty::Emergency => "emergency",
    }
}

fn equipment(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    chamber: &Space,
    spec: &Equipment,
    parameter: &str,
) {
    let centre = middle(chamber, spec.at, 0.5 * (chamber.min + chamber.max));
    let z = enclosure.floor_z + spec.stand.to_mm();
    let (shape, half, height, origin) = match (&spec.block, &spec.cylinder) {
        (Some(size), _) => {
            let [x, y, z_size] = size.map(units::Length::to_mm);
            let plate = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(x, y)), z_size);
            let half = 0.5 * dvec2(x, y);
            (Shape::Sheet(plate), half, z_size, centre - half)
        }
        (None, Some(cylinder)) => {
            let (d, h) = (cylinder.diameter.to_mm(), cylinder.height.to_mm());
            (Shape::Turned(Turned::cylinder(d, h)), DVec2::splat(0.5 * d), h, centre)
        }
        (None, None) => return, // said when the file was read
    };
    let field =
        if spec.at.is_some() { format!("{parameter}.at") } else { format!("{parameter}.chamber") };
    check_inside(b, chamber, &spec.name, &field, centre, half);
    let around = DVec2::splat(spec.service.around.to_mm());
    let id = b.add(
        Draft::new(Role::Equipment, &spec.name, parameter, shape)
            .pose(pose(DVec3::X, DVec3::Y, origin.extend(z)))
            .lifts(EQUIPMENT_LIFT_MM)
            .note(kind_words(spec.kind))
            .colour(kind_colour(spec.kind)),
    );
    let service = [
        (centre - half - around).extend(z),
        (centre + half + around).extend(z + height + spec.service.above.to_mm()),
    ];
    b.drafts[id].service.push(service);
    if spec.stand.to_mm() == 0.0 {
        b.touch(JointKind::Rests, id, enclosure.bottom);
    }
}

fn kind_words(kind: EquipmentKind) -> &'static str {
    match kind {
        EquipmentKind::Pump => "pump",
        EquipmentKind::Skimmer => "skimmer",
        EquipmentKind::Heater => "heater",
        EquipmentKind::Probe => "probe",
        EquipmentKind::Reactor => "reactor",
        EquipmentKind::Other => "equipment",
    }
}

/// Colours in pictures, so that kinds are told apart.
fn kind_colour(kind: EquipmentKind) -> [u8; 3] {
    match kind {
        EquipmentKind::Pump => [58, 66, 84],
        EquipmentKind::Skimmer => [214, 170, 92],
        EquipmentKind::Heater => [172, 74, 62],
        EquipmentKind::Probe => [92, 132, 116],
        EquipmentKind::Reactor => [118, 92, 142],
        EquipmentKind::Other => [120, 120, 124],
    }
}

fn check_inside(
    b: &mut Builder<'_>,
    chamber: &Space,
    name: &str,
    parameter: &str,
    middle: DVec2,
    half: DVec2,
) {
    let out = (chamber.min - (middle - half)).max(middle + half - chamber.max);
    for (out, axis) in [(out.x, "along the sump"), (out.y, "from front to back")] {
        if out > 0.0 {
            let message =
                format!("`{name}` stands {out:.1} mm out of chamber `{}` {axis}", chamber.name);
            b.find(
                Finding::fails("outside-chamber", parameter, message)
                    .with_limit(-out, 0.0, "mm")
                    .with_hint(
                        "move it with `at`, take a smaller one, or give the chamber more room",
                    ),
            );
        }
    }
}

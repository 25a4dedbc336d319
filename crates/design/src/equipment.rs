//! What is bought and put in: drain pipes, pumps, skimmers, heaters, probes.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::{DrainDuty, DrainPipe, Equipment, EquipmentKind};
use plate::{Contour, Plate, Shape, Turned};

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
/// Less than this is a slip of the pen, mm, not a pipe.
const LEAST_BORE_MM: f64 = 1.0;
const LEAST_PIPE_MM: f64 = 10.0;
/// Wall of a pipe over its diameter unless the file says otherwise: near PN 16 pressure pipe of PVC-U,
/// 2.4 mm for 32 mm and 3.7 mm for 50 mm (EN ISO 1452-2, from memory).
const WALL_SHARE: f64 = 0.1;
const PIPE_COLOUR: [u8; 3] = [205, 208, 210];

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
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

/// The middle of something in a chamber: where the file says, else `default`.
fn middle(chamber: &Space, at: Option<[units::Length; 2]>, default: DVec2) -> DVec2 {
    at.map_or(default, |[x, y]| chamber.min + dvec2(x.to_mm(), y.to_mm()))
}

fn wall_mm(spec: &DrainPipe) -> f64 {
    spec.wall.map_or(WALL_SHARE * spec.diameter.to_mm(), units::Length::to_mm)
}

/// Inner diameter of a drain pipe, mm.
pub(crate) fn bore_mm(spec: &DrainPipe) -> f64 {
    spec.diameter.to_mm() - 2.0 * wall_mm(spec)
}

fn drain_pipe(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    chamber: &Space,
    spec: &DrainPipe,
    parameter: &str,
) {
    if spec.through.is_some() {
        return; // It comes in through a fitting, which is drawn in its wall.
    }
    let (diameter, wall, bore) = (spec.diameter.to_mm(), wall_mm(spec), bore_mm(spec));
    let end = enclosure.floor_z + spec.end.to_mm();
    let top =
        spec.top.map_or(enclosure.outside.z + ABOVE_RIM_MM, |top| enclosure.floor_z + top.to_mm());
    if bore < LEAST_BORE_MM || top - end < LEAST_PIPE_MM {
        let message = if bore < LEAST_BORE_MM {
            let (wall, diameter) = (b.show(wall), b.show(diameter));
            format!("a wall of {wall} leaves no bore in a pipe of {diameter}")
        } else if top <= end {
            format!("the pipe's upper end lies {} below its lower end", b.show(end - top))
        } else {
            format!("the pipe would be only {} long", b.show(top - end))
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
        .note(format!(
            "{} drain, {diameter:.0} × {wall:.1} mm pipe, the piece in the sump only; the drop from the display comes on top",
            duty_words(spec.duty)
        ))
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
                format!("`{name}` stands {} out of chamber `{}` {axis}", b.show(out), chamber.name);
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

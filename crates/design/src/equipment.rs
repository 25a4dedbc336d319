//! What is bought and put in: drain pipes, pumps, skimmers, heaters, probes.

mod blocks;
mod compound;
mod drain_pipe;
mod field;
mod free_place;
mod placing;

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::{EquipmentKind, StubKind};
use plate::Shape;

use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::model::{JointKind, Role};
use crate::removables::index_in;
use crate::spaces::{Layout, Space};
use compound::{Body, BodyKind, Compound, Place};

pub(crate) use drain_pipe::bore_mm;
pub(crate) use placing::NO_FREE_PLACE;

/// How far equipment is drawn above its place.
const EQUIPMENT_LIFT_MM: f64 = 200.0;
const HOSE_COLOUR: [u8; 3] = [150, 156, 160];
const CABLE_COLOUR: [u8; 3] = [40, 40, 44];
/// A foot that is no farther from the bottom stands on it, mm: rounding.
const STANDS_MM: f64 = 1e-6;

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, drain) in b.file.drain.iter().enumerate() {
        if let Some(chamber) = layout.chamber(&drain.chamber) {
            drain_pipe::build(b, enclosure, layout, chamber, drain, &format!("drain[{i}]"));
        }
    }
    let file = b.file;
    let things = file.equipment.iter().enumerate();
    let compounds: Vec<(Compound<'_>, &Space)> = things
        .filter_map(|(i, thing)| {
            let chamber = layout.chamber(&thing.chamber)?;
            Some((Compound::of(thing, format!("equipment[{i}]"))?, chamber))
        })
        .collect();
    let places = placing::places(b, enclosure, &compounds);
    for ((compound, _), place) in compounds.iter().zip(&places) {
        add(b, enclosure, compound, place);
    }
}

/// The middle of something in a chamber: where the file says, else `default`.
fn middle(chamber: &Space, at: Option<[units::Length; 2]>, default: DVec2) -> DVec2 {
    at.map_or(default, |[x, y]| chamber.min + dvec2(x.to_mm(), y.to_mm()))
}

/// Mean density of a body of equipment whose weight the file gives, kg/m³: the weight is spread evenly over all bodies
/// that are one with it.
pub(crate) fn density_kg_m3(b: &Builder<'_>, draft: &Draft) -> Option<f64> {
    let index = |d: &Draft| {
        let is_equipment = d.role == Role::Equipment;
        is_equipment.then(|| index_in(&d.parameter, "equipment")).flatten()
    };
    let i = index(draft)?;
    let kg = b.file.equipment.get(i)?.weight?.to_kg();
    let volume_mm3: f64 =
        b.drafts.iter().filter(|d| index(d) == Some(i)).map(|d| volume_mm3(&d.shape)).sum();
    (volume_mm3 > 0.0).then(|| kg / (volume_mm3 * 1e-9))
}

/// Volume of a body without cuts.
fn volume_mm3(shape: &Shape) -> f64 {
    match shape {
        Shape::Sheet(plate) => plate.outline.signed_area() * plate.thickness,
        Shape::Turned(turned) => turned.volume_mm3(),
    }
}

/// Adds a compound in its place, its main body first.
fn add(b: &mut Builder<'_>, enclosure: &Enclosure, compound: &Compound<'_>, place: &Place) {
    let mut main: Option<DraftId> = None;
    for body in &compound.bodies {
        let mut draft = draft(compound, body, place);
        draft.part_of = main;
        if main.is_none() {
            draft.service = compound.service(place);
        }
        let id = b.add(draft);
        main.get_or_insert(id);
        let is_stub = matches!(body.kind, BodyKind::Stub(_));
        let above = body.bounds(place)[0].z - enclosure.floor_z;
        if !is_stub && above.abs() <= STANDS_MM {
            b.touch(JointKind::Rests, id, enclosure.bottom);
        }
    }
}

fn draft(compound: &Compound<'_>, body: &Body, place: &Place) -> Draft {
    let kind = compound.spec.kind;
    let (note, colour) = match body.kind {
        BodyKind::Main => (kind_words(kind).to_owned(), kind_colour(kind)),
        BodyKind::Part => (format!("one with {}", compound.spec.name), kind_colour(kind)),
        BodyKind::Stub(StubKind::Hose) => (format!("hose of {}", compound.spec.name), HOSE_COLOUR),
        BodyKind::Stub(StubKind::Cable) => {
            (format!("cable of {}", compound.spec.name), CABLE_COLOUR)
        }
    };
    let draft = Draft::new(Role::Equipment, &body.name, &body.parameter, body.shape.clone())
        .pose(body.pose(place))
        .lifts(EQUIPMENT_LIFT_MM)
        .note(note)
        .colour(colour);
    let more = compound.bodies.len() - 1;
    let draft = match (body.kind, more) {
        (BodyKind::Main, 1) => draft.note("its main body; one more belongs to it"),
        (BodyKind::Main, 2..) => draft.note(format!("its main body; {more} more belong to it")),
        _ => draft,
    };
    match (body.kind, place.quarters) {
        (BodyKind::Main, 1) => draft.note("stands turned by 90°, counter-clockwise from above"),
        (BodyKind::Main, 2) => draft.note("stands turned by 180°"),
        (BodyKind::Main, 3) => draft.note("stands turned by 90°, clockwise from above"),
        _ => draft,
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

/// Says when something with this outline stands out of its chamber.
fn check_inside(
    b: &mut Builder<'_>,
    chamber: &Space,
    name: &str,
    parameter: &str,
    [lo, hi]: [DVec3; 2],
) {
    let out = (chamber.min - lo.truncate()).max(hi.truncate() - chamber.max);
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

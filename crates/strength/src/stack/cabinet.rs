//! The sump in its cabinet.

use design::{PlacedId, Role};
use params::CabinetSide;

use super::parts::{Causes, certain, one_cause};
use super::{Part, Stack, StackCode, Subject};
use crate::place::axis_of;

/// How far a cabinet's inside or an opening differs from what the file says, mm; our judgement: joinery is true to 1 mm or
/// so, and out of square by as much.
const JOINERY_MM: f64 = 2.0;

/// Room for the sump along one of its axes.
struct Room<'a> {
    words: &'a str,
    parameter: &'a str,
    room_mm: f64,
    sump_mm: f64,
    /// The walls that bulge into it: those across this axis, while water stands in them.
    bulges_along: Option<usize>,
}

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let Some(room) = &causes.design.surroundings else { return Vec::new() };
    let outside = causes.design.outside;
    let inside = room.inside[1] - room.inside[0];
    let mut rooms = vec![
        Room {
            words: "in the cabinet, along it",
            parameter: "cabinet.inside.length",
            room_mm: inside.x,
            sump_mm: outside.x,
            bulges_along: Some(0),
        },
        Room {
            words: "in the cabinet, from front to back",
            parameter: "cabinet.inside.width",
            room_mm: inside.y,
            sump_mm: outside.y,
            bulges_along: Some(1),
        },
    ];
    if room.has_ceiling {
        rooms.push(Room {
            words: "under the cabinet's ceiling",
            parameter: "cabinet.inside.height",
            room_mm: room.inside[1].z,
            sump_mm: outside.z,
            bulges_along: None,
        });
    }
    // Straight in through an opening that is large enough as drawn. Whether it gets in otherwise, tipped or endwise, is not
    // a matter of tolerances.
    for opening in &room.openings {
        let gap = opening.gap[1] - opening.gap[0];
        let (wide, needs) = match opening.side {
            CabinetSide::Front | CabinetSide::Back => (gap.x, outside.x),
            CabinetSide::InletEnd | CabinetSide::FarEnd => (gap.y, outside.y),
        };
        if wide < needs || gap.z < outside.z {
            continue;
        }
        let through = |words, room_mm, sump_mm| Room {
            words,
            parameter: &opening.parameter,
            room_mm,
            sump_mm,
            bulges_along: None,
        };
        rooms.push(through("through the opening, by its width", wide, needs));
        rooms.push(through("through the opening, by its height", gap.z, outside.z));
    }
    rooms.iter().map(|room| stack(causes, room)).collect()
}

/// The gap of the sump in a room.
fn stack(causes: &Causes<'_>, room: &Room<'_>) -> Stack {
    let mut parts: Vec<Part> = vec![
        causes.glued("one side of the sump"),
        causes.glued("other side of the sump"),
        one_cause("joinery of the cabinet", [-JOINERY_MM, JOINERY_MM]),
    ];
    parts.extend(causes.growth_of_box(room.sump_mm));
    if let Some(axis) = room.bulges_along {
        let bulges = walls_across(causes, axis);
        let bulge = bulges.filter_map(|wall| Some(causes.bent(wall, true)?.most_mm())).sum::<f64>();
        parts.push(certain("bulge of the walls under water", [-bulge, 0.0]));
    }
    let subject = Subject {
        code: StackCode::SumpEnters,
        words: format!("sump {}", room.words),
        parameter: room.parameter.to_owned(),
    };
    Stack::new(subject, room.room_mm - room.sump_mm, [Some(0.0), None], parts)
}

/// The walls whose faces look along an axis: 0 for those at the ends, 1 for front and back.
fn walls_across<'a>(causes: &'a Causes<'_>, axis: usize) -> impl Iterator<Item = PlacedId> + 'a {
    let design = causes.design;
    (0..design.placed.len()).filter(move |&id| {
        let placed = &design.placed[id];
        design.pieces[placed.piece].role == Role::Wall
            && axis_of(placed.pose.matrix3.z_axis) == axis
    })
}

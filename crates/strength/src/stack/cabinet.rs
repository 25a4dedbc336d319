//! The sump in its cabinet.

use design::PlacedId;
use params::CabinetSide;

use super::parts::{Causes, one_cause};
use super::{Part, Stack, Subject};

/// How far a cabinet's inside or an opening differs from what the file says, mm; our judgement: joinery is true to 1 mm or
/// so, and out of square by as much.
const JOINERY_MM: f64 = 2.0;

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let Some(room) = &causes.design.surroundings else { return Vec::new() };
    let outside = causes.design.outside;
    let inside = room.inside[1] - room.inside[0];
    let mut stacks = vec![
        stack(causes, "in the cabinet, along it", "cabinet.inside.length", inside.x, outside.x),
        stack(
            causes,
            "in the cabinet, from front to back",
            "cabinet.inside.width",
            inside.y,
            outside.y,
        ),
    ];
    if room.has_ceiling {
        let height = room.inside[1].z;
        stacks.push(stack(
            causes,
            "under the cabinet's ceiling",
            "cabinet.inside.height",
            height,
            outside.z,
        ));
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
        let parameter = &opening.parameter;
        stacks.push(stack(causes, "through the opening, by its width", parameter, wide, needs));
        stacks.push(stack(
            causes,
            "through the opening, by its height",
            parameter,
            gap.z,
            outside.z,
        ));
    }
    stacks
}

/// The gap of the sump in a room.
fn stack(causes: &Causes<'_>, words: &str, parameter: &str, room_mm: f64, sump_mm: f64) -> Stack {
    let mut parts: Vec<Part> = vec![
        causes.glued("one side of the sump"),
        causes.glued("other side of the sump"),
        one_cause("joinery of the cabinet", [-JOINERY_MM, JOINERY_MM]),
    ];
    parts.extend(causes.growth_of_box(sump_mm));
    if parameter == "cabinet.inside.width" {
        let walls = long_walls(causes).into_iter().flatten();
        let bulges = walls.filter_map(|wall| Some(causes.bent(wall, true)?.most_mm()));
        let bulge = bulges.sum::<f64>();
        parts.push(one_cause("bulge of the walls under water", [-bulge, 0.0]));
    }
    let subject = Subject {
        code: "sump-enters",
        words: format!("sump {words}"),
        parameter: parameter.to_owned(),
    };
    Stack::new(subject, room_mm - sump_mm, [Some(0.0), None], parts)
}

/// Front and back wall.
fn long_walls(causes: &Causes<'_>) -> [Option<PlacedId>; 2] {
    let named = |name: &str| causes.design.placed.iter().position(|placed| placed.name == name);
    [named("front wall"), named("back wall")]
}

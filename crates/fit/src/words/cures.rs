//! What would let a part out.

use design::{Design, RemovableId, Role};
use glam::DVec2;
use units::Length;

use super::direction::along;
use crate::way::Cure;

/// The nearest change that would let a part out, as a sentence without its end: `it comes out if it is ..`.
pub fn cure(cure: &Cure, design: &Design) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let name = |which: RemovableId| {
        design.removables.get(which).map_or("", |removable| removable.name.as_str())
    };
    let change = match cure {
        Cure::Smaller { by_mm } => {
            format!("it is {} shorter along its longest level side", length(*by_mm))
        }
        Cure::Without { thing, name } if is_rim(*thing, design) => {
            return format!(
                "without `{name}` it comes out: a narrower rim or a wider opening may let it out"
            );
        }
        Cure::Without { name, .. } => format!("`{name}` is not in its way"),
        Cure::HigherCeiling { by_mm } => {
            format!("the ceiling of the cabinet is {} higher", length(*by_mm))
        }
        Cure::Moved { removable, by_mm } => {
            let by = along(DVec2::from_array(*by_mm), design.report);
            format!("`{}` stands {by}, if there is room for that", name(*removable))
        }
    };
    format!("it comes out if {change}")
}

/// Placed parts are the first things of the world, in their order.
fn is_rim(thing: usize, design: &Design) -> bool {
    let placed = design.placed.get(thing);
    placed.is_some_and(|placed| design.pieces[placed.piece].role == Role::Rim)
}

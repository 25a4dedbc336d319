//! What would let a part out.

use design::{Design, RemovableId, Role, SurroundingKind};
use glam::DVec2;
use units::Length;

use super::direction::along;
use super::listed;
use super::proofs::{is_bought, openings_in, surrounding};
use crate::way::Cure;

/// The nearest change that would let a part out, as a sentence without its end: `it comes out if it is ..`.
pub fn cure(cure: &Cure, which: RemovableId, design: &Design) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let name = |which: RemovableId| {
        design.removables.get(which).map_or("", |removable| removable.name.as_str())
    };
    let change = match cure {
        Cure::Smaller { by_mm } if is_bought(which, design) => format!(
            "another is chosen that is {} shorter along its longest level side",
            length(*by_mm)
        ),
        Cure::Smaller { by_mm } => {
            format!("it is {} shorter along its longest level side", length(*by_mm))
        }
        Cure::Without { thing, name } if is_rim(*thing, design) => {
            return format!(
                "without `{name}` it comes out: a narrower rim or a wider opening may let it out"
            );
        }
        Cure::Without { thing, name } => without(*thing, name, design),
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

/// What is done so that something fixed is not in its way.
fn without(thing: usize, name: &str, design: &Design) -> String {
    let Some(around) = surrounding(thing, design) else {
        return format!("`{name}` is not in its way");
    };
    match around.kind {
        SurroundingKind::Panel => match openings_in(around, design).as_slice() {
            [] => format!("`{name}` has an opening there (`cabinet.opening`)"),
            paths => format!("the opening in `{name}` is wider or higher ({})", listed(paths)),
        },
        SurroundingKind::PipeAbove => format!(
            "a hose comes down there instead of `{name}`, and is turned aside (`{} = \"hose\"`)",
            around.parameter
        ),
        SurroundingKind::Shelf => {
            format!("`{name}` is one that comes out, or hangs elsewhere (`{}`)", around.parameter)
        }
        _ => format!("`{name}` is not in its way"),
    }
}

/// Placed parts are the first things of the world, in their order.
fn is_rim(thing: usize, design: &Design) -> bool {
    let placed = design.placed.get(thing);
    placed.is_some_and(|placed| design.pieces[placed.piece].role == Role::Rim)
}

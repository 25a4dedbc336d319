//! The first lines about strength: does it hold, what decides, what to change first, what it weighs.

use design::Design;
use strength::Weight;

use super::shown::Shown;
use crate::strong::Strong;

/// A head and a sentence or two for each line.
pub fn verdict(strong: &Strong, design: &Design) -> [(&'static str, String); 4] {
    let told = &strong.verdict;
    [
        ("Does it hold?", told.answer.clone()),
        ("What decides:", told.decides.clone()),
        ("Change first:", told.first.clone()),
        ("Weight:", weight(&strong.strength.weight, Shown(design.report))),
    ]
}

/// All states of it in one line.
fn weight(weight: &Weight, shown: Shown) -> String {
    let running = weight
        .running
        .as_ref()
        .map_or(String::new(), |state| format!("{} running, ", shown.kg(state.total_kg())));
    let more = if weight.unknown.is_empty() {
        ""
    } else {
        "; on top comes what has no known mass, see the table"
    };
    format!(
        "{} to carry in, dry with loose parts out; {running}{} full to the rim{more}. Whether the floor bears it is not checked.",
        shown.kg(weight.carried.total_kg()),
        shown.kg(weight.full.total_kg())
    )
}

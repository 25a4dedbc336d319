//! Strainers in the openings of leaves: what they take, and whether the flow holds them in.

use design::{Strainer, Way};
use findings::Finding;

use super::Checks;
use crate::rehearsal::strainers;
use crate::system::Part;

/// Less flow than this presses on nothing, m³/s: a litre an hour.
const STILL_M3_S: f64 = 1.0 / 3.6e6;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let all = strainers(c.works());
    all.flat_map(|(way, strainer)| {
        std::iter::once(takes(way, strainer)).chain(wrong_side(c, way, strainer))
    })
    .collect()
}

/// What it leaves of its opening. What it does when it is clogged is rehearsed.
fn takes(way: &Way, strainer: &Strainer) -> Finding {
    let message = format!(
        "`{}` leaves {:.0} % of its opening in leaf `{}` free while it is clean: the levels are those with it; what grows on it \
         is not known and is rehearsed as a clogged one",
        strainer.name,
        100.0 * strainer.free,
        way.leaf
    );
    Finding::holds("strainer-in-opening", &strainer.parameter, message)
        .with_source("discharge of a clean fine screen through its free area, coefficient 0.60")
}

/// The flow is to press the flange on.
fn wrong_side(c: &Checks<'_>, way: &Way, strainer: &Strainer) -> Option<Finding> {
    let system = &c.running.system;
    let is_here = |part: &Part| {
        matches!(part, Part::Way { way: other, is_strained: true, .. }
            if c.works().ways.get(*other) == Some(way))
    };
    let element = system.elements(is_here).next()?;
    let flow = c.running.flows_m3_s[element];
    let (from, to) = if flow > 0.0 { (way.up, way.down) } else { (way.down, way.up) };
    if flow.abs() < STILL_M3_S || strainer.flange_in != Some(to) {
        return None;
    }
    let message = format!(
        "the flange of `{}` lies in {}, where the water goes to: the flow pushes it out of its opening in leaf `{}`, and what it \
         catches gathers inside its collar",
        strainer.name,
        c.tank(to),
        way.leaf
    );
    let name = &c.works().basins[from].name;
    let hint = if c.works().basins[from].is_chamber {
        format!("write `chamber = \"{name}\"`, so that the flow presses it on")
    } else {
        "put it on the other side of the leaf, so that the flow presses it on".to_owned()
    };
    Some(
        Finding::tight("strainer-downstream", format!("{}.chamber", strainer.parameter), message)
            .with_source("common practice")
            .with_hint(hint),
    )
}

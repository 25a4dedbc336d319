//! What is said of reach.

use findings::Finding;

use super::Checks;
use crate::report::{ChamberReach, Rescue, ToolReach};
use crate::words::percent;

/// A floor is within reach when this share of it is; our judgement: what is left is a corner that a jet of water
/// cleans.
const WHOLE: f64 = 0.99;

/// What all of this does not tell, in a sentence without its end.
pub const REACH_LIMITS: &str = "places of hand and arm are asked for, not the motion there, and the body only roughly: \
    try it before animals go in";

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let floors = c.fit.report.reach.iter().map(|chamber| floor(c, chamber));
    floors
        .flatten()
        .chain(c.fit.report.rescue.as_ref().map(|rescue| self::rescue(c, rescue)))
        .collect()
}

fn floor(c: &Checks<'_>, chamber: &ChamberReach) -> Option<Finding> {
    // Of those that reach most the one for which least is taken out.
    let best = chamber.tools.iter().reduce(|best, tool| {
        let is_more = best.best_share.min(WHOLE) < tool.best_share.min(WHOLE);
        let is_as_much = best.best_share.min(WHOLE) <= tool.best_share.min(WHOLE);
        let is_less_work = tool.taken_out.len() < best.taken_out.len();
        if is_more || (is_as_much && is_less_work) { tool } else { best }
    })?;
    let each: Vec<String> = chamber.tools.iter().map(|tool| of_tool(c, tool)).collect();
    let message = format!("of the floor of chamber `{}` {}", chamber.chamber, each.join("; "));
    let (code, parameter) = ("reach-floor", chamber.parameter.clone());
    let finding = if WHOLE <= best.best_share {
        Finding::holds(code, parameter, message)
    } else {
        let at = best
            .out_of_reach
            .map(|at| format!("; out of reach even then: {}", c.place_on_floor(at)));
        let message = format!("{message}{}", at.unwrap_or_default());
        Finding::tight(code, parameter, message)
            .with_hint("make the chamber wider or less deep, the rim narrower, or give `reach.tool` a longer or smaller one")
    };
    Some(
        finding
            .with_limit(100.0 * best.best_share, 100.0 * WHOLE, "%")
            .with_source(format!("a hand and tools of the size in `reach`; {REACH_LIMITS}")),
    )
}

fn of_tool(c: &Checks<'_>, tool: &ToolReach) -> String {
    let share = percent(tool.share);
    if tool.taken_out.is_empty() || percent(tool.best_share) == share {
        return format!("the {} reaches {share}", tool.tool);
    }
    format!(
        "the {} reaches {share}, and {} with {} out",
        tool.tool,
        percent(tool.best_share),
        c.names(&tool.taken_out)
    )
}

fn rescue(c: &Checks<'_>, rescue: &Rescue) -> Finding {
    let (code, parameter) = ("rescue", chamber_parameter(c, rescue));
    if !rescue.is_possible {
        return stuck(c, rescue);
    }
    let removables: Vec<usize> = rescue.steps.iter().map(|step| step.removable).collect();
    let after = if removables.is_empty() {
        "with everything in place".to_owned()
    } else {
        format!("after {}:", c.in_order(&removables))
    };
    let message = format!(
        "{after} a hand reaches {} of the floor of chamber `{}`",
        percent(rescue.share),
        rescue.chamber
    );
    let limit = |finding: Finding| {
        finding
            .with_limit(100.0 * rescue.share, 100.0 * WHOLE, "%")
            .with_source(format!("a hand of the size in `reach`; {REACH_LIMITS}"))
    };
    if rescue.share < WHOLE {
        return limit(Finding::tight(code, parameter, message))
            .with_hint("an animal may be trapped out of reach there: keep a net at hand, or make the chamber wider");
    }
    limit(Finding::holds(code, parameter, message))
}

/// Of something that would have to be out for it no way is known.
fn stuck(c: &Checks<'_>, rescue: &Rescue) -> Finding {
    let stuck: Vec<usize> =
        rescue.steps.iter().filter(|s| s.moves.is_empty()).map(|s| s.removable).collect();
    let chamber = c.fit.report.reach.iter().find(|reach| reach.chamber == rescue.chamber);
    // The hand comes first.
    let hand = chamber.and_then(|reach| reach.tools.first());
    let now = hand.map(|hand| format!("; {}", of_tool(c, hand))).unwrap_or_default();
    let message = format!(
        "no way out is known of {}, without which a hand would reach {} of the floor of chamber `{}`{now}",
        c.names(&stuck),
        percent(rescue.share),
        rescue.chamber
    );
    Finding::not_checked("rescue", chamber_parameter(c, rescue), message)
        .with_source(format!("a hand of the size in `reach`; {REACH_LIMITS}"))
        .with_hint("see what is said of its way out, keep a net at hand, or make the chamber wider")
}

fn chamber_parameter(c: &Checks<'_>, rescue: &Rescue) -> String {
    let chamber = c.design.chambers.iter().find(|chamber| chamber.name == rescue.chamber);
    chamber.map(|chamber| chamber.parameter.clone()).unwrap_or_default()
}

//! What is said of reach.

use design::Design;
use findings::Finding;
use units::Length;

use super::Checks;
use crate::report::{ChamberReach, Hindrance, HindranceKind, Rescue, ToolReach};
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
    } else if best.best_share <= 0.0 {
        nothing_reached(c, chamber, message)
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

/// Of a floor of which nothing is reached: what is in the way, at the line that is to be changed.
fn nothing_reached(c: &Checks<'_>, chamber: &ChamberReach, message: String) -> Finding {
    let Some(first) = chamber.hindrances.first() else {
        let message =
            format!("{message}; no single thing was found that alone keeps them out of it");
        return Finding::tight("reach-floor", chamber.parameter.clone(), message).with_hint(
            "lower the sump or its rim, make the chamber wider or the cabinet's openings larger, or give `reach.tool` a longer or smaller one",
        );
    };
    Finding::tight("reach-floor", first.parameter.clone(), message + &in_the_way(c.design, chamber))
        .with_hint(mend(c.design, first))
}

/// `; in the way is` all that was found, each by itself.
fn in_the_way(design: &Design, chamber: &ChamberReach) -> String {
    let each: Vec<String> = chamber.hindrances.iter().map(|h| hindrance(h, design)).collect();
    if each.is_empty() { String::new() } else { format!("; in the way: {}", each.join("; or: ")) }
}

/// One thing that is in the way, and what is reached when it is otherwise.
pub fn hindrance(hindrance: &Hindrance, design: &Design) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let above = |mm: f64| {
        let side = if mm < 0.0 { "below" } else { "above" };
        format!("{} {side} the sump's rim", length(mm.abs()))
    };
    let then = format!("the {} reaches {}", hindrance.tool, percent(hindrance.share));
    let parameter = &hindrance.parameter;
    match &hindrance.kind {
        HindranceKind::LowOpening { above_rim_mm, by_mm } => format!(
            "the opening `{parameter}` of the cabinet ends {}, and with its upper edge {} higher {then}",
            above(*above_rim_mm),
            length(*by_mm)
        ),
        HindranceKind::SmallOpening => format!(
            "the opening `{parameter}` of the cabinet, and with it as large as its wall {then}"
        ),
        HindranceKind::LowCeiling { above_rim_mm, by_mm } => format!(
            "the cabinet's ceiling, {}, and with it {} higher {then}",
            above(*above_rim_mm),
            length(*by_mm)
        ),
        HindranceKind::Stuck { name } => {
            format!("`{name}`, of which no way out is known, and without it {then}")
        }
        HindranceKind::Thing { name } => format!("`{name}` (`{parameter}`), and without it {then}"),
        HindranceKind::Cabinet => {
            format!("several things of the cabinet together, and of the sump standing free {then}")
        }
        HindranceKind::ShortArm { times } => {
            format!("the arm's length, and with all {times} times as long {then}")
        }
        HindranceKind::Narrow { wide_mm, thinnest_mm } => format!(
            "the chamber is {} wide, and the thinnest that reaches in is {} thick",
            length(*wide_mm),
            length(*thinnest_mm)
        ),
    }
}

/// What to change.
fn mend(design: &Design, hindrance: &Hindrance) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let parameter = &hindrance.parameter;
    match &hindrance.kind {
        HindranceKind::LowOpening { by_mm, .. } => format!(
            "make `top` of `{parameter}` at least about {} greater, or set the sump lower",
            length(*by_mm)
        ),
        HindranceKind::SmallOpening => {
            format!(
                "make `{parameter}` wider (`from`, `to`), its sill lower (`bottom`), its `top` higher"
            )
        }
        HindranceKind::LowCeiling { by_mm, .. } => format!(
            "make `{parameter}` at least about {} greater, or the sump and its stand lower",
            length(*by_mm)
        ),
        HindranceKind::Stuck { name } => format!("see what is said of the way out of `{name}`"),
        HindranceKind::Thing { name } => {
            format!("move `{name}`, make it smaller, or make it such that it comes out")
        }
        HindranceKind::Cabinet => {
            "make its openings larger, its ceiling higher, or move what stands in it".to_owned()
        }
        HindranceKind::ShortArm { .. } => {
            "lower the sump's walls, or give `reach.tool` one that is long enough".to_owned()
        }
        HindranceKind::Narrow { .. } => {
            "make the chamber wider, or give `reach.tool` a thinner one".to_owned()
        }
    }
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
    let first = c.fit.report.reach.iter().find(|reach| reach.chamber == rescue.chamber);
    if let Some(reach) = first.filter(|reach| rescue.share <= 0.0 && !reach.hindrances.is_empty()) {
        let message = message + &in_the_way(c.design, reach);
        let cause = &reach.hindrances[0];
        return limit(Finding::tight(code, cause.parameter.clone(), message)).with_hint(format!(
            "an animal may be trapped out of reach there: {}",
            mend(c.design, cause)
        ));
    }
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

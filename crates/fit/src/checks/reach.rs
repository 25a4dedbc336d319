//! What is said of reach.

use findings::Finding;

use super::{Checks, percent};
use crate::report::{ChamberReach, Rescue, ToolReach};

/// A floor is within reach when this share of it is; our judgement: what is left is a corner that a jet of water
/// cleans.
const WHOLE: f64 = 0.99;

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
        let at = best.out_of_reach.map(|at| {
            format!(
                "; out of reach even then: {} from the inlet end, {} from the front",
                c.length(at.x),
                c.length(at.y)
            )
        });
        let message = format!("{message}{}", at.unwrap_or_default());
        Finding::tight(code, parameter, message)
            .with_hint("make the chamber wider or less deep, the rim narrower, or give `reach.tool` a longer or smaller one")
    };
    Some(
        finding
            .with_limit(100.0 * best.best_share, 100.0 * WHOLE, "%")
            .with_source("a hand and tools of the size in `reach`"),
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
            .with_source("a hand of the size in `reach`")
    };
    if !rescue.is_possible {
        let message = format!("{message}; but for one of these removals no way is known");
        return Finding::not_checked(code, parameter, message)
            .with_hint("see which part has no way out");
    }
    if rescue.share < WHOLE {
        return limit(Finding::tight(code, parameter, message))
            .with_hint("an animal may be trapped out of reach there: keep a net at hand, or make the chamber wider");
    }
    limit(Finding::holds(code, parameter, message))
}

fn chamber_parameter(c: &Checks<'_>, rescue: &Rescue) -> String {
    let chamber = c.design.chambers.iter().find(|chamber| chamber.name == rescue.chamber);
    chamber.map(|chamber| chamber.parameter.clone()).unwrap_or_default()
}

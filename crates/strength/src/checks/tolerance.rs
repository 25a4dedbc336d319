//! What tolerances make of fits.

use std::borrow::Cow;

use design::tolerance::shown_up;
use findings::Finding;
use params::File;
use units::Length;

use crate::stack::{Part, Stack};

/// One finding for each fit that is out of its limits, as it is likely or at worst, and one for all others of its kind.
pub(crate) fn check(stacks: &[Stack], file: &File) -> Vec<Finding> {
    let mut kinds: Vec<&'static str> = Vec::new();
    for stack in stacks {
        if !kinds.contains(&stack.code) {
            kinds.push(stack.code);
        }
    }
    kinds.into_iter().flat_map(|code| of_kind(stacks, code, file)).collect()
}

fn of_kind(stacks: &[Stack], code: &'static str, file: &File) -> Vec<Finding> {
    let (good, bad): (Vec<&Stack>, Vec<&Stack>) =
        stacks.iter().filter(|s| s.code == code).partition(|s| s.margins_mm()[0] >= -SAME_MM);
    // Alike fits are told of once.
    let is_alike = |a: &Stack, b: &Stack| {
        let differ =
            |[a, b]: [f64; 2], [c, d]: [f64; 2]| (a - c).abs().max((b - d).abs()) > SAME_MM;
        !differ(a.worst_mm, b.worst_mm) && !differ(a.likely_mm, b.likely_mm)
    };
    let is_first = |i: &usize| !bad[..*i].iter().any(|earlier| is_alike(earlier, bad[*i]));
    let firsts = (0..bad.len()).filter(is_first);
    let mut findings: Vec<Finding> = firsts
        .map(|i| {
            let alike = bad[i + 1..].iter().filter(|other| is_alike(other, bad[i])).count();
            out_of_limits(bad[i], alike, file)
        })
        .collect();
    let over_for_hours = good.iter().chain(&bad).filter(|stack| is_over_for_hours(stack));
    findings.extend(over_for_hours.filter_map(|stack| for_hours(stack, file)));
    let closest = good.iter().min_by(|a, b| a.margins_mm()[0].total_cmp(&b.margins_mm()[0]));
    findings.extend(closest.map(|stack| holds(stack, good.len(), file)));
    findings
}

/// Rounding, mm.
const SAME_MM: f64 = 1e-9;

fn out_of_limits(stack: &Stack, alike: usize, file: &File) -> Finding {
    let show = |mm: f64| Length::mm(mm).show_fine(file.report.system());
    let range = |[low, high]: [f64; 2]| format!("{} to {}", show(low), show(high));
    let is_low = stack.worst_mm[0] < stack.least_mm - SAME_MM;
    let below = is_low.then(|| format!("below {} {}", show(stack.least_mm), trouble(stack.code)));
    let above = is_high(stack).then(|| {
        let most = show(stack.most_mm.unwrap_or(f64::INFINITY));
        match stack.code {
            "groove-takes" => format!("above {most} thin solvent does not fill it"),
            _ => format!("above {most} it rattles"),
        }
    });
    let limit = below.into_iter().chain(above).collect::<Vec<_>>().join(", ");
    let others = match alike {
        0 => String::new(),
        1 => " (and one more like it)".to_owned(),
        n => format!(" (and {n} more like it)"),
    };
    let message = format!(
        "{}{others}: {} {} as drawn, likely {}, at worst {}; {limit}; most of the difference comes from {}",
        stack.words,
        what(stack.code),
        show(stack.nominal_mm),
        range(stack.likely_mm),
        range(stack.worst_mm),
        largest(&stack.parts)
    );
    // A groove is tried on an offcut before it is cut, and what rattles works.
    let fails = stack.likely_mm[0] < stack.least_mm - SAME_MM && stack.code != "groove-takes";
    let finding = if fails {
        Finding::fails(stack.code, &stack.parameter, message)
    } else {
        Finding::tight(stack.code, &stack.parameter, message)
    };
    let (measured, limit) = if is_low {
        (stack.worst_mm[0], stack.least_mm)
    } else {
        (stack.most_mm.unwrap_or(f64::INFINITY) - stack.worst_mm[1], 0.0)
    };
    finding
        .with_limit(measured, limit, "mm")
        .with_source("worst case by plain sum, likely case by the root of the sum of squares; ranges by `tolerance`")
        .with_hint(hint(stack, is_low, stack.least_mm - stack.worst_mm[0], file))
}

/// Whether it may be larger than works.
fn is_high(stack: &Stack) -> bool {
    stack.most_mm.is_some_and(|most| stack.worst_mm[1] > most + SAME_MM)
}

/// Whether loads of hours take it below what works, where those of years do not.
fn is_over_for_hours(stack: &Stack) -> bool {
    let low = stack.for_hours.as_ref().map_or(f64::INFINITY, |hours| hours.worst_mm);
    stack.worst_mm[0] >= stack.least_mm - SAME_MM && low < stack.least_mm - SAME_MM
}

/// What loads of hours make of it: told, but it does not fail by that.
fn for_hours(stack: &Stack, file: &File) -> Option<Finding> {
    let hours = stack.for_hours.as_ref()?;
    let show = |mm: f64| Length::mm(mm).show_fine(file.report.system());
    let message = format!(
        "{}: for hours under {}, {} {} at worst; below {} {}",
        stack.words,
        hours.words,
        what(stack.code),
        show(hours.worst_mm),
        show(stack.least_mm),
        trouble(stack.code)
    );
    Some(
        Finding::tight(stack.code, &stack.parameter, message)
            .with_limit(hours.worst_mm, stack.least_mm, "mm")
            .with_source("bow of a leaf as a shallow sine: π²w²/(4L) from its length, πw/L at its ends; bulge of the walls at its guides")
            .with_hint(hint(stack, true, stack.least_mm - hours.worst_mm, file)),
    )
}

fn holds(stack: &Stack, n: usize, file: &File) -> Finding {
    let show = |mm: f64| Length::mm(mm).show_fine(file.report.system());
    let [low, high] = stack.worst_mm;
    let others = match n {
        1 => String::new(),
        n => format!(", the closest of {n} such fits"),
    };
    let message = format!(
        "{}{others}: {} {} as drawn, at worst {} to {}",
        stack.words,
        what(stack.code),
        show(stack.nominal_mm),
        show(low),
        show(high)
    );
    Finding::holds(stack.code, &stack.parameter, message).with_limit(low, stack.least_mm, "mm")
}

/// The contribution with the widest range.
fn largest(parts: &[Part]) -> &str {
    let range = |part: &&Part| part.mm[1] - part.mm[0];
    let most = parts.iter().max_by(|a, b| range(a).total_cmp(&range(b)));
    most.map_or("nothing", |part| &part.words)
}

/// What is measured, in words.
fn what(code: &str) -> &'static str {
    match code {
        "leaf-held" => "held by",
        "door-covers" => "a lap of",
        "sock-sits" | "shelf-rests" | "lid-rests" => "it lies on by",
        _ => "a gap of",
    }
}

/// What happens below the least gap.
fn trouble(code: &str) -> &'static str {
    match code {
        "leaf-slides" | "door-slides" => "it does not move by hand",
        "leaf-fits" | "shelf-fits" => "it jams, or pushes the walls apart",
        "leaf-held" => "it may fall out",
        "door-covers" => "water runs past it",
        "door-clear" => "it catches on the guide when the leaf is lifted",
        "sock-sits" | "shelf-rests" | "lid-rests" => "it may slip off",
        _ => "it does not go in",
    }
}

/// What to do about a gap that is too small by `short_mm` at worst, or too large.
fn hint(stack: &Stack, is_low: bool, short_mm: f64, file: &File) -> Cow<'static, str> {
    let by = |mm: f64| shown_up(mm, file.report.system());
    match (stack.code, is_low) {
        ("leaf-slides", true) => {
            let most = stack.most_mm.unwrap_or(f64::INFINITY);
            let first = if stack.worst_mm[1] + short_mm > most + SAME_MM {
                "measure the sheet (`measured`), or a stiffer leaf if it bows; then "
            } else {
                ""
            };
            format!(
                "{first}make the divider's `clearance` larger by {}; glue strips with the leaf and a shim between them",
                by(short_mm)
            )
            .into()
        }
        ("leaf-held", _) => format!(
            "make the guides deeper by {}: printed ones (`guide = \"printed\"`) by `guide_depth`, strips by thicker sheet; or a thicker leaf against its bow, or thicker walls against their bulge",
            by(short_mm)
        )
        .into(),
        ("door-covers", _) => format!("make the door's `lap` wider by {}", by(short_mm)).into(),
        ("lid-rests", _) => format!("make the lid's `lap` wider by {}", by(short_mm)).into(),
        ("shelf-rests", _) => format!("make `ledge.width` wider by {}", by(short_mm)).into(),
        ("groove-takes", true) if is_high(stack) => {
            "cut a trial groove in an offcut of the same sheet first and set `cutting.groove_fit` by it; where it comes out wide, glue with thickened cement".into()
        }
        (code, is_low) => usual_hint(code, is_low).into(),
    }
}

/// What to do where it cannot be said by how much.
fn usual_hint(code: &str, is_low: bool) -> &'static str {
    match (code, is_low) {
        ("leaf-slides", _) => {
            "measure the sheet (`measured`), or make the divider's `clearance` smaller; glue the strips with the leaf and a shim between them"
        }
        ("leaf-fits", _) => {
            "leave the leaf's ends until the box stands: measure between the guides and take off what is missing; or give `tolerance` what you know better"
        }
        ("door-clear", _) => {
            "make the opening narrower, move it with `offset`, or make `lap` smaller"
        }
        ("door-slides", _) => {
            "drill the leaf's holes with the door laid on, or ream its slots; or take a larger `screw`"
        }
        ("sock-sits", _) => "take a sock with a wider `flange`, or a printed `ring`",
        ("ring-fits", _) => {
            "print the test piece first, and raise `printing.clearance` if it is tight"
        }
        ("shelf-fits", _) => {
            "leave the shelf's edges until the box stands, and take off what is missing"
        }
        ("groove-takes", false) => {
            "measure the sheet (`measured`), take a butt joint, or glue with thickened cement"
        }
        ("groove-takes", true) => {
            "cut a trial groove in an offcut of the same sheet first; raise `cutting.groove_fit` or measure the sheet (`measured`)"
        }
        _ => "leave more room, or measure and give `tolerance` what you know better",
    }
}

#[cfg(test)]
mod tests;

//! What tolerances make of fits.

mod words;

use findings::Finding;
use params::File;
use units::Length;

use crate::panel::Duration;
use crate::stack::{Part, Stack, StackCode};
use words::{hint, measure_first, too_much, trouble, what};

/// One finding for each fit that is out of its limits, as it is likely or at worst, and one for all others of its kind.
pub(crate) fn check(stacks: &[Stack], file: &File) -> Vec<Finding> {
    let mut kinds: Vec<StackCode> = Vec::new();
    for stack in stacks {
        if !kinds.contains(&stack.code) {
            kinds.push(stack.code);
        }
    }
    kinds.into_iter().flat_map(|code| of_kind(stacks, code, file)).collect()
}

fn of_kind(stacks: &[Stack], code: StackCode, file: &File) -> Vec<Finding> {
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
    // Of a leaf whose sheet is to be measured first, nothing more is said until it is.
    let is_told = |stack: &&&Stack| bad.contains(*stack) && measure_first(stack, file).is_some();
    let over_briefly =
        good.iter().chain(&bad).filter(|stack| is_over_briefly(stack) && !is_told(stack));
    findings.extend(over_briefly.filter_map(|stack| briefly(stack, file)));
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
        format!("above {most} {}", too_much(stack.code))
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
    let fails =
        stack.likely_mm[0] < stack.least_mm - SAME_MM && stack.code != StackCode::GrooveTakes;
    let finding = if fails {
        Finding::fails(stack.code.as_str(), &stack.parameter, message)
    } else {
        Finding::tight(stack.code.as_str(), &stack.parameter, message)
    };
    let (measured, limit) = if is_low {
        (stack.worst_mm[0], stack.least_mm)
    } else {
        (stack.most_mm.unwrap_or(f64::INFINITY) - stack.worst_mm[1], 0.0)
    };
    finding
        .with_limit(measured, limit, "mm")
        .with_source("worst case by plain sum; likely case by the root of the sum of squares, with swelling and lasting bends in full; ranges by `tolerance`")
        .with_hint(hint(stack, is_low, stack.least_mm - stack.worst_mm[0], file))
}

/// Whether it may be larger than works.
fn is_high(stack: &Stack) -> bool {
    stack.most_mm.is_some_and(|most| stack.worst_mm[1] > most + SAME_MM)
}

/// Whether loads of hours or days take it below what works, where those of years do not.
fn is_over_briefly(stack: &Stack) -> bool {
    let low = stack.briefly.as_ref().map_or(f64::INFINITY, |brief| brief.worst_mm);
    stack.worst_mm[0] >= stack.least_mm - SAME_MM && low < stack.least_mm - SAME_MM
}

/// What loads of hours or days make of it: told, but it does not fail by that.
fn briefly(stack: &Stack, file: &File) -> Option<Finding> {
    let brief = stack.briefly.as_ref()?;
    let show = |mm: f64| Length::mm(mm).show_fine(file.report.system());
    let message = format!(
        "{}: {} under {}, {} {} at worst; below {} {}",
        stack.words,
        for_as_long(brief.duration),
        brief.words,
        what(stack.code),
        show(brief.worst_mm),
        show(stack.least_mm),
        trouble(stack.code)
    );
    Some(
        Finding::tight(stack.code.as_str(), &stack.parameter, message)
            .with_limit(brief.worst_mm, stack.least_mm, "mm")
            .with_source("bow of a leaf as a shallow sine: π²w²/(4L) from its length, πw/L at its ends; bulge of the walls at its guides")
            .with_hint(hint(stack, true, stack.least_mm - brief.worst_mm, file)),
    )
}

/// How long a load bears, in words.
fn for_as_long(duration: Duration) -> &'static str {
    match duration {
        Duration::Hours => "for hours",
        Duration::Days => "for days, until somebody comes,",
        Duration::Years => "for years",
    }
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
    Finding::holds(stack.code.as_str(), &stack.parameter, message).with_limit(
        low,
        stack.least_mm,
        "mm",
    )
}

/// The contribution with the widest range.
fn largest(parts: &[Part]) -> &str {
    let range = |part: &&Part| part.mm[1] - part.mm[0];
    let most = parts.iter().max_by(|a, b| range(a).total_cmp(&range(b)));
    most.map_or("nothing", |part| &part.words)
}

#[cfg(test)]
mod tests;

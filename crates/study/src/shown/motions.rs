//! Ways out, the order in which everything comes out, and how an animal is got at.

use fit::{Report, Way};
use show::{Rescue, Step, ThingId, WayOut};

use super::bodies::Bodies;
use crate::told::reach::Told;
use crate::told::ways_out::outcome;

/// The way of every removable, in the order of the design.
pub(super) fn ways(bodies: &Bodies<'_>, report: &Report) -> Vec<WayOut> {
    let design = bodies.design;
    let way = |way: &Way| {
        let mut steps = all(bodies, &way.steps);
        let removable = &design.removables[way.removable];
        // What stands in the place of a leaf that is not in is gone from the first on.
        if let (Some(first), Some(other)) = (steps.first_mut(), removable.instead_of) {
            first.undone.extend(bodies.moved(other));
        }
        WayOut { name: removable.name.clone(), verdict: verdict(way, report, bodies), steps }
    };
    report.ways.iter().map(way).collect()
}

/// Whether it comes out, and after what.
fn verdict(way: &Way, report: &Report, bodies: &Bodies<'_>) -> String {
    let outcome = outcome(way, report, bodies.design);
    let before = way.steps.split_last().map_or(&[][..], |(_, before)| before);
    let names: Vec<&str> = before.iter().map(|step| step.name.as_str()).collect();
    match (names.is_empty(), outcome.strip_suffix(" after others")) {
        (true, _) => outcome,
        (false, Some(words)) => format!("{words} after {}", fit::listed(&names)),
        (false, None) => format!("{outcome}, after {}", fit::listed(&names)),
    }
}

/// Everything out.
pub(super) fn emptying(bodies: &Bodies<'_>, report: &Report) -> Vec<Step> {
    all(bodies, &report.emptying)
}

/// How the floor of the first chamber comes within reach.
pub(super) fn rescue(bodies: &Bodies<'_>, report: &Report) -> Option<Rescue> {
    let rescue = report.rescue.as_ref()?;
    // Where it cannot be done nothing is told to be taken out.
    let steps = if rescue.is_possible { &rescue.steps[..] } else { &[] };
    Some(Rescue {
        chamber: rescue.chamber.clone(),
        verdict: Told::of(rescue, report, bodies.design).words,
        steps: all(bodies, steps),
    })
}

fn all(bodies: &Bodies<'_>, steps: &[fit::Step]) -> Vec<Step> {
    steps.iter().filter_map(|step| one(bodies, step)).collect()
}

fn one(bodies: &Bodies<'_>, step: &fit::Step) -> Option<Step> {
    let removable = bodies.design.removables.get(step.removable)?;
    let undone = bodies.undone(removable);
    let moved = bodies.moved(step.removable);
    let things: Vec<ThingId> = moved.into_iter().filter(|id| !undone.contains(id)).collect();
    Some(Step {
        name: step.name.clone(),
        things,
        undone,
        undo: step.undo.clone(),
        moves: step.moves.clone(),
        least_gap: fit::gap_words(step.least_gap_mm, bodies.design.report),
    })
}

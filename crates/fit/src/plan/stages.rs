//! The stages of the search for a way, from what a person tries first to what only dice find.

use super::Effort;
use super::escapes::{Escape, escapes, second_escapes};
use super::exit::Outlet;
use super::goal::{Goal, best, over_rim, touched_things, with_others};
use super::keys::Held;
use super::level::joined_at_one_height;
use super::lift::{lifted, lifted_and_tipped};
use super::outside::outside;
use super::plain::connect;
use super::search::{Root, search};
use super::smooth::{smooth, straightened};
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// At which shares of its depth a key is tried (our judgement; closer heights are tried one by one before).
const SHARES: [f64; 4] = [0.999, 0.66, 0.33, 0.0];

/// Straight out; up and aside; by keys.
pub(crate) fn by_plain_moves(sweep: &mut Sweep<'_>, outlet: &mut Outlet) -> Option<Vec<Motion>> {
    let straight = outlet.leave(sweep, &Rigid::HOME);
    let mut spared = Sweep::of_spared(sweep.space, sweep.body);
    let touched = straight.as_ref().map(|way| touched_things(&mut spared, way));
    // Aside of what had better be left alone, if there is such a way; of equals the plainer, which comes first.
    let aside = if touched == Some(0) { None } else { lifted(sweep, outlet, &Rigid::HOME) };
    let is_better = |way: &Vec<Motion>| {
        touched.is_none_or(|touched| touched_things(&mut spared, way) < touched)
    };
    if let Some(way) = aside.filter(is_better).or(straight) {
        return Some(smooth_sparing(sweep, outlet, way));
    }
    let mut goals = over_rim(sweep, Held::Straight);
    if let Some(way) = best(sweep, outlet, &mut goals, joined_at_one_height) {
        return Some(way);
    }
    if let Some(way) = lifted_and_tipped(sweep, outlet, &Rigid::HOME) {
        return Some(smooth(sweep, outlet, way));
    }
    with_others(sweep, outlet, &mut goals);
    if let Some(way) = best(sweep, outlet, &mut goals, joined_at_one_height) {
        return Some(way);
    }
    let first = escapes(sweep, &Rigid::HOME);
    let by_first = best(sweep, outlet, &mut goals, |s, o, goal| joined_to_goal(s, o, &first, goal));
    if by_first.is_some() {
        return by_first;
    }
    let second = second_escapes(sweep, &first);
    best(sweep, outlet, &mut goals, |s, o, goal| joined_to_goal(s, o, &second, goal))
}

/// Smooth, and still clear of what had better be left alone, if it is.
fn smooth_sparing(sweep: &mut Sweep<'_>, outlet: &Outlet, way: Vec<Motion>) -> Vec<Motion> {
    let mut spared = Sweep::of_spared(sweep.space, sweep.body);
    if touched_things(&mut spared, &way) > 0 {
        return smooth(sweep, outlet, way);
    }
    let smoothed = smooth(sweep, outlet, way.clone());
    if touched_things(&mut spared, &smoothed) == 0 { smoothed } else { way }
}

/// From any of some escapes to a goal by plain moves, and out.
fn joined_to_goal(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    escapes: &[Escape],
    goal: &mut Goal,
) -> Option<Vec<Motion>> {
    for share in SHARES {
        for escape in escapes {
            if goal.is_dead() {
                return None;
            }
            let Some(middle) = connect(sweep, &escape.at, &goal.key.inside(share), None) else {
                continue;
            };
            if let Some(exit) = goal.exit(sweep, outlet) {
                let mut way = escape.moves.clone();
                way.extend(middle);
                way.push(goal.key.exit(share));
                way.extend(exit);
                return Some(way);
            }
        }
    }
    None
}

/// From all poses that plain moves reach, to all from which they lead out.
pub(crate) fn by_search(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    effort: Effort,
) -> Option<Vec<Motion>> {
    let mut goals = over_rim(sweep, Held::Straight);
    with_others(sweep, outlet, &mut goals);
    let first = escapes(sweep, &Rigid::HOME);
    let second = second_escapes(sweep, &first);
    let root = |escape: Escape| Root { at: escape.at, way: escape.moves };
    let starts: Vec<Root> = first.into_iter().chain(second).map(root).collect();
    let mut ends = ends(sweep, outlet, &mut goals);
    if ends.is_empty() {
        ends = outside(sweep, outlet, effort.seed);
    }
    let way = search(sweep, &starts, &ends, effort.seed, effort.steps)?;
    let way = straightened(sweep, way, effort.seed);
    Some(smooth(sweep, outlet, way))
}

/// How many keys the search is rooted in, and at which shares of their depth.
const MOST_ENDS: usize = 60;
const END_SHARES: [f64; 3] = [0.999, 0.5, 0.0];

/// Poses from which the way out is known.
fn ends(sweep: &mut Sweep<'_>, outlet: &mut Outlet, goals: &mut [Goal]) -> Vec<Root> {
    let mut ends = Vec::new();
    for goal in goals.iter_mut() {
        if ends.len() >= MOST_ENDS * END_SHARES.len() {
            break;
        }
        let Some(exit) = goal.exit(sweep, outlet) else { continue };
        for share in END_SHARES {
            let mut way = vec![goal.key.exit(share)];
            way.extend(&exit);
            ends.push(Root { at: goal.key.inside(share), way });
        }
    }
    ends
}

//! The way of one part from its place to outside.
//!
//! What solves the daily cases is not dice but openings: the poses just beyond an opening in which the part's shadow fits
//! through, pushed straight back in (`keys`), joined by plain moves (`plain`) to slides out of the part's
//! place (`escapes`). Only when that finds nothing, a search follows (`lattice`, `search`). Every motion is proved free by
//! swept hulls (`sweep`), made into few plain moves in whole millimetres and degrees (`smooth`, `round`), and
//! checked once more by other means (`recheck`) before it is told.
//!
//! The effort is counted in stretches of motion that were looked at, never in time, so that the same question gets the
//! same answer everywhere.

mod body;
pub(crate) mod cloud;
pub(crate) mod cluster;
mod escapes;
mod exit;
mod keys;
mod level;
mod lift;
mod outside;
mod pairs;
mod plain;
mod proof;
mod recheck;
mod round;
mod search;
pub(crate) mod separate;
mod smooth;
mod space;
mod sweep;

use glam::DVec3;

use crate::motion::{Motion, Rigid};
use crate::way::Verdict;
use crate::world::ThingId;

pub use body::Body;
pub(crate) use recheck::{holds, least_gap, touched};
pub use space::Space;

use escapes::{Escape, escapes, second_escapes};
use exit::Outlet;
use keys::{Gate, Held, Key, keys};
use level::joined_at_one_height;
use lift::{lifted, lifted_and_tipped};
use outside::outside;
use plain::connect;
use round::rounded;
use search::{Root, search};
use smooth::{cost, smooth, straightened};
use sweep::Sweep;

/// By how much the moving part is taken smaller on every side, mm. What rests, slides or is clamped by design touches its
/// neighbours; a tenth of a millimetre is less than sheet varies (our judgement).
pub const ALLOWANCE_MM: f64 = 0.1;

/// What is kept free around the moving part besides, mm: half of [`ALLOWANCE_MM`], so that a part that touches by
/// design still begins free.
pub const MARGIN_MM: f64 = 0.05;

/// How many keys are tried by plain moves, and at which shares of their depth.
const MOST_KEYS: usize = 24;
const SHARES: [f64; 4] = [0.999, 0.66, 0.33, 0.0];

/// When plain moves are given up. Of all ways in the demos that plain moves find the longest took 29,200 steps to find;
/// a search by chance follows anyway.
const MOST_PLAIN_STEPS: u64 = 40_000;

/// How many keys are tried on after one gave a way, for a better one.
const KEYS_AFTER: usize = 4;

/// How much is tried before it is said that no way was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Stretches of motion that the search may look at; 0: plain moves by keys only, no search.
    pub steps: u64,
    /// Where the dice of the search begin.
    pub seed: u64,
}

/// The way of `body` from its place to outside by chance only, for what plain moves are known not to free.
pub(crate) fn plan_by_chance(space: &Space<'_>, body: &Body, effort: Effort) -> Verdict {
    let mut sweep = Sweep::new(space, body);
    let mut outlet = Outlet::of(&sweep);
    let mut goals = over_rim(&mut sweep, Held::Straight);
    with_others(&mut sweep, &mut outlet, &mut goals);
    let mut all = escapes(&mut sweep, &Rigid::HOME);
    let second = second_escapes(&mut sweep, &all);
    all.extend(second);
    let way = by_search(&mut sweep, &mut outlet, &mut goals, all, effort);
    checked(&mut sweep, &outlet, way)
}

/// The way of `body` from its place to outside.
pub fn plan(space: &Space<'_>, body: &Body, effort: Effort) -> Verdict {
    let mut sweep = Sweep::new(space, body);
    let with = sweep.hits_at(&Rigid::HOME);
    if !with.is_empty() {
        return Verdict::StartsInClash { with };
    }
    let mut outlet = Outlet::of(&sweep);
    let (mut goals, mut escapes) = (Vec::new(), Vec::new());
    let mut way = by_plain_moves(&mut sweep, &mut outlet, &mut goals, &mut escapes);
    if way.is_none() {
        if let Some(proof) = proof::proof(space, body) {
            return Verdict::ProvedNone(proof);
        }
        if effort.steps > 0 {
            way = by_search(&mut sweep, &mut outlet, &mut goals, escapes, effort);
        }
    }
    checked(&mut sweep, &outlet, way)
}

/// What was found in round measures, when it passes the second check.
fn checked(sweep: &mut Sweep<'_>, outlet: &Outlet, way: Option<Vec<Motion>>) -> Verdict {
    match way.map(|way| rounded(sweep, outlet, way)) {
        // A way that does not pass it is a mistake of ours, and not told as a way.
        Some(way) if holds(sweep.space, sweep.body, &way) => Verdict::Found(way),
        _ => Verdict::NotFound { steps: sweep.steps },
    }
}

/// Whether a motion of the part is proved free.
pub(crate) fn is_free(space: &Space<'_>, body: &Body, motion: &Motion) -> bool {
    Sweep::new(space, body).is_free(motion)
}

/// What leads out once it is reached.
struct Goal {
    key: Key,
    /// From just beyond the opening on; `None`: not known yet, or none.
    exit: Option<Vec<Motion>>,
    is_asked: bool,
}

impl Goal {
    /// From just beyond the opening to outside, if there is a way by plain moves.
    fn exit(&mut self, sweep: &mut Sweep<'_>, outlet: &mut Outlet) -> Option<Vec<Motion>> {
        if !self.is_asked {
            self.is_asked = true;
            let outside = self.key.outside;
            self.exit =
                outlet.leave(sweep, &outside).or_else(|| outlet.leave_turned(sweep, &outside));
        }
        self.exit.clone()
    }
}

/// Straight out; else by keys. Leaves what it found on its way for the search.
fn by_plain_moves(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    goals: &mut Vec<Goal>,
    all: &mut Vec<Escape>,
) -> Option<Vec<Motion>> {
    if let Some(way) = outlet.leave(sweep, &Rigid::HOME) {
        return Some(smooth(sweep, outlet, way));
    }
    if let Some(way) = lifted(sweep, outlet, &Rigid::HOME) {
        return Some(smooth(sweep, outlet, way));
    }
    *goals = over_rim(sweep, Held::Straight);
    if let Some(way) = best(sweep, outlet, goals, joined_at_one_height) {
        return Some(way);
    }
    if let Some(way) = lifted_and_tipped(sweep, outlet, &Rigid::HOME) {
        return Some(smooth(sweep, outlet, way));
    }
    with_others(sweep, outlet, goals);
    if let Some(way) = best(sweep, outlet, goals, joined_at_one_height) {
        return Some(way);
    }
    *all = escapes(sweep, &Rigid::HOME);
    let by_first = best(sweep, outlet, goals, |s, o, goal| joined_to_goal(s, o, all, goal));
    if by_first.is_some() {
        return by_first;
    }
    let second = second_escapes(sweep, all);
    let way = best(sweep, outlet, goals, |s, o, goal| joined_to_goal(s, o, &second, goal));
    all.extend(second);
    way
}

fn by_search(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    goals: &mut [Goal],
    escapes: Vec<Escape>,
    effort: Effort,
) -> Option<Vec<Motion>> {
    let root = |escape: Escape| Root { at: escape.at, way: escape.moves };
    let starts: Vec<Root> = escapes.into_iter().map(root).collect();
    let mut ends = ends(sweep, outlet, goals);
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

/// Poses in the openings of the rim, the most promising first.
fn over_rim(sweep: &mut Sweep<'_>, held: Held) -> Vec<Goal> {
    let exits = sweep.space.exits;
    if sweep.body.bounds[0].z >= exits.rim_z {
        return Vec::new();
    }
    let gate = |window: &crate::world::Window| Gate {
        window: *window,
        out: DVec3::Z,
        beyond: exits.rim_z,
    };
    let gates: Vec<Gate> = exits.rim.iter().map(gate).collect();
    let found = keys(sweep, &gates, &Rigid::HOME, held);
    found.into_iter().map(|key| Goal { key, exit: None, is_asked: false }).collect()
}

/// Adds those in which the part is tipped, and poses in the doors.
fn with_others(sweep: &mut Sweep<'_>, outlet: &mut Outlet, goals: &mut Vec<Goal>) {
    goals.extend(over_rim(sweep, Held::Tipped));
    goals.sort_by(|a, b| a.key.cost.total_cmp(&b.key.cost));
    let doors = outlet.door_keys(sweep).into_iter();
    goals.extend(doors.map(|key| Goal { key, exit: Some(Vec::new()), is_asked: true }));
}

/// Of the ways that `join` finds to these goals the best: touching least of what had better stay, and the plainest.
fn best(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    goals: &mut [Goal],
    join: impl Fn(&mut Sweep<'_>, &mut Outlet, &mut Goal) -> Option<Vec<Motion>>,
) -> Option<Vec<Motion>> {
    let mut best: Option<((usize, u64, u64), Vec<Motion>)> = None;
    let mut spared = Sweep::of_spared(sweep.space, sweep.body);
    let mut left = MOST_KEYS;
    for goal in goals.iter_mut() {
        if left == 0 || MOST_PLAIN_STEPS < sweep.steps {
            break;
        }
        left -= 1;
        let Some(way) = join(sweep, outlet, goal) else { continue };
        let way = smooth(sweep, outlet, way);
        let touched = touched_things(&mut spared, &way);
        let turning: f64 = way.iter().map(Motion::angle).sum();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "small and not negative"
        )]
        let rank = (touched, cost(&way) as u64, turning.to_degrees() as u64);
        if best.as_ref().is_none_or(|(least, _)| rank < *least) {
            best = Some((rank, way));
        }
        if touched == 0 {
            left = left.min(KEYS_AFTER);
        }
    }
    best.map(|(_, way)| way)
}

fn joined_to_goal(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    escapes: &[Escape],
    goal: &mut Goal,
) -> Option<Vec<Motion>> {
    for share in SHARES {
        for escape in escapes {
            if goal.is_asked && goal.exit.is_none() {
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

/// How many of the things that had better not be touched a way touches.
fn touched_things(spared: &mut Sweep<'_>, way: &[Motion]) -> usize {
    let mut things: Vec<ThingId> = way.iter().flat_map(|m| spared.hits_along(m)).collect();
    things.sort_unstable();
    things.dedup();
    things.len()
}

#[cfg(test)]
mod tests;

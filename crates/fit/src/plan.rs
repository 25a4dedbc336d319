//! The way of one part from its place to outside.
//!
//! What solves the daily cases is not dice but openings: the poses just beyond an opening in which the part's shadow fits
//! through, pushed straight back in (`keys`), joined by plain moves (`plain`) to slides out of the part's
//! place (`escapes`); before them straight up (`lift`), and turned at one height (`level`). Only when that finds nothing, a search follows (`lattice`, `search`). Every motion is proved free by
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
mod goal;
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
mod stages;
mod sweep;

use crate::motion::{Motion, Rigid};
use crate::way::Verdict;

pub use body::Body;
pub(crate) use proof::proof;
pub(crate) use recheck::{holds, least_gap, touched};
pub(crate) use space::Obstacle;
pub use space::Space;

use exit::Outlet;
use round::rounded;
use stages::{by_plain_moves, by_search};
use sweep::Sweep;

/// By how much the moving part is taken smaller on every side, mm. What rests, slides or is clamped by design touches its
/// neighbours; a tenth of a millimetre is less than sheet varies (our judgement).
pub const ALLOWANCE_MM: f64 = 0.1;

/// What is kept free around the moving part besides, mm: half of [`ALLOWANCE_MM`], so that a part that touches by
/// design still begins free.
pub const MARGIN_MM: f64 = 0.05;

/// How much is tried before it is said that no way was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Stretches of motion that the search may look at; 0: plain moves by keys only, no search.
    pub steps: u64,
    /// Where the dice of the search begin.
    pub seed: u64,
}

/// The way of `body` from its place to outside: by plain moves; where they find none and none is proved not to be, by chance.
pub fn plan(space: &Space<'_>, body: &Body, effort: Effort) -> Verdict {
    let steps = match plan_plainly(space, body) {
        Verdict::NotFound { steps } => steps,
        verdict => return verdict,
    };
    if let Some(proof) = proof(space, body) {
        return Verdict::ProvedNone(proof);
    }
    if effort.steps == 0 {
        return Verdict::NotFound { steps };
    }
    match plan_by_chance(space, body, effort) {
        Verdict::NotFound { steps: more } => Verdict::NotFound { steps: steps + more },
        verdict => verdict,
    }
}

/// By plain moves only; nothing is proved where they find none.
pub(crate) fn plan_plainly(space: &Space<'_>, body: &Body) -> Verdict {
    let mut sweep = Sweep::new(space, body);
    let with = sweep.hits_at(&Rigid::HOME);
    if !with.is_empty() {
        return Verdict::StartsInClash { with };
    }
    let mut outlet = Outlet::of(&sweep);
    let way = by_plain_moves(&mut sweep, &mut outlet);
    checked(&mut sweep, &outlet, way)
}

/// By chance only: for what plain moves are known not to free, and of which nothing is proved.
pub(crate) fn plan_by_chance(space: &Space<'_>, body: &Body, effort: Effort) -> Verdict {
    let mut sweep = Sweep::new(space, body);
    let mut outlet = Outlet::of(&sweep);
    let way = by_search(&mut sweep, &mut outlet, effort);
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

#[cfg(test)]
mod tests;

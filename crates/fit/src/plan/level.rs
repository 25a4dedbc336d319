//! Raised, turned and moved aside at one height, and raised on through an opening.
//!
//! A leaf that is wider than the opening above it must turn, and can do so only where it is clear of its guides below and
//! still under the rim above: often within a few centimetres. So the heights are tried closely, and of those that do
//! the one in the middle is taken.

use glam::DVec3;

use super::escapes::FARTHEST;
use super::exit::Outlet;
use super::goal::Goal;
use super::plain::connect;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// How far apart the heights are that are tried, mm, and how many at most: our judgement, finer than a hand
/// aims.
const APART: f64 = 8.0;
const MOST_HEIGHTS: u32 = 40;

/// The way by a goal above the sump, turned and moved aside at one height.
pub(crate) fn joined_at_one_height(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    goal: &mut Goal,
) -> Option<Vec<Motion>> {
    let key = goal.key;
    if key.out != DVec3::Z || goal.is_dead() {
        return None;
    }
    let up = sweep.travel(&Rigid::HOME, DVec3::Z, FARTHEST) * 0.999;
    let above = sweep.body.middle(&key.outside).z - sweep.body.centre.z;
    // Lower than it can be pushed back, or higher than it can be raised, they do not meet.
    let (low, high) = ((above - key.back * 0.999).max(0.0), up.min(above));
    if high < low {
        return None;
    }
    let n = (1..MOST_HEIGHTS).find(|n| (high - low) / f64::from(*n) <= APART);
    let n = n.unwrap_or(MOST_HEIGHTS);
    let height = |k: u32| low + (high - low) * f64::from(k) / f64::from(n);
    let inside = |by: f64| key.outside.moved(DVec3::Z * (by - above));
    let mut free: Vec<u32> = Vec::new();
    for k in 0..=n {
        let raised = Rigid::HOME.moved(DVec3::Z * height(k));
        if connect(sweep, &raised, &inside(height(k)), None).is_some() {
            free.push(k);
        }
    }
    let by = height(middle_of_longest(&free)?);
    let raise = Motion::slide(Rigid::HOME, DVec3::Z * by);
    if !sweep.is_free(&raise) {
        return None;
    }
    let mut way = vec![raise];
    way.extend(connect(sweep, &raise.to, &inside(by), None)?);
    way.push(Motion::slide(inside(by), DVec3::Z * (above - by)));
    way.extend(goal.exit(sweep, outlet)?);
    Some(way)
}

/// The middle of the longest run of numbers that follow each other.
fn middle_of_longest(numbers: &[u32]) -> Option<u32> {
    let runs = numbers.chunk_by(|a, b| *b == *a + 1);
    runs.max_by_key(|run| run.len()).map(|run| run[run.len() / 2])
}

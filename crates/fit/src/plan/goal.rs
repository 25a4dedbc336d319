//! What leads out once it is reached: poses in the openings of the rim and in the doors.

use glam::DVec3;

use super::exit::Outlet;
use super::keys::{Gate, Held, Key, keys};
use super::smooth::{cost, smooth};
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};
use crate::world::{ThingId, Window};

/// How many keys are tried by plain moves.
const MOST_KEYS: usize = 24;

/// When plain moves are given up. Of all ways in the demos that plain moves find the longest took 29,200 steps to find;
/// a search by chance follows anyway.
const MOST_PLAIN_STEPS: u64 = 40_000;

/// How many keys are tried on after one gave a way, for a better one.
const KEYS_AFTER: usize = 4;

/// What leads out once it is reached.
pub(crate) struct Goal {
    pub(crate) key: Key,
    /// From just beyond the opening on; `None`: not known yet, or none.
    exit: Option<Vec<Motion>>,
    is_asked: bool,
}

impl Goal {
    /// Whether it is known not to lead out.
    pub(crate) fn is_dead(&self) -> bool {
        self.is_asked && self.exit.is_none()
    }

    /// From just beyond the opening to outside, if there is a way by plain moves.
    pub(crate) fn exit(
        &mut self,
        sweep: &mut Sweep<'_>,
        outlet: &mut Outlet,
    ) -> Option<Vec<Motion>> {
        if !self.is_asked {
            self.is_asked = true;
            let outside = self.key.outside;
            self.exit =
                outlet.leave(sweep, &outside).or_else(|| outlet.leave_turned(sweep, &outside));
        }
        self.exit.clone()
    }
}

/// Poses in the openings of the rim, the most promising first.
pub(crate) fn over_rim(sweep: &mut Sweep<'_>, held: Held) -> Vec<Goal> {
    let exits = sweep.space.exits;
    if sweep.body.bounds[0].z >= exits.rim_z {
        return Vec::new();
    }
    let gate = |window: &Window| Gate { window: *window, out: DVec3::Z, beyond: exits.rim_z };
    let gates: Vec<Gate> = exits.rim.iter().map(gate).collect();
    let found = keys(sweep, &gates, &Rigid::HOME, held);
    found.into_iter().map(|key| Goal { key, exit: None, is_asked: false }).collect()
}

/// Adds those in which the part is tipped, and poses in the doors.
pub(crate) fn with_others(sweep: &mut Sweep<'_>, outlet: &mut Outlet, goals: &mut Vec<Goal>) {
    goals.extend(over_rim(sweep, Held::Tipped));
    goals.sort_by(|a, b| a.key.cost.total_cmp(&b.key.cost));
    let doors = outlet.door_keys(sweep).into_iter();
    goals.extend(doors.map(|key| Goal { key, exit: Some(Vec::new()), is_asked: true }));
}

/// Of the ways that `join` finds to these goals the best: touching least of what had better stay, and the plainest.
pub(crate) fn best(
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

/// How many of the things that had better not be touched a way touches.
pub(super) fn touched_things(spared: &mut Sweep<'_>, way: &[Motion]) -> usize {
    let mut things: Vec<ThingId> = way.iter().flat_map(|m| spared.hits_along(m)).collect();
    things.sort_unstable();
    things.dedup();
    things.len()
}

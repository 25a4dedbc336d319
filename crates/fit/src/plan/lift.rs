//! What a person tries first: straight up until it is clear of the rim, aside where there is room, and out.

use glam::DVec3;

use super::escapes::{FARTHEST, LEAST_TRAVEL};
use super::exit::{ABOVE_RIM, Outlet};
use super::goal::touched_things;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// The shares of a free travel aside at which the part may stop, the least first (our judgement).
const ASIDE: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 0.999];

/// Up past the rim, aside and out of a door, where that is free: the first way that touches nothing that had better be
/// left alone; when all do, the first that touches least.
pub(crate) fn lifted(sweep: &mut Sweep<'_>, outlet: &Outlet, from: &Rigid) -> Option<Vec<Motion>> {
    let rises = rises(sweep, from)?;
    let mut spared = Sweep::of_spared(sweep.space, sweep.body);
    let mut best: Option<(usize, Vec<Motion>)> = None;
    for direction in [DVec3::NEG_Y, DVec3::X, DVec3::NEG_X, DVec3::Y] {
        for rise in rises {
            let travel = sweep.travel(&rise.to, direction, FARTHEST);
            if travel < LEAST_TRAVEL {
                continue;
            }
            for share in ASIDE {
                let aside = Motion::slide(rise.to, direction * (travel * share));
                if let Some(exit) = outlet.leave(sweep, &aside.to) {
                    let mut way = vec![rise, aside];
                    way.extend(exit);
                    let touched = touched_things(&mut spared, &way);
                    if touched == 0 {
                        return Some(way);
                    }
                    if best.as_ref().is_none_or(|(least, _)| touched < *least) {
                        best = Some((touched, way));
                    }
                }
            }
        }
    }
    best.map(|(_, way)| way)
}

/// Up past the rim, tipped or turned as a door wants it, and out.
pub(crate) fn lifted_and_tipped(
    sweep: &mut Sweep<'_>,
    outlet: &mut Outlet,
    from: &Rigid,
) -> Option<Vec<Motion>> {
    for rise in rises(sweep, from)? {
        if let Some(exit) = outlet.leave_turned(sweep, &rise.to) {
            let mut way = vec![rise];
            way.extend(exit);
            return Some(way);
        }
    }
    None
}

/// Straight up to just above the rim, as high as it goes, and between. Without a cabinet there is nothing to go aside for.
fn rises(sweep: &mut Sweep<'_>, from: &Rigid) -> Option<[Motion; 3]> {
    if sweep.space.exits.doors.is_empty() {
        return None;
    }
    let up = sweep.travel(from, DVec3::Z, FARTHEST) * 0.999;
    let past = sweep.space.exits.rim_z + ABOVE_RIM - sweep.body.least_along(from, DVec3::Z);
    let past = past.max(0.0);
    let rise = |by: f64| Motion::slide(*from, DVec3::Z * by);
    (past.max(LEAST_TRAVEL) <= up).then(|| [past, f64::midpoint(past, up), up].map(rise))
}

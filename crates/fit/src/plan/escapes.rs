//! The first moves out of a place.

use glam::DVec3;

use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// A pose that is reached from the part's place by slides alone.
#[derive(Clone, Debug)]
pub(crate) struct Escape {
    pub(crate) at: Rigid,
    pub(crate) moves: Vec<Motion>,
}

/// The shares of a free travel at which a part may stop.
const STOPS: [f64; 3] = [0.999, 0.66, 0.33];

/// Travel shorter than this, mm, is not worth a stop.
pub(crate) const LEAST_TRAVEL: f64 = 3.0;

/// How far is looked, mm.
pub(crate) const FARTHEST: f64 = 1500.0;

/// The place itself and slides out of it along the axes, up first.
pub(crate) fn escapes(sweep: &mut Sweep<'_>, from: &Rigid) -> Vec<Escape> {
    let mut found = vec![Escape { at: *from, moves: Vec::new() }];
    for direction in [DVec3::Z, DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::NEG_Z] {
        let travel = sweep.travel(from, direction, FARTHEST);
        if travel < LEAST_TRAVEL {
            continue;
        }
        for stop in STOPS {
            let motion = Motion::slide(*from, direction * (travel * stop));
            found.push(Escape { at: motion.to, moves: vec![motion] });
        }
    }
    found
}

/// Slides on from raised escapes, level along the axes: out of guides first, then aside.
pub(crate) fn second_escapes(sweep: &mut Sweep<'_>, first: &[Escape]) -> Vec<Escape> {
    let is_raised = |escape: &&Escape| {
        escape.moves.first().is_some_and(|m| m.to.shift.z > m.from.shift.z + LEAST_TRAVEL)
    };
    let mut found = Vec::new();
    for escape in first.iter().filter(is_raised) {
        for direction in [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y] {
            let travel = sweep.travel(&escape.at, direction, FARTHEST);
            if travel < LEAST_TRAVEL {
                continue;
            }
            for stop in [0.999, 0.5] {
                let motion = Motion::slide(escape.at, direction * (travel * stop));
                let mut moves = escape.moves.clone();
                moves.push(motion);
                found.push(Escape { at: motion.to, moves });
            }
        }
    }
    found
}

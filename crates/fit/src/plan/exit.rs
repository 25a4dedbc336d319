//! The last moves: from above the rim, or from beside the sump, to outside.

use glam::DVec3;

use super::body::bounds;
use super::keys::{Gate, Held, Key, keys};
use super::plain::connect;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// Without a cabinet a part is out when it is this far above the rim, mm.
const CLEAR_OF_RIM: f64 = 10.0;

/// How far above the rim a part is carried where there is room, mm: what a steady hand keeps (our judgement); and at
/// least.
pub(crate) const ABOVE_RIM: f64 = 10.0;
const JUST_ABOVE_RIM: f64 = 1.0;

/// Kept free beside a part in a door, mm.
const BESIDE: f64 = 0.5;

/// How many keys of the doors are tried from one pose, and at which shares of their depth.
const MOST_KEYS: usize = 12;
const SHARES: [f64; 4] = [0.999, 0.6, 0.3, 0.0];

/// The ways out of the cabinet.
pub(crate) struct Outlet {
    doors: Vec<Gate>,
    /// Poses in the doors that turn or tip the part, found when they are first asked for.
    keys: Option<Vec<Key>>,
}

impl Outlet {
    pub(crate) fn of(sweep: &Sweep<'_>) -> Self {
        let doors = sweep.space.exits.doors.iter();
        let gate = |door: &crate::world::Door| Gate {
            window: door.window,
            out: door.out,
            beyond: door.beyond,
        };
        Self { doors: doors.map(gate).collect(), keys: None }
    }

    /// Whether the part is outside here.
    pub(crate) fn is_out(&self, sweep: &Sweep<'_>, at: &Rigid) -> bool {
        if self.doors.is_empty() {
            let least = sweep.body.least_along(at, DVec3::Z);
            return least >= sweep.space.exits.rim_z + CLEAR_OF_RIM - 1e-6;
        }
        self.doors.iter().any(|d| sweep.body.least_along(at, d.out) >= d.beyond - 1e-6)
    }

    /// The way out from here without turning: straight up when there is no cabinet; else raised or lowered and slid
    /// until it is before a door, then straight out.
    pub(crate) fn leave(&self, sweep: &mut Sweep<'_>, at: &Rigid) -> Option<Vec<Motion>> {
        if self.is_out(sweep, at) {
            return Some(Vec::new());
        }
        let rim_z = sweep.space.exits.rim_z;
        let low = sweep.body.least_along(at, DVec3::Z);
        if self.doors.is_empty() {
            let rise = Motion::slide(*at, DVec3::Z * (rim_z + CLEAR_OF_RIM - low));
            return sweep.is_free(&rise).then(|| vec![rise]);
        }
        for door in &self.doors {
            for before in before_door(sweep, door, at, rim_z - low) {
                let out = slide_out(sweep, door, &before);
                if !sweep.is_free(&out) {
                    continue;
                }
                if let Some(mut moves) = connect(sweep, at, &before, None) {
                    moves.push(out);
                    return Some(moves);
                }
            }
        }
        None
    }

    /// The way out from here with the part tipped or turned as a door wants it.
    pub(crate) fn leave_turned(
        &mut self,
        sweep: &mut Sweep<'_>,
        at: &Rigid,
    ) -> Option<Vec<Motion>> {
        for key in self.door_keys(sweep).into_iter().take(MOST_KEYS) {
            for share in SHARES {
                if let Some(mut moves) = connect(sweep, at, &key.inside(share), None) {
                    moves.push(key.exit(share));
                    return Some(moves);
                }
            }
        }
        None
    }

    /// Poses just outside the doors, and how far back in they reach.
    pub(crate) fn door_keys(&mut self, sweep: &mut Sweep<'_>) -> Vec<Key> {
        if self.keys.is_none() {
            let mut found = keys(sweep, &self.doors, &Rigid::HOME, Held::Straight);
            found.extend(keys(sweep, &self.doors, &Rigid::HOME, Held::Tipped));
            found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            self.keys = Some(found);
        }
        self.keys.clone().unwrap_or_default()
    }
}

/// Poses of the same orientation from which a slide straight out passes the door: where it is, raised past the rim that is
/// `below` its lowest point, and in the middle of the height that is left; moved aside as little as can be.
fn before_door(sweep: &Sweep<'_>, door: &Gate, at: &Rigid, below: f64) -> Vec<Rigid> {
    let window = door.window;
    let frame = |p: DVec3| {
        let p = p - window.centre;
        DVec3::new(p.dot(window.u), p.dot(window.v), 0.0)
    };
    let [lo, hi] = bounds(sweep.body.pieces.iter().flatten().map(|p| frame(at.apply(*p))));
    let play = DVec3::new(window.half_u, window.half_v, 0.0) - (hi - lo) / 2.0 - BESIDE;
    if play.x < 0.0 || play.y < 0.0 {
        return Vec::new();
    }
    let middle = (lo + hi) / 2.0;
    let aside = |raised: f64| {
        let now = middle + frame(window.centre + DVec3::Z * raised);
        let wanted = now.clamp(-play.with_z(0.0), play.with_z(0.0));
        DVec3::Z * raised + window.u * (wanted - now).x + window.v * (wanted - now).y
    };
    // From least to most that a raised part could be in the opening.
    let most = (play.x * window.u.z.abs() + play.y * window.v.z.abs()) * 2.0;
    let mut poses: Vec<Rigid> = Vec::new();
    let [rise, just] = [ABOVE_RIM, JUST_ABOVE_RIM].map(|by| (below + by).max(0.0));
    for raised in [0.0, rise, just + ((most - just) / 2.0).max(0.0), just] {
        let pose = at.moved(aside(raised));
        if !poses.iter().any(|p| p.shift.distance(pose.shift) < 1e-6) {
            poses.push(pose);
        }
    }
    poses
}

fn slide_out(sweep: &Sweep<'_>, door: &Gate, at: &Rigid) -> Motion {
    let go = door.beyond - sweep.body.least_along(at, door.out);
    Motion::slide(*at, door.out * go.max(0.0))
}

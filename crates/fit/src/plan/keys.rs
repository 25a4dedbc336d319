//! Poses just beyond an opening, and how far the part can be pushed straight back in from there.
//!
//! An opening narrower than the part is passed only in few orientations. They are found from the part's shadow across the
//! opening alone, and only then asked whether they are free: that makes the narrow passage the begin of the
//! search, not something for dice to hit.

use std::f64::consts::{FRAC_PI_2, PI};

use glam::{DQuat, DVec2, DVec3};

use super::body::bounds;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};
use crate::world::Window;

/// An opening with the direction in which it is left.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gate {
    pub(crate) window: Window,
    /// Unit vector outwards.
    pub(crate) out: DVec3,
    /// What has `out · p` at least this for all points is beyond.
    pub(crate) beyond: f64,
}

/// A pose beyond an opening.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Key {
    /// Just beyond.
    pub(crate) outside: Rigid,
    /// How far it can be pushed straight back from there, mm.
    pub(crate) back: f64,
    /// Unit vector outwards.
    pub(crate) out: DVec3,
    /// What the way by it promises to cost: it turns little, reaches deep and is near when that is small.
    pub(crate) cost: f64,
}

impl Key {
    /// Pushed back by a share of what is free.
    pub(crate) fn inside(&self, share: f64) -> Rigid {
        self.outside.moved(self.out * (-self.back * share))
    }

    /// The slide out from there.
    pub(crate) fn exit(&self, share: f64) -> Motion {
        Motion::slide(self.inside(share), self.out * (self.back * share))
    }
}

/// Half-degree steps of the turn about the direction outwards, from −90° to 90°. Our judgement: a range of turns that is
/// narrower is still met, for what is nearly in is refined.
const STEPS: usize = 360;

/// In how many parts a range of turns that fit is cut, where the part is held straight, and where it is tipped: our
/// judgement, finer where a way by it is easier to follow.
const PARTS_STRAIGHT: u32 = 8;
const PARTS_TIPPED: u32 = 2;

/// Unit vectors nearer to each other than this are one.
const SAME_AXIS: f64 = 1e-6;

/// How much larger than the opening, mm, a shadow may seem at one of those steps and still be refined. Our judgement: half
/// a step turns an edge 200 mm away by 0.9 mm, and the best of a range is seldom so far from a step.
const NEARLY: f64 = 0.5;

/// Kept free beside a shadow that is pushed to one side of an opening, mm. Our judgement: more than is kept free in any
/// case, less than anyone aims by.
const BESIDE: f64 = 0.3;

/// How far a part is pushed back at most, mm. Our judgement: deeper than any sump is high.
const DEEPEST: f64 = 2000.0;

/// How the part is held in an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Held {
    /// As it comes, only turned about the direction outwards.
    Straight,
    /// Tipped about a side of the opening, and turned.
    Tipped,
}

/// Keys of some openings, for a part that comes from `from`; the most promising first.
pub(crate) fn keys(sweep: &mut Sweep<'_>, gates: &[Gate], from: &Rigid, held: Held) -> Vec<Key> {
    let mut found = Vec::new();
    for gate in gates {
        found.extend(keys_of(sweep, gate, from, held));
    }
    found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    found
}

fn keys_of(sweep: &mut Sweep<'_>, gate: &Gate, from: &Rigid, held: Held) -> Vec<Key> {
    let mut found = Vec::new();
    for turn in orientations(sweep, gate, from, held) {
        for outside in places(sweep, gate, turn, from) {
            if !sweep.is_free_at(&outside) {
                continue;
            }
            let back = sweep.travel(&outside, -gate.out, DEEPEST);
            if back < 1.0 {
                continue;
            }
            let angle = Motion { from: *from, to: outside, pivot: DVec3::ZERO }.angle();
            let away = sweep.body.middle(&outside).distance(sweep.body.middle(from));
            // In coarse steps, so that rounding does not decide the order.
            let cost =
                (angle * 20.0).round() - (back / 20.0).round() + 0.05 * (away / 20.0).round();
            found.push(Key { outside, back, out: gate.out, cost });
        }
    }
    found
}

/// Turns at which the part's shadow fits into the opening: as it comes, or tipped about either side of the
/// opening by steps of 15°, each turned about the direction outwards.
fn orientations(sweep: &Sweep<'_>, gate: &Gate, from: &Rigid, held: Held) -> Vec<DQuat> {
    let Window { u, v, .. } = gate.window;
    let mut tips = Vec::new();
    for k in 1..=6 {
        for sign in [1.0, -1.0] {
            for axis in [u, v] {
                tips.push((axis, sign * f64::from(k) * PI / 12.0));
            }
        }
    }
    let (tips, parts) = match held {
        Held::Straight => (vec![(u, 0.0)], PARTS_STRAIGHT),
        Held::Tipped => (tips, PARTS_TIPPED),
    };
    let mut turns = Vec::new();
    for (axis, angle) in tips {
        let tipped = DQuat::from_axis_angle(axis, angle) * from.turn;
        let shadow: Vec<DVec2> = sweep
            .body
            .extremes
            .iter()
            .map(|p| tipped * (*p - sweep.body.centre))
            .map(|p| DVec2::new(p.dot(u), p.dot(v)))
            .collect();
        for angle in fitting_angles(&shadow, &gate.window, parts) {
            let turn = DQuat::from_axis_angle(gate.out, sense(gate) * angle) * tipped;
            turns.push(turn.normalize());
        }
    }
    if sweep.body.is_round {
        only_other_axes(&mut turns);
    }
    turns
}

/// Leaves out turns of a part that is round about its upright axis which leave that axis where another does.
fn only_other_axes(turns: &mut Vec<DQuat>) {
    let mut axes: Vec<DVec3> = Vec::new();
    turns.retain(|turn| {
        let axis = *turn * DVec3::Z;
        let is_new = axes.iter().all(|known| known.distance(axis) > SAME_AXIS);
        if is_new {
            axes.push(axis);
        }
        is_new
    });
}

/// The sense in which a turn from `u` to `v` goes about `out`.
fn sense(gate: &Gate) -> f64 {
    if gate.window.u.cross(gate.window.v).dot(gate.out) < 0.0 { -1.0 } else { 1.0 }
}

/// By how much the shadow, turned, is larger than the opening; negative when it fits.
fn excess(shadow: &[DVec2], window: &Window, angle: f64) -> f64 {
    let turn = DVec2::new(libm::cos(angle), libm::sin(angle));
    let (mut lo, mut hi) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    for p in shadow {
        let p = turn.rotate(*p);
        (lo, hi) = (lo.min(p), hi.max(p));
    }
    let half = (hi - lo) / 2.0;
    (half.x - window.half_u).max(half.y - window.half_v)
}

/// Of every range of turns in which the shadow fits: no turn at all, the best, the end nearest to no turn, and what
/// cuts the range in so many parts. The middle alone misses what must be pushed to one side, the best alone turns more
/// than it must, and either may stand above something in the sump.
fn fitting_angles(shadow: &[DVec2], window: &Window, parts: u32) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "at most 360")]
    let angle = |step: f64| -FRAC_PI_2 + PI * step / STEPS as f64;
    #[expect(clippy::cast_precision_loss, reason = "at most 360")]
    let fits: Vec<f64> = (0..=STEPS).map(|i| excess(shadow, window, angle(i as f64))).collect();
    let mut picks = Vec::new();
    if fits[STEPS / 2] < 0.0 {
        picks.push(0.0);
    }
    let mut i = 0;
    while i <= STEPS {
        if fits[i] >= NEARLY {
            i += 1;
            continue;
        }
        let first = i;
        let mut best = i;
        while i <= STEPS && fits[i] < NEARLY {
            if fits[i] < fits[best] {
                best = i;
            }
            i += 1;
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 360")]
        let [first, best, last] = [first, best, i - 1].map(|step| angle(step as f64));
        picks.push(refined(shadow, window, best));
        let cuts = (1..parts).map(|k| first + (last - first) * f64::from(k) / f64::from(parts));
        let nearest = if first > 0.0 { first } else { last } * 1.02;
        for pick in cuts.chain([nearest]) {
            if pick.abs() > 0.01 && pick.abs() < 1.5 && excess(shadow, window, pick) < -1.0 {
                picks.push(pick);
            }
        }
    }
    picks
}

/// The best angle near this one, by steps that become smaller.
fn refined(shadow: &[DVec2], window: &Window, near: f64) -> f64 {
    let (mut best, mut least) = (near, excess(shadow, window, near));
    #[expect(clippy::cast_precision_loss, reason = "360")]
    let mut step = PI / STEPS as f64;
    for _ in 0..30 {
        step *= 0.7;
        for angle in [best - step, best + step] {
            let excess = excess(shadow, window, angle);
            if excess < least {
                (best, least) = (angle, excess);
            }
        }
    }
    best
}

/// Just beyond the opening in this orientation: in its middle, and as near to where the part comes from as
/// the shadow allows.
fn places(sweep: &Sweep<'_>, gate: &Gate, turn: DQuat, from: &Rigid) -> Vec<Rigid> {
    let Window { centre, u, v, half_u, half_v } = gate.window;
    let frame = |p: DVec3| DVec3::new(p.dot(u), p.dot(v), p.dot(gate.out));
    let [lo, hi] = bounds(sweep.body.extremes.iter().map(|p| frame(turn * *p)));
    let (middle, half) = ((lo + hi) / 2.0, (hi - lo) / 2.0);
    let play = DVec2::new((half_u - half.x - BESIDE).max(0.0), (half_v - half.y - BESIDE).max(0.0));
    let before = sweep.body.middle(from) - centre;
    let near = DVec2::new(before.dot(u), before.dot(v)).clamp(-play, play);
    // Exactly beyond: the extremes may miss the outermost point by a little.
    let least = sweep.body.least_along(&Rigid { turn, shift: DVec3::ZERO }, gate.out);
    let put = |aside: DVec2| {
        let shift = u * (centre.dot(u) + aside.x - middle.x)
            + v * (centre.dot(v) + aside.y - middle.y)
            + gate.out * (gate.beyond - least + 0.01);
        Rigid { turn, shift }
    };
    if near.length() < 1.0 { vec![put(DVec2::ZERO)] } else { vec![put(near), put(DVec2::ZERO)] }
}

//! A second opinion on a way, by other means: the part is put at places along it, no point moving more than
//! [`STEP_MM`] from one to the next, and an independent library measures how far it is from everything.
//!
//! Nothing here rests on the argument of swept hulls, nor on our own test for separation. Where the measured distance is `d`,
//! no sample is skipped but those that follow before any point can have moved `d`.

use glam::DVec3;
use parry3d_f64::math::Pose;
use parry3d_f64::query::details::{
    contact_support_map_support_map, distance_support_map_support_map,
};
use parry3d_f64::shape::SupportMap;

use super::body::{Body, bounds};
use super::space::Space;
use crate::clearance::NEAR_MM;
use crate::motion::{Motion, Rigid};
use crate::world::ThingId;

/// How far the farthest point moves from sample to sample, mm.
const STEP_MM: f64 = 0.25;

/// The same where only a depth is wanted.
const COARSE_STEP_MM: f64 = 2.0;

/// What the library's distance may be short by, relative to it (it stops a little early).
const SHORT: f64 = 1e-6;

/// Whether the part touches nothing at any sample of the way, which begins in its place, each motion where the last one
/// ended, and ends outside.
pub(crate) fn holds(space: &Space<'_>, body: &Body, way: &[Motion]) -> bool {
    let same = |a: &Rigid, b: &Rigid| {
        body.extremes.iter().all(|p| a.apply(*p).distance(b.apply(*p)) < 1e-6)
    };
    let begin = way.first().map_or(Rigid::HOME, |motion| motion.from);
    let end = way.last().map_or(Rigid::HOME, |motion| motion.to);
    same(&begin, &Rigid::HOME)
        && way.windows(2).all(|pair| same(&pair[0].to, &pair[1].from))
        && is_out(space, body, &end)
        && nearest(space, body, way, 0.0, 0.0).is_none_or(|gap| gap > 0.0)
}

/// Whether every point of the part is outside: above the rim, or beyond a door where there are any.
fn is_out(space: &Space<'_>, body: &Body, at: &Rigid) -> bool {
    let is_beyond = |direction: DVec3, least: f64| {
        let mut points = body.pieces.iter().flatten();
        points.all(|p| direction.dot(at.apply(*p)) >= least - 1e-6)
    };
    let exits = space.exits;
    if exits.doors.is_empty() {
        return is_beyond(DVec3::Z, exits.rim_z);
    }
    exits.doors.iter().any(|door| is_beyond(door.out, door.beyond))
}

/// A part that leaves what it touches in its place is first measured when it has gone so far, mm.
const OFF_MM: f64 = 1.0;

/// In its place a part touches what is no farther from the part taken smaller than this beyond what was taken off, mm.
const TOUCH_MM: f64 = 0.02;

/// The least gap between the real part and what stands around it at any sample of a way, mm; 0 where they touch,
/// without limit when nothing comes within 60 mm. What it touches in its place counts only where
/// it slides along it.
pub(crate) fn least_gap(space: &Space<'_>, body: &Body, way: &[Motion]) -> f64 {
    match nearest(space, body, way, NEAR_MM, OFF_MM) {
        Some(gap) if gap < NEAR_MM => (gap - body.less).max(0.0),
        _ => f64::INFINITY,
    }
}

/// The least gap of the part as it is planned with, mm, 0 where it touches; `None` when no pair of boxes comes within
/// `within` mm, and of no meaning where it is more than that. What it touches in its place counts from `off` mm on.
pub(super) fn nearest(
    space: &Space<'_>,
    body: &Body,
    way: &[Motion],
    within: f64,
    off: f64,
) -> Option<f64> {
    let mut least: Option<f64> = None;
    for (k, motion) in way.iter().enumerate() {
        let samples = Samples::of(body, motion, STEP_MM);
        let mut pairs = near_pairs(space, body, motion, within);
        // The nearest first: the others need not be looked into then.
        pairs.sort_by(|a, b| a.apart.total_cmp(&b.apart));
        for Pair { piece, obstacle, apart } in pairs {
            let mut bound = least.unwrap_or(f64::INFINITY);
            if apart > bound {
                break;
            }
            let mut i = 0;
            if k == 0 && 0.0 < off {
                let touching = body.less + TOUCH_MM;
                let gap = gap(piece, obstacle.points, &samples.at(0), touching);
                if gap <= touching {
                    i = samples.skipped(off).max(1);
                    let is_slide = motion.angle() < 1e-9;
                    if is_slide && is_leaving(piece, obstacle.points, &samples, i.min(samples.last))
                    {
                        continue;
                    }
                }
            }
            while i <= samples.last {
                let at = samples.at(i);
                let gap = gap(piece, obstacle.points, &at, bound);
                bound = bound.min(gap);
                if bound <= 0.0 {
                    return Some(0.0);
                }
                // Closer than `bound` it cannot be before any point has moved the difference.
                i += samples.skipped((gap - bound) * (1.0 - SHORT)).max(1);
            }
            least = Some(bound);
        }
    }
    least
}

/// Whether a piece that touched in its place has slid off by so much: of two convex bodies one of which slides the
/// distance then only grows, and how near they were says nothing of the way.
fn is_leaving(piece: &[DVec3], obstacle: &[DVec3], samples: &Samples<'_>, i: u32) -> bool {
    let gone = f64::from(i) * samples.step;
    gap(piece, obstacle, &samples.at(i), f64::INFINITY) >= 0.5 * gone
}

/// The things that the part would touch on this way, and how deep it would cut into each, mm, as far as samples
/// every 2 mm tell; the deepest first.
pub(crate) fn touched(space: &Space<'_>, body: &Body, way: &[Motion]) -> Vec<(ThingId, f64)> {
    let mut depths: Vec<(ThingId, f64)> = Vec::new();
    for motion in way {
        let samples = Samples::of(body, motion, COARSE_STEP_MM);
        for Pair { piece, obstacle, .. } in near_pairs(space, body, motion, 0.0) {
            let mut deepest: f64 = 0.0;
            let mut i = 0;
            while i <= samples.last {
                let at = samples.at(i);
                let gap = gap(piece, obstacle.points, &at, 0.0);
                if gap > 0.0 {
                    i += samples.skipped(gap).max(1);
                } else {
                    deepest = deepest.max(depth(piece, obstacle.points, &at));
                    i += 1;
                }
            }
            if deepest > 0.0 {
                match depths.iter_mut().find(|(thing, _)| *thing == obstacle.thing) {
                    Some((_, depth)) => *depth = depth.max(deepest),
                    None => depths.push((obstacle.thing, deepest)),
                }
            }
        }
    }
    depths.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    depths
}

/// A motion at even shares of it.
struct Samples<'m> {
    motion: &'m Motion,
    /// Index of the last one.
    last: u32,
    /// How far any point moves from one to the next at most, mm.
    step: f64,
}

impl<'m> Samples<'m> {
    fn of(body: &Body, motion: &'m Motion, step: f64) -> Self {
        // From every point the pivot is no farther than this: no axis, no argument.
        let arm = body.pieces.iter().flatten().map(|p| p.distance(motion.pivot));
        let length = motion.distance() + motion.angle() * arm.fold(0.0, f64::max);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded")]
        let last = (length / step).ceil().clamp(1.0, 1e7) as u32;
        Self { motion, last, step: length / f64::from(last) }
    }

    fn at(&self, i: u32) -> Rigid {
        self.motion.at(f64::from(i) / f64::from(self.last))
    }

    /// How many samples it takes to move by `gap`.
    fn skipped(&self, gap: f64) -> u32 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded")]
        let n = (gap / self.step.max(1e-9)).floor().clamp(0.0, 1e9) as u32;
        n
    }
}

/// One piece of an obstacle.
#[derive(Clone, Copy)]
struct Other<'a> {
    thing: ThingId,
    points: &'a [DVec3],
}

/// A piece of the part and one of an obstacle.
struct Pair<'a> {
    piece: &'a [DVec3],
    obstacle: Other<'a>,
    /// How far their boxes are apart, that of the part being around the whole motion, mm.
    apart: f64,
}

/// All pairs whose boxes are no farther apart than `within` mm.
fn near_pairs<'a>(
    space: &'a Space<'a>,
    body: &'a Body,
    motion: &Motion,
    within: f64,
) -> Vec<Pair<'a>> {
    let mut pairs = Vec::new();
    for piece in &body.pieces {
        let around = if motion.angle() > 0.0 {
            let arm = piece.iter().map(|p| p.distance(motion.pivot)).fold(0.0, f64::max);
            let ends = [motion.from, motion.to].map(|end| end.apply(motion.pivot));
            let [lo, hi] = bounds(ends.into_iter());
            [lo - arm, hi + arm]
        } else {
            bounds(piece.iter().flat_map(|p| [motion.from.apply(*p), motion.to.apply(*p)]))
        };
        for obstacle in &space.obstacles {
            let it = obstacle.piece;
            let apart = (it.min - around[1]).max(around[0] - it.max).max(DVec3::ZERO).length();
            if apart <= within {
                let obstacle = Other { thing: obstacle.thing, points: &it.points };
                pairs.push(Pair { piece, obstacle, apart });
            }
        }
    }
    pairs
}

/// Points for the library: what it asks of a shape is its farthest point.
struct Cloud<'p>(&'p [DVec3]);

impl SupportMap for Cloud<'_> {
    fn local_support_point(&self, direction: DVec3) -> DVec3 {
        let farther = |a: &&DVec3, b: &&DVec3| direction.dot(**a).total_cmp(&direction.dot(**b));
        self.0.iter().max_by(farther).copied().unwrap_or(DVec3::ZERO)
    }
}

fn pose(at: &Rigid) -> Pose {
    Pose { rotation: at.turn, translation: at.shift }
}

/// Distance of a piece of the part from a piece of an obstacle; boxes that are farther apart than `enough` are not
/// looked into.
fn gap(piece: &[DVec3], other: &[DVec3], at: &Rigid, enough: f64) -> f64 {
    let [lo, hi] = bounds(piece.iter().map(|p| at.apply(*p)));
    let [least, most] = bounds(other.iter().copied());
    let apart = (least - hi).max(lo - most).max(DVec3::ZERO).length();
    if apart > enough && apart > 1.0 {
        return apart;
    }
    distance_support_map_support_map(&pose(at).inverse(), &Cloud(piece), &Cloud(other))
}

fn depth(piece: &[DVec3], other: &[DVec3], at: &Rigid) -> f64 {
    let there = pose(at).inverse();
    contact_support_map_support_map(&there, &Cloud(piece), &Cloud(other), 0.0)
        .map_or(0.0, |contact| (-contact.dist).max(0.0))
}

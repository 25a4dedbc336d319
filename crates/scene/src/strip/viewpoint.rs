//! One place for all frames from which the motion is seen.

use glam::{DVec2, DVec3, dvec2, dvec3};

use super::cast::Cast;
use super::moments::Moment;
use crate::camera::{Camera, Frame, Lens};

/// Directions to the eye that are tried, the usual one first: from the front and above, from the left, from the
/// right, and from higher up.
const DIRECTIONS: [DVec3; 6] = [
    dvec3(-0.46, -1.0, 0.60),
    dvec3(0.46, -1.0, 0.60),
    dvec3(-0.85, -1.0, 0.65),
    dvec3(0.85, -1.0, 0.65),
    dvec3(-0.46, -1.0, 1.0),
    dvec3(0.46, -1.0, 1.0),
];
/// Another direction must be so much better than the usual one.
const BETTER: f64 = 1.12;
/// So much of the sump is shown around the motion, as a share of its width.
const AROUND: f64 = 0.55;
/// White space around what is shown, as a share of the frame.
const AIR: f64 = 0.035;

/// Corners of what all frames show: all places of the part, and the sump and the cabinet around them.
pub(super) fn shown(cast: &Cast<'_>, moments: &[Moment]) -> Vec<DVec3> {
    let points = cast.points(60);
    let places = moments.iter().flat_map(|m| m.passed().chain([&m.at]));
    let mut shown: Vec<DVec3> =
        places.flat_map(|place| points.iter().map(|&p| place.apply(p))).collect();
    let start = [DVec3::INFINITY, DVec3::NEG_INFINITY];
    let [lo, hi] = shown.iter().fold(start, |[lo, hi], &p| [lo.min(p), hi.max(p)]);
    let [least, most] = cast.bounds();
    let around = AROUND * (most.y - least.y);
    let (mut lo, mut hi) = ((lo - around).max(least), (hi + around).min(most));
    if cast.has_cabinet() {
        // Its floor and its ceiling are what height is told by.
        (lo.z, hi.z) = (least.z, most.z);
    }
    for i in 0..8 {
        let pick = |bit: usize, k: usize| if i & bit == 0 { lo[k] } else { hi[k] };
        shown.push(dvec3(pick(1, 0), pick(2, 1), pick(4, 2)));
    }
    shown
}

/// The direction from which most of the motion and of the part is seen.
pub(super) fn best(cast: &Cast<'_>, moments: &[Moment], shown: &[DVec3]) -> DVec3 {
    let score = |direction: DVec3| {
        let camera = camera(direction, shown, [800, 600]);
        let points = cast.points(24);
        let place = |m: &Moment, p: DVec3| camera.project(m.at.apply(p));
        let count = points.len().max(1) as f64;
        let moved: f64 = moments
            .windows(2)
            .map(|pair| {
                let far = points.iter().map(|&p| place(&pair[0], p).distance(place(&pair[1], p)));
                far.sum::<f64>() / count
            })
            .sum();
        // A leaf that is seen from its edge shows no turn.
        let broad = |m: &Moment| {
            let frame = Frame::around(points.iter().map(|&p| place(m, p)));
            frame.map_or(0.0, |f| f.size().min_element())
        };
        let broad = moments.iter().map(broad).sum::<f64>() / moments.len().max(1) as f64;
        moved + 2.0 * broad
    };
    let usual = score(DIRECTIONS[0]);
    let scored = DIRECTIONS.iter().skip(1).map(|&d| (d, score(d)));
    let better = scored.filter(|(_, s)| *s > BETTER * usual);
    better.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(DIRECTIONS[0], |(d, _)| d)
}

/// Width over height of what is shown.
pub(super) fn aspect(direction: DVec3, shown: &[DVec3]) -> f64 {
    let camera = camera(direction, shown, [1000, 1000]);
    let frame = Frame::around(shown.iter().map(|&p| camera.project(p)));
    frame.map_or(1.0, |f| f.size().x.max(1.0) / f.size().y.max(1.0))
}

/// The camera of a frame of a size in px.
pub(super) fn camera(direction: DVec3, shown: &[DVec3], size: [usize; 2]) -> Camera {
    let size = dvec2(size[0] as f64, size[1] as f64);
    let air = DVec2::splat(AIR * size.max_element());
    let frame = Frame { min: air, max: size - air };
    Camera::framed(direction, DVec3::Z, Lens::Perspective, shown, frame)
}

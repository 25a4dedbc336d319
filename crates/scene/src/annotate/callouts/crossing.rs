//! What leaders do to each other in the plane.

use glam::{DVec2, dvec2};

use crate::camera::Frame;

/// Whether two segments have a point in common.
pub(super) fn cross([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    let apart = |u: f64, v: f64| (u > 0.0 && v > 0.0) || (u < 0.0 && v < 0.0);
    let boxes = Frame { min: a.min(b), max: a.max(b) };
    let other = Frame { min: c.min(d), max: c.max(d) };
    !apart(side(a, b, c), side(a, b, d))
        && !apart(side(c, d, a), side(c, d, b))
        && boxes.min.cmple(other.max).all()
        && other.min.cmple(boxes.max).all()
}

/// Whether a segment runs through a frame.
pub(super) fn passes(line: [DVec2; 2], frame: &Frame) -> bool {
    let Frame { min, max } = *frame;
    let (a, b) = (dvec2(min.x, max.y), dvec2(max.x, min.y));
    frame.holds(line[0]) || frame.holds(line[1]) || cross(line, [min, max]) || cross(line, [a, b])
}

/// Distance of a point from a segment.
pub(super) fn distance(p: DVec2, [a, b]: [DVec2; 2]) -> f64 {
    let along = b - a;
    let t = ((p - a).dot(along) / along.length_squared().max(1e-12)).clamp(0.0, 1.0);
    p.distance(a + along * t)
}

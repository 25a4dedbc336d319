//! Arcs as chords.

use std::f64::consts::PI;

use glam::DVec2;
use plate::Segment;

/// A chord turns by 60° at most, however coarse.
const LARGEST_TURN: f64 = PI / 3.0;

/// How many chords an arc needs so that none lies farther from it than `error`: the sagitta is
/// `r (1 − cos(φ/2)) = 2 r sin²(φ/4)`.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "positive; saturates if absurdly large"
)]
pub(crate) fn chords(radius: f64, sweep: f64, error: f64) -> usize {
    let turn = 4.0 * libm::asin((0.5 * error / radius).min(1.0).sqrt());
    ((sweep.abs() / turn.min(LARGEST_TURN) - 1e-9).ceil() as usize).max(1)
}

/// How many tangents stay within `error` outside an arc: `r / cos(φ/2) − r ≤ e` is the sagitta of the circle that
/// is larger by `e`.
pub(crate) fn tangents(radius: f64, sweep: f64, error: f64) -> usize {
    chords(radius + error, sweep, error)
}

/// Corners along a segment from its start to its end, on the arc itself.
pub(crate) fn on_arc(segment: &Segment, error: f64) -> Vec<DVec2> {
    let mut line = vec![segment.start];
    if let (Some(arc), Some(radius)) = (segment.arc, segment.radius()) {
        // Two at least: an arc and the line between its ends stay apart.
        let n = chords(radius, arc.sweep, error).max(2);
        line.extend((1..n).map(|k| segment.point_at(share(k, n))));
    }
    line.push(segment.end);
    line
}

/// Corners of tangents along a segment, from its start to its end: the arc's other side from its centre.
pub(crate) fn around_arc(segment: &Segment, error: f64) -> Vec<DVec2> {
    let mut line = vec![segment.start];
    if let (Some(arc), Some(radius)) = (segment.arc, segment.radius()) {
        let n = tangents(radius, arc.sweep, error).max(2);
        let out = 1.0 / libm::cos(0.5 * arc.sweep / count(n));
        let corner = |k: usize| {
            let spoke = segment.point_at((count(k) + 0.5) / count(n)) - arc.centre;
            arc.centre + spoke * out
        };
        line.extend((0..n).map(corner));
    }
    line.push(segment.end);
    line
}

/// `k / n`.
pub(crate) fn share(k: usize, n: usize) -> f64 {
    count(k) / count(n)
}

#[expect(clippy::cast_precision_loss, reason = "a number of chords")]
pub(crate) fn count(n: usize) -> f64 {
    n as f64
}

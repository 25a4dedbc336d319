//! What keeps a collar in its opening: a low hump on each of two opposite sides, a little wider than the opening.

use glam::{DVec2, dvec2};
use plate::Segment;

/// How far a hump stands out over the edge of the opening, mm: more than an opening that was cut to size is too wide.
/// Our judgement.
pub(super) const PRESS_MM: f64 = 0.2;
/// Half the length of a hump along the collar, mm: so long that it is a bend of the collar's wall, and no edge that a
/// printer rounds off.
pub(super) const HALF_MM: f64 = 4.0;

/// A bow about the y axis from `(-HALF_MM, y)` to `(HALF_MM, y)` over a top that is `high_mm` above `top_y`, the height
/// of the wall in the middle; runs clockwise.
///
/// With the ends at ±w, y and the top at T = `top_y` + h, the circle's middle is at c = (T² − y² − w²) / (2 (T − y)).
pub(super) fn hump(y: f64, top_y: f64, high_mm: f64) -> Segment {
    let (w, top) = (HALF_MM, top_y + high_mm);
    let c = (top * top - y * y - w * w) / (2.0 * (top - y));
    let start = dvec2(-w, y);
    let mut bow = Segment::arc(dvec2(0.0, c), start, -2.0 * libm::atan2(w, y - c));
    bow.end = dvec2(w, y);
    bow
}

/// Turned by half a turn about the origin.
pub(super) fn half_turned(pieces: &[Segment]) -> Vec<Segment> {
    let turned = |p: DVec2| -p;
    let piece = |s: &Segment| Segment {
        start: turned(s.start),
        end: turned(s.end),
        arc: s.arc.map(|arc| plate::Arc { centre: turned(arc.centre), ..arc }),
    };
    pieces.iter().map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn its_top_is_as_high_as_is_asked_over_a_straight_and_a_round_wall() {
        for (y, top_y) in [(20.0, 20.0), (609.0_f64.sqrt(), 25.0)] {
            let bow = hump(y, top_y, 0.45);
            let middle = bow.midpoint();
            assert!(middle.x.abs() < 1e-9 && (middle.y - top_y - 0.45).abs() < 1e-9);
            assert!(bow.radius().is_some_and(|r| r > 9.0), "it is no edge");
        }
    }
}

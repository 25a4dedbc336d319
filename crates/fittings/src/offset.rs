//! A contour drawn in or out by a little, piece by piece.

use std::f64::consts::TAU;

use glam::DVec2;
use plate::{Arc, Contour, Segment};

/// The contour that runs `distance` to the left of this one (mm; negative: to the right), piece for piece: the
/// offsets of two pieces meet on the mitre of their corner.
///
/// # Errors
/// The place where there is no such contour: a piece is too short or too round, or a corner too sharp.
pub(crate) fn offset(contour: &Contour, distance: f64) -> Result<Contour, DVec2> {
    let pieces = &contour.0;
    let before = pieces.iter().cycle().skip(pieces.len().saturating_sub(1));
    let corners: Vec<DVec2> = before
        .zip(pieces)
        .map(|(a, b)| mitre(a, b, distance).ok_or(b.start))
        .collect::<Result<_, _>>()?;
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    pieces
        .iter()
        .zip(ends)
        .map(|(s, (&p, &q))| moved(s, p, q).ok_or(s.start))
        .collect::<Result<_, _>>()
        .map(Contour)
}

/// Pieces that would be left shorter than this are refused, mm: nothing so short prints.
const LEAST_MM: f64 = 0.02;

/// The piece moved aside to new ends, if it still runs the same way.
fn moved(s: &Segment, start: DVec2, end: DVec2) -> Option<Segment> {
    let Some(arc) = s.arc else {
        let runs = (end - start).dot((s.end - s.start).normalize());
        return (runs > LEAST_MM).then(|| Segment::line(start, end));
    };
    let (p, q) = (start - arc.centre, end - arc.centre);
    let same_side = p.dot(s.start - arc.centre) > 0.0 && q.dot(s.end - arc.centre) > 0.0;
    let turned = libm::atan2(p.perp_dot(q), p.dot(q));
    let sweep = turned + TAU * ((arc.sweep - turned) / TAU).round();
    let is_one = same_side && sweep * arc.sweep > 0.0 && sweep.abs() * p.length() > LEAST_MM;
    is_one.then_some(Segment { start, end, arc: Some(Arc { centre: arc.centre, sweep }) })
}

/// The point that lies at this distance to the left of both pieces, near the corner where `a` ends and `b` begins.
///
/// Newton's method on the two distances, begun where it ends for straight pieces.
fn mitre(a: &Segment, b: &Segment, distance: f64) -> Option<DVec2> {
    let (n, m) = (normal(a, a.end), normal(b, b.start));
    let spread = 1.0 + n.dot(m);
    if spread < SHARPEST {
        return None;
    }
    let mut x = b.start + (n + m) * (distance / spread);
    if n.perp_dot(m).abs() < 1e-9 {
        return Some(x); // Tangent pieces: both distances are right already.
    }
    for _ in 0..20 {
        let (miss_a, miss_b) = (left_of(a, x) - distance, left_of(b, x) - distance);
        if miss_a.abs().max(miss_b.abs()) < 1e-11 {
            return Some(x);
        }
        // Solves n·step = −miss_a, m·step = −miss_b.
        let (n, m) = (normal(a, x), normal(b, x));
        let det = n.perp_dot(m);
        x += (miss_b * n.perp() - miss_a * m.perp()) * (-1.0 / det);
    }
    None
}

/// One plus the cosine between two normals at the sharpest corner that is drawn in: about 25° between its sides.
const SHARPEST: f64 = 0.1;

/// How far `x` lies to the left of the line or circle of a piece.
fn left_of(s: &Segment, x: DVec2) -> f64 {
    match s.arc {
        None => normal(s, x).dot(x - s.start),
        Some(arc) => (s.start.distance(arc.centre) - x.distance(arc.centre)) * arc.sweep.signum(),
    }
}

/// The direction to the left of a piece, at the foot of `x` on it.
fn normal(s: &Segment, x: DVec2) -> DVec2 {
    match s.arc {
        None => (s.end - s.start).normalize().perp(),
        Some(arc) => (arc.centre - x).normalize_or_zero() * arc.sweep.signum(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use std::f64::consts::PI;

    /// Steiner's formula: the area within `d` of a convex contour is `A + L d + π d²`; with mitred instead of round
    /// corners a rectangle gains 4 d² for π d².
    #[test]
    fn areas_are_those_of_parallel_curves() {
        let box_ = Contour::rectangle(dvec2(0.0, 0.0), dvec2(30.0, 20.0));
        let slot = Contour::slot(dvec2(0.0, 0.0), dvec2(9.0, 2.0), 4.0);
        let round = Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(30.0, 20.0), 3.0);
        for (contour, corner) in [(box_, 4.0), (slot, PI), (round, PI)] {
            for d in [-0.3, 0.2, 0.3] {
                let area = offset(&contour, d).expect("an offset").signed_area();
                let expected = contour.signed_area() - contour.length() * d + corner * d * d;
                assert!((area - expected).abs() < 1e-9, "{area} {expected}");
                let back = offset(&contour.reversed(), -d).expect("an offset").signed_area();
                assert!((back + expected).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_line_meets_an_arc_on_both_offsets() {
        // A disc of 10 mm cut off at 4 mm from its middle.
        let (p, q) = (dvec2(-84.0_f64.sqrt(), 4.0), dvec2(84.0_f64.sqrt(), 4.0));
        let sweep = PI + 2.0 * 0.4_f64.asin();
        let cap = Contour(vec![Segment::line(q, p), Segment::arc(DVec2::ZERO, p, sweep)]);
        let inner = offset(&cap, 0.5).expect("an offset");
        let corner = dvec2((9.5_f64 * 9.5 - 3.5 * 3.5).sqrt(), 3.5);
        assert!(inner.0[0].start.distance(corner) < 1e-9);
        assert!((inner.0[1].radius().expect("round") - 9.5).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_drawn_in_is_named_by_its_place() {
        let thin = Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(30.0, 20.0), 0.2);
        assert!(offset(&thin, 0.3).is_err());
        let needle = Contour::polygon(&[dvec2(0.0, 0.0), dvec2(30.0, 0.0), dvec2(0.0, 3.0)]);
        assert_eq!(offset(&needle, 0.3), Err(dvec2(30.0, 0.0)));
    }
}

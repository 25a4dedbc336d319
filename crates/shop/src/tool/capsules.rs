//! The path beside edges by the plate's own arrangement: all that lies within a tool's radius of an edge is taken away,
//! piece by piece, and what is left is where the middle of the tool may be.
//!
//! Slower than moving the edge as a whole, but it cannot lose its way where moved pieces lie on one another.

use std::f64::consts::{FRAC_PI_2, PI};

use glam::DVec2;
use plate::{Contour, Cut, Plate, Segment};

use super::NoPath;
use super::pocket::pattern_of;

/// Arcs that turn by less than this (rad) have no extent.
const LEAST_SWEEP: f64 = 1e-9;

/// What is left of a region, given by its loops with the inside on their left, when all within `inset_mm` of a loop is
/// taken away.
///
/// # Errors
/// When the arrangement cannot be made.
pub(super) fn smaller(region: &[Contour], inset_mm: f64) -> Result<Vec<Contour>, NoPath> {
    let (outers, holes): (Vec<&Contour>, Vec<&Contour>) =
        region.iter().partition(|contour| contour.signed_area() > 0.0);
    let mut left = Vec::new();
    for outer in outers {
        let mut rest = Plate::new((*outer).clone(), 1.0);
        rest.cuts.extend(holes.iter().map(|hole| Cut::through((*hole).clone())));
        let pieces = region.iter().flat_map(|contour| &contour.0);
        rest.cuts.extend(pieces.flat_map(|piece| around(piece, inset_mm)).map(Cut::through));
        left.extend(pattern_of(&rest)?.through);
    }
    Ok(left)
}

/// All within `r` of a piece, as contours that overlap.
fn around(piece: &Segment, r: f64) -> Vec<Contour> {
    let (Some(arc), Some(radius)) = (piece.arc, piece.radius()) else {
        return vec![Contour::slot(piece.start, piece.end, r)];
    };
    // A quarter circle at most, so that no contour meets itself.
    let parts = (arc.sweep.abs() / FRAC_PI_2).ceil().clamp(1.0, 4.0);
    let mut contours = Vec::new();
    let mut from = 0.0;
    while from < parts - 0.5 {
        let [a, b] = [from, from + 1.0].map(|k| piece.point_at(k / parts));
        let sweep = arc.sweep / parts;
        // Counter-clockwise, whichever way the piece runs.
        let (a, b) = if sweep < 0.0 { (b, a) } else { (a, b) };
        if sweep.abs() > LEAST_SWEEP {
            contours.extend(around_quarter(arc.centre, radius, [a, b], sweep.abs(), r));
        }
        from += 1.0;
    }
    contours
}

fn around_quarter(
    centre: DVec2,
    radius: f64,
    [a, b]: [DVec2; 2],
    sweep: f64,
    r: f64,
) -> Vec<Contour> {
    let [out_a, out_b] = [a, b].map(|p| (p - centre) / radius);
    let at = |out: DVec2, distance: f64| centre + out * distance;
    let far = radius + r;
    let outer = Segment {
        start: at(out_a, far),
        end: at(out_b, far),
        arc: Some(plate::Arc { centre, sweep }),
    };
    if radius > r + 1e-6 {
        let near = radius - r;
        let inner = Segment {
            start: at(out_b, near),
            end: at(out_a, near),
            arc: Some(plate::Arc { centre, sweep: -sweep }),
        };
        let cap = |p: DVec2, start: DVec2, end: DVec2| Segment {
            start,
            end,
            arc: Some(plate::Arc { centre: p, sweep: PI }),
        };
        return vec![Contour(vec![
            outer,
            cap(b, outer.end, inner.start),
            inner,
            cap(a, inner.end, outer.start),
        ])];
    }
    // The tool is wider than the arc: a slice of pie, and a circle at each end.
    let slice =
        Contour(vec![Segment::line(centre, outer.start), outer, Segment::line(outer.end, centre)]);
    vec![slice, Contour::circle(a, r), Contour::circle(b, r)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn a_rounded_rectangle_becomes_a_smaller_one() {
        let outer = Contour::rounded_rectangle(dvec2(0., 0.), dvec2(100., 50.), 8.0);
        let expected = Contour::rounded_rectangle(dvec2(3., 3.), dvec2(97., 47.), 5.0);
        let left = smaller(&[outer], 3.0).unwrap();
        assert_eq!((left.len(), left[0].0.len()), (1, 8));
        assert!((left[0].signed_area() - expected.signed_area()).abs() < 1e-9);
    }

    #[test]
    fn corners_that_the_tool_is_too_wide_for_are_square() {
        let outer = Contour::rounded_rectangle(dvec2(0., 0.), dvec2(100., 50.), 2.0);
        let left = smaller(&[outer], 3.0).unwrap();
        assert!((left[0].signed_area() - 94.0 * 44.0).abs() < 1e-9);
    }

    #[test]
    fn around_a_hole_the_room_is_smaller_by_a_wider_hole() {
        let outer = Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.));
        let hole = Contour::rectangle(dvec2(40., 20.), dvec2(60., 30.)).reversed();
        let left = smaller(&[outer, hole], 3.0).unwrap();
        let area: f64 = left.iter().map(Contour::signed_area).sum();
        assert!((area - (94.0 * 44.0 - (200.0 + 180.0 + 9.0 * PI))).abs() < 1e-9, "{area}");
    }
}

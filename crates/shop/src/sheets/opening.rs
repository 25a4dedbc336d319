//! The largest rectangles in an opening.

use glam::DVec2;
use plate::{Contour, Segment};

/// So many rectangles are told of each opening at most.
const MOST: usize = 3;
/// Arcs are taken as chords; the arc leaves its chord by no more than this, mm, which is kept clear besides.
const SAGITTA_MM: f64 = 0.02;
/// Lines on which the sides of a rectangle may lie, along each axis; our judgement: enough for a rectangle with round
/// corners and a bite or two.
const MOST_LINES: usize = 24;
/// Rectangles with shorter sides than this are not told, mm; our judgement: nothing is cut so small.
const LEAST_SIDE_MM: f64 = 5.0;

/// Rectangles within an opening, lower left and upper right corner, all of whose points are at least `clear_mm` from its
/// edge: the largest, and others that lie in none before. Their sides stand along the axes.
///
/// Sides are tried on a few lines: `clear_mm` beside the ends of the opening's straight pieces, and beside five points of
/// each arc. So it is the largest where the edge has few pieces, else a large one.
pub(super) fn largest(opening: &Contour, clear_mm: f64) -> Vec<[DVec2; 2]> {
    let edge = chords(opening);
    let Some(bounds) = opening.bounds() else { return Vec::new() };
    if (bounds[1] - bounds[0]).min_element() < 2.0 * clear_mm + LEAST_SIDE_MM {
        return Vec::new();
    }
    // The chords of an arc that bulges outwards lie nearer than the arc.
    let lines = |along: fn(DVec2) -> f64| lines(opening, clear_mm + 2.0 * SAGITTA_MM, along);
    let (xs, ys) = (lines(|p| p.x), lines(|p| p.y));
    let mut found: Vec<[DVec2; 2]> = Vec::new();
    for (i, x) in xs.iter().enumerate() {
        for right in &xs[i + 1..] {
            for (j, y) in ys.iter().enumerate() {
                for top in &ys[j + 1..] {
                    let rect = [DVec2::new(*x, *y), DVec2::new(*right, *top)];
                    let size = rect[1] - rect[0];
                    if LEAST_SIDE_MM <= size.min_element() {
                        found.push(rect);
                    }
                }
            }
        }
    }
    let area = |[lo, hi]: &[DVec2; 2]| (hi - lo).element_product();
    found.sort_by(|a, b| area(b).total_cmp(&area(a)));
    let mut kept: Vec<[DVec2; 2]> = Vec::new();
    for rect in found {
        let lies_in =
            |other: &[DVec2; 2]| other[0].cmple(rect[0]).all() && rect[1].cmple(other[1]).all();
        if kept.iter().any(lies_in) {
            continue;
        }
        let is_clear = |chord: &[DVec2; 2]| clear_mm + SAGITTA_MM - 1e-9 <= distance(rect, *chord);
        if opening.winding(0.5 * (rect[0] + rect[1])) != 0 && edge.iter().all(is_clear) {
            kept.push(rect);
            if kept.len() == MOST {
                break;
            }
        }
    }
    kept
}

/// The edge as straight pieces.
fn chords(opening: &Contour) -> Vec<[DVec2; 2]> {
    let of = |segment: &Segment| {
        let number = match (segment.arc, segment.radius()) {
            (Some(arc), Some(radius)) if SAGITTA_MM < radius => {
                // A chord over the angle a leaves its arc by r (1 - cos(a/2)).
                let step = 2.0 * libm::acos(1.0 - SAGITTA_MM / radius);
                (arc.sweep.abs() / step).ceil().max(4.0)
            }
            (Some(_), _) => 4.0,
            _ => 1.0,
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "an arc of 10 m takes some thousand chords"
        )]
        let number = number as u32;
        let at = |k: u32| segment.point_at(f64::from(k) / f64::from(number));
        let ends = move |k: u32| [at(k), at(k + 1)];
        (0..number).map(ends).collect::<Vec<_>>()
    };
    opening.0.iter().flat_map(of).collect()
}

/// Where a side may lie, along one axis, in order.
fn lines(opening: &Contour, clear_mm: f64, along: fn(DVec2) -> f64) -> Vec<f64> {
    let mut lines = Vec::new();
    for segment in &opening.0 {
        let Some(arc) = segment.arc else {
            let at = along(segment.start);
            lines.extend([at - clear_mm, at + clear_mm]);
            continue;
        };
        for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
            let at = segment.point_at(share);
            let out = (at - arc.centre).normalize_or_zero() * clear_mm;
            lines.extend([along(at - out), along(at + out)]);
        }
    }
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|a, b| (*a - *b).abs() < 0.1);
    let every = lines.len().div_ceil(MOST_LINES).max(1);
    // The outermost are kept, whatever is passed over.
    let last = lines.len().saturating_sub(1);
    let kept = lines.iter().enumerate().filter(|(k, _)| k % every == 0 || *k == last);
    kept.map(|(_, line)| *line).collect()
}

/// Distance of a rectangle, taken as full, from a straight piece.
fn distance([lo, hi]: [DVec2; 2], chord: [DVec2; 2]) -> f64 {
    let corners = [lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
    let is_in = |p: DVec2| lo.cmple(p).all() && p.cmple(hi).all();
    if chord.into_iter().any(is_in) {
        return 0.0;
    }
    let sides = (0..4).map(|k| [corners[k], corners[(k + 1) % 4]]);
    sides.map(|side| between(side, chord)).fold(f64::INFINITY, f64::min)
}

/// Distance of two straight pieces.
fn between(a: [DVec2; 2], b: [DVec2; 2]) -> f64 {
    let side = |[from, to]: [DVec2; 2], p: DVec2| (to - from).perp_dot(p - from);
    let crosses = |a: [DVec2; 2], b: [DVec2; 2]| side(a, b[0]) * side(a, b[1]) < 0.0;
    if crosses(a, b) && crosses(b, a) {
        return 0.0;
    }
    let from = |p: DVec2, [start, end]: [DVec2; 2]| {
        let along = end - start;
        let share = (p - start).dot(along) / along.length_squared().max(f64::MIN_POSITIVE);
        p.distance(start + along * share.clamp(0.0, 1.0))
    };
    [from(a[0], b), from(a[1], b), from(b[0], a), from(b[1], a)]
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use glam::dvec2;

    use super::*;

    fn check(rect: [DVec2; 2], lo: DVec2, hi: DVec2) {
        assert!(rect[0].distance(lo) < 0.1 && rect[1].distance(hi) < 0.1, "{rect:?}");
    }

    #[test]
    fn round_corners_are_in_the_gap_when_it_is_as_wide() {
        let opening = Contour::rounded_rectangle(dvec2(10., 10.), dvec2(210., 110.), 15.);
        check(largest(&opening, 17.)[0], dvec2(27., 27.), dvec2(193., 93.));
    }

    #[test]
    fn the_square_in_a_circle_has_its_corners_on_it() {
        let opening = Contour::circle(dvec2(0., 0.), 100.);
        let side = 90. * 0.5_f64.sqrt();
        check(largest(&opening, 10.)[0], dvec2(-side, -side), dvec2(side, side));
    }

    #[test]
    fn an_l_has_a_rectangle_in_each_leg() {
        let corners = [(0., 0.), (200., 0.), (200., 50.), (60., 50.), (60., 150.), (0., 150.)];
        let opening = Contour::polygon(&corners.map(|(x, y)| dvec2(x, y)));
        let rects = largest(&opening, 5.);
        check(rects[0], dvec2(5., 5.), dvec2(195., 45.));
        check(rects[1], dvec2(5., 5.), dvec2(55., 145.));
    }

    #[test]
    fn a_tongue_into_the_opening_is_kept_clear_of() {
        let mut opening = Contour::rectangle(dvec2(0., 0.), dvec2(200., 100.));
        let tongue = Segment::arc(dvec2(200., 50.), dvec2(200., 20.), -std::f64::consts::PI);
        opening.0[1] = Segment::line(dvec2(200., 0.), tongue.start);
        opening.0.insert(2, tongue);
        opening.0.insert(3, Segment::line(tongue.end, dvec2(200., 100.)));
        check(largest(&opening, 5.)[0], dvec2(5., 5.), dvec2(165., 95.));
    }
}

//! Contours to the polylines of the offsetting library and back: there an arc is the tangent of a quarter of its angle.

use std::f64::consts::PI;

use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
use glam::{DVec2, dvec2};
use plate::{Arc, Contour, Segment};

use super::NoPath;

/// Points closer than this are one to the library, mm.
const SAME_POINT_MM: f64 = 1e-5;
/// Arcs whose centres and radii differ by less are of one circle, mm.
const SAME_CIRCLE_MM: f64 = 1e-4;
/// Pieces that bulge by less than this share of their chord are straight.
const STRAIGHT: f64 = 1e-9;

/// A contour as a closed polyline.
///
/// # Errors
/// When it crosses itself: the library would give nonsense without a word.
pub(super) fn to_pline(contour: &Contour) -> Result<Polyline<f64>, NoPath> {
    let mut pline = Polyline::new_closed();
    for piece in &contour.0 {
        let Some(arc) = piece.arc else {
            pline.add(piece.start.x, piece.start.y, 0.0);
            continue;
        };
        // At most a half circle each, with a hair for rounding.
        let parts = if arc.sweep.abs() > PI + 1e-9 { 2 } else { 1 };
        let bulge = libm::tan(0.25 * arc.sweep / f64::from(parts)).clamp(-1.0, 1.0);
        for part in 0..parts {
            let start = piece.point_at(f64::from(part) / f64::from(parts));
            pline.add(start.x, start.y, bulge);
        }
    }
    let pline = pline.remove_repeat_pos(SAME_POINT_MM).unwrap_or(pline);
    if pline.scan_for_self_intersect() { Err(NoPath::Crosses) } else { Ok(pline) }
}

/// A closed polyline as a contour: arcs that were split are one again, and a circle is a circle. `None` when nothing
/// is left of it.
pub(super) fn to_contour(pline: &Polyline<f64>) -> Option<Contour> {
    let cleaned = pline.remove_repeat_pos(SAME_POINT_MM);
    let pline = cleaned.as_ref().unwrap_or(pline);
    let n = pline.vertex_count();
    if n < 2 {
        return None;
    }
    let pieces: Vec<Segment> = (0..n)
        .map(|i| {
            let (a, b) = (pline.at(i), pline.at((i + 1) % n));
            piece(dvec2(a.x, a.y), dvec2(b.x, b.y), a.bulge)
        })
        .collect();
    Some(joined(pieces))
}

fn piece(start: DVec2, end: DVec2, bulge: f64) -> Segment {
    if bulge.abs() < STRAIGHT {
        return Segment::line(start, end);
    }
    // The centre stands on the chord's bisector, to its left for an arc of less than a half circle that turns left.
    let out = (end - start).perp() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let centre = 0.5 * (start + end) + out;
    Segment { start, end, arc: Some(Arc { centre, sweep: 4.0 * libm::atan(bulge) }) }
}

/// Joins neighbouring arcs of one circle, around the start too.
fn joined(pieces: Vec<Segment>) -> Contour {
    if let Some(circle) = whole_circle(&pieces) {
        return circle;
    }
    let n = pieces.len();
    // Begin where one ends for sure.
    let first = (0..n).find(|&i| !is_one_circle(&pieces[(i + n - 1) % n], &pieces[i])).unwrap_or(0);
    let mut out: Vec<Segment> = Vec::with_capacity(n);
    for k in 0..n {
        let next = pieces[(first + k) % n];
        match out.last_mut() {
            Some(last) if is_one_circle(last, &next) => *last = both(last, &next),
            _ => out.push(next),
        }
    }
    Contour(out)
}

fn is_one_circle(a: &Segment, b: &Segment) -> bool {
    let (Some(one), Some(other)) = (a.arc, b.arc) else { return false };
    let radii = [a, b].map(|s| s.start.distance(s.arc.map_or(s.start, |arc| arc.centre)));
    let sweep = one.sweep + other.sweep;
    one.centre.distance(other.centre) < SAME_CIRCLE_MM
        && (radii[0] - radii[1]).abs() < SAME_CIRCLE_MM
        && one.sweep.signum() * other.sweep.signum() > 0.0
        && sweep.abs() < 2.0 * PI - 1e-6
}

/// Two arcs as one; its centre is moved on the bisector of the new chord, so that both ends are equally far from it.
fn both(a: &Segment, b: &Segment) -> Segment {
    let (Some(one), Some(other)) = (a.arc, b.arc) else { return *a };
    let middle = 0.5 * (a.start + b.end);
    let along = (b.end - a.start).normalize_or_zero();
    let centre = one.centre - along * (one.centre - middle).dot(along);
    let sweep = one.sweep + other.sweep;
    Segment { start: a.start, end: b.end, arc: Some(Arc { centre, sweep }) }
}

fn whole_circle(pieces: &[Segment]) -> Option<Contour> {
    let first = pieces.first()?;
    let (centre, radius) = (first.arc?.centre, first.radius()?);
    let mut sweep = 0.0;
    for piece in pieces {
        let arc = piece.arc?;
        let is_same = arc.centre.distance(centre) < SAME_CIRCLE_MM
            && (piece.start.distance(arc.centre) - radius).abs() < SAME_CIRCLE_MM;
        if !is_same {
            return None;
        }
        sweep += arc.sweep;
    }
    if (sweep.abs() - 2.0 * PI).abs() > 1e-6 {
        return None;
    }
    let circle = Contour::circle(centre, radius);
    Some(if sweep < 0.0 { circle.reversed() } else { circle })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_contour_comes_back_as_it_was() {
        let corners = [(0., 0.), (40., 0.), (40., 20.), (20., 20.), (20., 40.), (0., 40.)];
        let corners = corners.map(|(x, y)| (dvec2(x, y), 3.0));
        let shapes = [
            Contour::rounded_polygon(&corners),
            Contour::slot(dvec2(1.0, 2.0), dvec2(9.0, 5.0), 2.0),
            Contour(vec![
                Segment::arc(dvec2(0.0, 0.0), dvec2(5.0, 0.0), 1.5 * PI),
                Segment::line(dvec2(0.0, -5.0), dvec2(5.0, 0.0)),
            ]),
        ];
        for shape in shapes {
            let back = to_contour(&to_pline(&shape).unwrap()).unwrap();
            assert_eq!(back.0.len(), shape.0.len());
            assert!((back.signed_area() - shape.signed_area()).abs() < 1e-9);
            assert!((back.length() - shape.length()).abs() < 1e-9);
        }
    }

    #[test]
    fn a_circle_comes_back_as_a_circle_the_same_way_round() {
        for circle in [
            Contour::circle(dvec2(3.0, 4.0), 5.0),
            Contour::circle(dvec2(3.0, 4.0), 5.0).reversed(),
        ] {
            let back = to_contour(&to_pline(&circle).unwrap()).unwrap();
            let (centre, radius) = back.as_circle().expect("a circle");
            assert!(centre.distance(dvec2(3.0, 4.0)) < 1e-12 && (radius - 5.0).abs() < 1e-12);
            assert!((back.signed_area() - circle.signed_area()).abs() < 1e-9);
        }
    }

    #[test]
    fn what_crosses_itself_is_refused() {
        let corners = [(0., 0.), (10., 10.), (10., 0.), (0., 10.)].map(|(x, y)| dvec2(x, y));
        assert!(matches!(to_pline(&Contour::polygon(&corners)), Err(NoPath::Crosses)));
    }
}

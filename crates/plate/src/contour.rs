//! Closed contours of straight and round pieces, and the shapes that panels are made of.

use std::f64::consts::TAU;

use glam::DVec2;

use crate::segment::{Arc, Segment};

/// A closed contour: each piece starts where the one before it ends, the first where the last ends.
///
/// The functions here only write contours down. Whether one closes and does not cross itself is
/// checked by [`arrange`](crate::arrange), which names what is wrong and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour(pub Vec<Segment>);

impl Contour {
    /// Straight lines from corner to corner and back to the first.
    pub fn polygon(corners: &[DVec2]) -> Self {
        let next = corners.iter().cycle().skip(1);
        Self(corners.iter().zip(next).map(|(&a, &b)| Segment::line(a, b)).collect())
    }

    /// The rectangle between its lower left and upper right corner, counter-clockwise.
    pub fn rectangle(lo: DVec2, hi: DVec2) -> Self {
        Self::polygon(&[lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)])
    }

    /// A rectangle whose corners are arcs of this radius (mm); at half the shorter side its ends
    /// are half circles, and a square is a circle in four arcs.
    ///
    /// A radius larger than that gives a contour that crosses itself and is refused by
    /// [`arrange`](crate::arrange).
    pub fn rounded_rectangle(lo: DVec2, hi: DVec2, radius: f64) -> Self {
        let corners = [lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
        Self::rounded_polygon(&corners.map(|corner| (corner, radius)))
    }

    /// A polygon whose corners are arcs tangent to both sides: corner and radius (mm) each, 0 for
    /// a sharp one.
    ///
    /// A radius that its sides are too short for gives a contour that crosses itself and is
    /// refused by [`arrange`](crate::arrange). Corners without a bend stay sharp.
    pub fn rounded_polygon(corners: &[(DVec2, f64)]) -> Self {
        let n = corners.len();
        let bends: Vec<Bend> = (0..n)
            .map(|i| Bend::new(corners[(i + n - 1) % n].0, corners[i], corners[(i + 1) % n].0))
            .collect();
        let mut pieces = Vec::with_capacity(2 * n);
        for (i, bend) in bends.iter().enumerate() {
            if let Some(arc) = bend.arc {
                pieces.push(Segment { start: bend.start, end: bend.end, arc: Some(arc) });
            }
            pieces.push(Segment::line(bend.end, bends[(i + 1) % n].start));
        }
        without_empty_lines(pieces)
    }

    /// A circle, written as two half arcs: an edge needs two different ends.
    pub fn circle(centre: DVec2, radius: f64) -> Self {
        let (east, west) = (centre + DVec2::X * radius, centre - DVec2::X * radius);
        Self(vec![
            Segment::half_circle(centre, east, west),
            Segment::half_circle(centre, west, east),
        ])
    }

    /// All points within `radius` of the straight line from `a` to `b`, which must differ.
    pub fn slot(a: DVec2, b: DVec2, radius: f64) -> Self {
        let side = (b - a).normalize().perp() * radius;
        Self(vec![
            Segment::line(a - side, b - side),
            Segment::half_circle(b, b - side, b + side),
            Segment::line(b + side, a + side),
            Segment::half_circle(a, a + side, a - side),
        ])
    }

    /// Centre and radius, if the contour is one whole circle, however many arcs it is written in.
    pub fn as_circle(&self) -> Option<(DVec2, f64)> {
        let (centre, radius) = self.0.first().and_then(|s| Some((s.arc?.centre, s.radius()?)))?;
        let mut sweep = 0.0;
        for piece in &self.0 {
            let arc = piece.arc?;
            let same_circle = arc.centre.distance(centre) <= SAME_CIRCLE_MM
                && (piece.start.distance(centre) - radius).abs() <= SAME_CIRCLE_MM;
            if !same_circle {
                return None;
            }
            sweep += arc.sweep;
        }
        ((sweep.abs() - TAU).abs() < 1e-9).then_some((centre, radius))
    }

    /// Enclosed area in mm²; negative if the contour runs clockwise.
    pub fn signed_area(&self) -> f64 {
        let origin = self.0.first().map_or(DVec2::ZERO, |s| s.start);
        0.5 * self.0.iter().map(|s| s.double_area(origin)).sum::<f64>()
    }

    /// Length of the contour in mm.
    pub fn length(&self) -> f64 {
        self.0.iter().map(Segment::length).sum()
    }

    /// Lower left and upper right corner of its bounding box; `None` if it has no pieces.
    pub fn bounds(&self) -> Option<[DVec2; 2]> {
        let boxes = self.0.iter().map(Segment::bounds);
        boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
    }

    /// The same contour run the other way.
    pub fn reversed(&self) -> Self {
        Self(self.0.iter().rev().map(|s| s.reversed()).collect())
    }

    /// Every point through `move_point`, a rigid motion; `mirrors` says whether it turns left into
    /// right.
    pub fn moved(&self, move_point: impl Fn(DVec2) -> DVec2, mirrors: bool) -> Self {
        let sign = if mirrors { -1.0 } else { 1.0 };
        let segment = |s: &Segment| Segment {
            start: move_point(s.start),
            end: move_point(s.end),
            arc: s.arc.map(|a| Arc { centre: move_point(a.centre), sweep: sign * a.sweep }),
        };
        Self(self.0.iter().map(segment).collect())
    }

    /// Times the contour goes round `p`, which must not lie on it; counter-clockwise positive.
    ///
    /// The polygon of chords is wound by counting; each arc then adds the region between itself
    /// and its chord. Both ask `is_left`, so a point on a chord is counted once.
    pub fn winding(&self, p: DVec2) -> i32 {
        winding(&self.0, p)
    }
}

/// Arcs whose centres and radii differ by less belong to one circle: a few times the distance at
/// which the arrangement lets two points be one.
const SAME_CIRCLE_MM: f64 = 4e-6;

/// See [`Contour::winding`].
pub(crate) fn winding(segments: &[Segment], p: DVec2) -> i32 {
    let mut turns = 0;
    for s in segments {
        let left = is_left(s.start, s.end, p);
        if s.start.y <= p.y && p.y < s.end.y && left {
            turns += 1;
        }
        if s.end.y <= p.y && p.y < s.start.y && !left {
            turns -= 1;
        }
        if let (Some(arc), Some(r)) = (s.arc, s.radius()) {
            let bulges_here = left != (arc.sweep > 0.0);
            if bulges_here && p.distance_squared(arc.centre) < r * r {
                turns += if arc.sweep > 0.0 { 1 } else { -1 };
            }
        }
    }
    turns
}

/// Whether `p` lies left of the line from `a` to `b`; a tie is broken as if `p` lay a hair higher,
/// then right.
fn is_left(a: DVec2, b: DVec2, p: DVec2) -> bool {
    let side = (b - a).perp_dot(p - a);
    side > 0.0 || (side == 0.0 && (b.x > a.x || (b.x - a.x == 0.0 && b.y < a.y)))
}

/// A corner of a polygon with its rounding: the arc from `start` to `end`, or a sharp corner.
struct Bend {
    start: DVec2,
    end: DVec2,
    arc: Option<Arc>,
}

impl Bend {
    fn new(before: DVec2, (corner, radius): (DVec2, f64), after: DVec2) -> Self {
        let (back, forth) = ((before - corner).normalize(), (after - corner).normalize());
        // Half the angle between the sides; the tangent points lie radius / tan(half) from the corner.
        let inside = libm::atan2(back.perp_dot(forth).abs(), back.dot(forth));
        let turns_left = (-back).perp_dot(forth) > 0.0;
        let bend = std::f64::consts::PI - inside;
        if radius == 0.0 || bend < 1e-9 {
            return Self { start: corner, end: corner, arc: None };
        }
        let reach = radius / libm::tan(0.5 * inside);
        let centre = corner + (back + forth).normalize() * (radius / libm::sin(0.5 * inside));
        let sweep = if turns_left { bend } else { -bend };
        Self {
            start: corner + back * reach,
            end: corner + forth * reach,
            arc: Some(Arc { centre, sweep }),
        }
    }
}

/// Drops lines that two arcs which meet leave no room for, and closes what they leave.
fn without_empty_lines(pieces: Vec<Segment>) -> Contour {
    let is_empty = |s: &Segment| s.arc.is_none() && s.start.distance(s.end) < 1e-9;
    let mut kept: Vec<Segment> = pieces.into_iter().filter(|s| !is_empty(s)).collect();
    for i in 0..kept.len() {
        kept[i].end = kept[(i + 1) % kept.len()].start;
    }
    Contour(kept)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use std::f64::consts::PI;

    #[test]
    fn rounding_the_corners_takes_four_minus_pi_of_the_squared_radius() {
        let plain = Contour::rounded_rectangle(dvec2(1.0, 2.0), dvec2(31.0, 22.0), 4.0);
        assert_eq!(plain.0.len(), 8);
        assert!((plain.signed_area() - (600.0 - (4.0 - PI) * 16.0)).abs() < 1e-9);
        assert!((plain.length() - (2.0 * (22.0 + 12.0) + TAU * 4.0)).abs() < 1e-9);
    }

    #[test]
    fn the_largest_radius_leaves_half_circles_and_none_leaves_the_rectangle() {
        let (lo, hi) = (dvec2(0.0, 0.0), dvec2(30.0, 20.0));
        let stadium = Contour::rounded_rectangle(lo, hi, 10.0);
        assert_eq!(stadium.0.len(), 6);
        assert!((stadium.signed_area() - (200.0 + 100.0 * PI)).abs() < 1e-9);
        assert_eq!(Contour::rounded_rectangle(lo, hi, 0.0), Contour::rectangle(lo, hi));
        let round = Contour::rounded_rectangle(lo, dvec2(20.0, 20.0), 10.0);
        let (centre, radius) = round.as_circle().expect("four quarter circles");
        assert!(centre.distance(dvec2(10.0, 10.0)) < 1e-9 && (radius - 10.0).abs() < 1e-9);
    }

    #[test]
    fn rounded_corners_bend_outwards_and_inwards() {
        let corners = [(0., 0.), (40., 0.), (40., 20.), (20., 20.), (20., 40.), (0., 40.)];
        let rounded = Contour::rounded_polygon(&corners.map(|(x, y)| (dvec2(x, y), 3.0)));
        // Five outer corners lose, the inner one gains (1 − π/4) r².
        assert!((rounded.signed_area() - (1200.0 - 4.0 * (1.0 - 0.25 * PI) * 9.0)).abs() < 1e-9);
        for pair in rounded.0.windows(2) {
            assert_eq!(pair[0].end, pair[1].start);
        }
        assert_eq!(rounded.0.iter().filter(|s| s.arc.is_some_and(|a| a.sweep < 0.0)).count(), 1);
    }

    #[test]
    fn only_whole_circles_are_circles() {
        assert!(Contour::circle(dvec2(3.0, 4.0), 2.0).as_circle().is_some());
        assert!(Contour::circle(dvec2(3.0, 4.0), 2.0).reversed().as_circle().is_some());
        assert!(Contour::slot(dvec2(0.0, 0.0), dvec2(1.0, 0.0), 2.0).as_circle().is_none());
        assert!(Contour::rectangle(dvec2(0.0, 0.0), dvec2(1.0, 1.0)).as_circle().is_none());
        assert!(Contour(vec![]).as_circle().is_none());
    }

    #[test]
    fn winding_counts_turns_also_level_with_corners() {
        let circle = Contour::circle(dvec2(10.0, 0.0), 5.0);
        for (p, turns) in [((10.0, 0.0), 1), ((14.9, 0.0), 1), ((4.9, 0.0), 0), ((10.0, -4.9), 1)] {
            assert_eq!(circle.winding(p.into()), turns, "{p:?}");
            assert_eq!(circle.reversed().winding(p.into()), -turns, "{p:?}");
        }
    }
}

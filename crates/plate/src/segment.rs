//! One straight or round piece of a contour.

use std::f64::consts::{PI, TAU};

use glam::DVec2;

use crate::moments::minus_its_sine;

/// One piece of a contour, from `start` to `end` (mm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Where it begins.
    pub start: DVec2,
    /// Where it ends; never the start.
    pub end: DVec2,
    /// What makes it round; `None`: it is straight.
    pub arc: Option<Arc>,
}

/// What makes a segment an arc of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of the circle (mm). Both ends of the segment are equally far from it.
    pub centre: DVec2,
    /// Angle turned from start to end (rad), counter-clockwise positive, `0 < |sweep| < 2π`.
    pub sweep: f64,
}

impl Segment {
    /// The straight piece between two points.
    pub const fn line(start: DVec2, end: DVec2) -> Self {
        Self { start, end, arc: None }
    }

    /// The arc about `centre` from `start`, turning by `sweep` (rad); its end follows.
    pub fn arc(centre: DVec2, start: DVec2, sweep: f64) -> Self {
        let end = centre + DVec2::from_angle(sweep).rotate(start - centre);
        Self { start, end, arc: Some(Arc { centre, sweep }) }
    }

    /// The half circle about `centre` between two opposite points of it, counter-clockwise.
    ///
    /// Its ends are taken as given, so they keep the digits of the pieces next to it.
    pub(crate) const fn half_circle(centre: DVec2, start: DVec2, end: DVec2) -> Self {
        Self { start, end, arc: Some(Arc { centre, sweep: PI }) }
    }

    /// The same piece from its end to its start.
    pub fn reversed(self) -> Self {
        let arc = self.arc.map(|a| Arc { sweep: -a.sweep, ..a });
        Self { start: self.end, end: self.start, arc }
    }

    /// Radius in mm; `None` for a straight piece.
    pub fn radius(&self) -> Option<f64> {
        self.arc.map(|a| self.start.distance(a.centre))
    }

    /// Length along the piece in mm.
    pub fn length(&self) -> f64 {
        match self.arc {
            None => self.start.distance(self.end),
            Some(arc) => self.start.distance(arc.centre) * arc.sweep.abs(),
        }
    }

    /// The point halfway along.
    pub fn midpoint(&self) -> DVec2 {
        self.point_at(0.5)
    }

    /// The point a share `t` of the way along: the start at 0, the end at 1.
    pub fn point_at(&self, t: f64) -> DVec2 {
        match self.arc {
            None => self.start.lerp(self.end, t),
            Some(arc) => {
                arc.centre + DVec2::from_angle(t * arc.sweep).rotate(self.start - arc.centre)
            }
        }
    }

    /// Where along the piece `p` lies: 0 at the start, 1 at the end, outside `0..=1` beyond them.
    pub fn parameter(&self, p: DVec2) -> f64 {
        match self.arc {
            None => {
                let along = self.end - self.start;
                (p - self.start).dot(along) / along.length_squared()
            }
            Some(arc) => {
                let turned = turn(self.start - arc.centre, p - arc.centre) * arc.sweep.signum();
                let turned = if turned < 0.0 { turned + TAU } else { turned };
                // Halfway round the missing part, "after the end" becomes "before the start".
                let before_start = turned > 0.5 * (arc.sweep.abs() + TAU);
                (if before_start { turned - TAU } else { turned }) / arc.sweep.abs()
            }
        }
    }

    /// Distance of `p` from the piece in mm.
    pub fn distance(&self, p: DVec2) -> f64 {
        let t = self.parameter(p);
        if !(0.0..=1.0).contains(&t) {
            return self.start.distance(p).min(self.end.distance(p));
        }
        match self.arc {
            None => (self.end - self.start).normalize().perp_dot(p - self.start).abs(),
            Some(arc) => (p.distance(arc.centre) - self.start.distance(arc.centre)).abs(),
        }
    }

    /// Twice the signed area between the piece and `origin` in mm²: the triangle over the chord and,
    /// for an arc, the circular segment beyond it, `r² (φ − sin φ)`.
    pub fn double_area(&self, origin: DVec2) -> f64 {
        let triangle = (self.start - origin).perp_dot(self.end - origin);
        let beyond_chord = self
            .arc
            .map_or(0.0, |arc| self.start.distance_squared(arc.centre) * minus_its_sine(arc.sweep));
        triangle + beyond_chord
    }

    /// Lower left and upper right corner of its bounding box.
    pub fn bounds(&self) -> [DVec2; 2] {
        let (mut lo, mut hi) = (self.start.min(self.end), self.start.max(self.end));
        if let (Some(arc), Some(r)) = (self.arc, self.radius()) {
            for axis in [DVec2::X, DVec2::Y, DVec2::NEG_X, DVec2::NEG_Y] {
                let extreme = arc.centre + r * axis;
                if (0.0..=1.0).contains(&self.parameter(extreme)) {
                    (lo, hi) = (lo.min(extreme), hi.max(extreme));
                }
            }
        }
        [lo, hi]
    }

    /// The same curve moved to new ends close to the old ones. An arc keeps its side and, as
    /// closely as it can, its centre; its ends lie on the new circle to rounding.
    ///
    /// The centre is projected on the bisector of the new chord: computing it from chord and sweep
    /// would move it by radius times the relative error of the chord.
    pub(crate) fn with_ends(&self, start: DVec2, end: DVec2) -> Self {
        let arc = self.arc.map(|arc| {
            let along = (end - start).normalize();
            let middle = 0.5 * (start + end);
            let centre = arc.centre - along * (arc.centre - middle).dot(along);
            let turned = turn(start - centre, end - centre);
            let turns = ((arc.sweep - turned) / TAU).round();
            Arc { centre, sweep: turned + turns * TAU }
        });
        Self { start, end, arc }
    }

    /// Direction (rad) in which the piece leaves a small circle of this radius about its start.
    ///
    /// Two pieces that leave their common start in the same direction have parted on that circle,
    /// so sorting by this angle orders tangent pieces too.
    pub fn heading(&self, radius: f64) -> f64 {
        match self.arc {
            None => (self.end - self.start).to_angle(),
            Some(arc) => {
                let spoke = self.start - arc.centre;
                let half = libm::asin((0.5 * radius / spoke.length()).min(1.0));
                spoke.to_angle() + (0.5 * PI + half) * arc.sweep.signum()
            }
        }
    }
}

/// Signed angle from `u` to `v` (rad).
///
/// `DVec2::angle_to` goes by the arc cosine: near 0 and π it errs by 1e-8.
fn turn(u: DVec2, v: DVec2) -> f64 {
    libm::atan2(u.perp_dot(v), u.dot(v))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn a_quarter_arc_has_the_length_area_and_box_of_a_quarter_circle() {
        let arc = Segment::arc(dvec2(3.0, 4.0), dvec2(5.0, 4.0), 0.5 * PI);
        assert!((arc.length() - PI).abs() < 1e-12);
        assert!((arc.double_area(dvec2(3.0, 4.0)) - 2.0 * PI).abs() < 1e-12);
        let [lo, hi] = arc.bounds();
        assert!(lo.distance(dvec2(3.0, 4.0)) < 1e-12 && hi.distance(dvec2(5.0, 6.0)) < 1e-12);
    }

    #[test]
    fn the_parameter_is_undone_by_the_point_and_negative_before_the_start() {
        for sweep in [-6.0, -PI, -0.1, 0.1, 2.0, 6.0] {
            let arc = Segment::arc(dvec2(1.0, -2.0), dvec2(4.0, 2.0), sweep);
            for t in [0.0, 0.25, 0.5, 1.0] {
                assert!((arc.parameter(arc.point_at(t)) - t).abs() < 1e-9, "{sweep} {t}");
            }
            assert!(arc.parameter(arc.point_at(-0.01)) < 0.0);
            assert!(arc.parameter(arc.point_at(1.01)) > 1.0);
        }
    }

    #[test]
    fn an_arc_stays_on_its_circle_when_its_ends_move_by_a_hair() {
        let arc = Segment::arc(dvec2(0.0, 0.0), dvec2(50.0, 0.0), 5.5);
        let moved = arc.with_ends(arc.start + dvec2(1e-7, 0.0), arc.end + dvec2(0.0, -1e-7));
        let centre = moved.arc.expect("still an arc").centre;
        assert!(centre.distance(DVec2::ZERO) < 2e-6);
        assert!((moved.start.distance(centre) - moved.end.distance(centre)).abs() < 1e-13);
        assert!((moved.arc.expect("still an arc").sweep - 5.5).abs() < 1e-7);
    }
}

//! Area and its first and second moments, exact for lines and arcs.

use std::ops::{AddAssign, SubAssign};

use glam::DVec2;

use crate::segment::Segment;

/// `∬ dA`, `∬ (x, y) dA` and `∬ (x², y², xy) dA` of a region about some origin.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Moments {
    /// mm²
    pub(crate) area: f64,
    /// mm³
    pub(crate) first: DVec2,
    /// `∬ x² dA`, mm⁴
    pub(crate) xx: f64,
    /// `∬ y² dA`, mm⁴
    pub(crate) yy: f64,
    /// `∬ xy dA`, mm⁴
    pub(crate) xy: f64,
}

impl Moments {
    /// Of the signed region between a piece and `origin`, about `origin`. Summed along a closed
    /// contour that is the region inside it (Green's theorem).
    ///
    /// It is the triangle over the chord and, for an arc, the circular segment beyond the chord.
    pub(crate) fn between(piece: &Segment, origin: DVec2) -> Self {
        let mut moments = Self::of_triangle(piece.start - origin, piece.end - origin);
        if let (Some(arc), Some(radius)) = (piece.arc, piece.radius()) {
            let axis = (piece.midpoint() - arc.centre) / radius;
            let beyond = Self::of_circular_segment(radius, 0.5 * arc.sweep.abs(), axis);
            let beyond = beyond.seen_from(origin - arc.centre);
            if arc.sweep > 0.0 { moments += beyond } else { moments -= beyond }
        }
        moments
    }

    /// The triangle from the origin to `p` to `q`, negative if that is clockwise.
    ///
    /// Second moments of a triangle with corners `0`, `p`, `q`:
    /// `∬ x² dA = A/6 (p² + pq + q²)`, `∬ xy dA = A/12 (2 pₓp_y + pₓq_y + p_y qₓ + 2 qₓq_y)`.
    fn of_triangle(p: DVec2, q: DVec2) -> Self {
        let area = 0.5 * p.perp_dot(q);
        let square = |p: f64, q: f64| area / 6.0 * (p * p + p * q + q * q);
        let product = 2.0 * (p.x * p.y + q.x * q.y) + p.x * q.y + p.y * q.x;
        Self {
            area,
            first: area / 3.0 * (p + q),
            xx: square(p.x, q.x),
            yy: square(p.y, q.y),
            xy: area / 12.0 * product,
        }
    }

    /// The part of a circle about the origin beyond a chord, `half` the angle (rad) it spans,
    /// `axis` the unit vector to its middle.
    ///
    /// With u along the axis and v across it, sector less triangle:
    /// `A = r² (α − sin α cos α)`, `∬ u dA = ⅔ r³ sin³ α`,
    /// `∬ u² dA = r⁴/4 (α − sin α cos α + 2 sin³ α cos α)`,
    /// `∬ v² dA = r⁴/4 (α − sin α cos α − ⅔ sin³ α cos α)`.
    fn of_circular_segment(r: f64, half: f64, axis: DVec2) -> Self {
        let (sin, cos) = (libm::sin(half), libm::cos(half));
        let (bulge, cube) = (0.5 * minus_its_sine(2.0 * half), sin * sin * sin);
        let (r2, r4) = (r * r, r * r * r * r);
        let uu = 0.25 * r4 * (bulge + 2.0 * cube * cos);
        let vv = 0.25 * r4 * (bulge - 2.0 / 3.0 * cube * cos);
        Self {
            area: r2 * bulge,
            first: axis * (2.0 / 3.0 * r2 * r * cube),
            xx: uu * axis.x * axis.x + vv * axis.y * axis.y,
            yy: uu * axis.y * axis.y + vv * axis.x * axis.x,
            xy: (uu - vv) * axis.x * axis.y,
        }
    }

    /// The same region with its coordinates taken from `origin`.
    pub(crate) fn seen_from(self, origin: DVec2) -> Self {
        let (o, s) = (origin, self.first);
        Self {
            area: self.area,
            first: s - self.area * o,
            xx: self.xx - 2.0 * o.x * s.x + self.area * o.x * o.x,
            yy: self.yy - 2.0 * o.y * s.y + self.area * o.y * o.y,
            xy: self.xy - o.x * s.y - o.y * s.x + self.area * o.x * o.y,
        }
    }
}

impl AddAssign for Moments {
    fn add_assign(&mut self, other: Self) {
        self.area += other.area;
        self.first += other.first;
        self.xx += other.xx;
        self.yy += other.yy;
        self.xy += other.xy;
    }
}

impl SubAssign for Moments {
    fn sub_assign(&mut self, other: Self) {
        self.area -= other.area;
        self.first -= other.first;
        self.xx -= other.xx;
        self.yy -= other.yy;
        self.xy -= other.xy;
    }
}

/// `x − sin x`, also for flat arcs, where the difference would lose its digits.
pub(crate) fn minus_its_sine(x: f64) -> f64 {
    if x.abs() > 0.5 {
        return x - libm::sin(x);
    }
    // x³/3! − x⁵/5! + …; six terms leave less than 1e-16 of the first at x = 0.5.
    let mut term = x * x * x / 6.0;
    let mut sum = term;
    for k in [20.0, 42.0, 72.0, 110.0, 156.0, 210.0] {
        term *= -x * x / k;
        sum += term;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sine_series_joins_the_plain_difference() {
        for x in [0.499_f64, 0.4, 0.3] {
            assert!((minus_its_sine(x) - (x - x.sin())).abs() < 1e-16);
            assert!((minus_its_sine(-x) + minus_its_sine(x)).abs() < 1e-18);
        }
        // 1e-5³/6, whose next term is smaller by 5e-12.
        assert!((minus_its_sine(1e-5) / (1e-15 / 6.0) - 1.0).abs() < 1e-11);
    }
}

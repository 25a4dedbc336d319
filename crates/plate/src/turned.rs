//! Bodies of revolution: pipes, rings, rods, cones.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};

use crate::check::FARTHEST_MM;

/// A body of revolution about its `z` axis (mm).
///
/// The profile is a closed polygon in the half plane of radius `r` (to the right) and height `z`
/// (up), counter-clockwise, `r ≥ 0`. An upright side turns into a cylinder, a level one into a flat
/// ring or disc, a sloped one into a cone; a side on the axis is no surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    /// Corners `(r, z)` of the profile.
    pub profile: Vec<DVec2>,
}

/// Why a profile cannot be turned into a body. `at` is `(r, z)` in mm.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TurnedError {
    /// Fewer than three corners.
    #[error("the profile has {count} corners; at least 3 are needed")]
    TooFewCorners {
        /// How many there are.
        count: usize,
    },
    /// A coordinate is infinite or not a number.
    #[error("corner {corner} of the profile is not a finite number")]
    NotFinite {
        /// Index of the corner.
        corner: usize,
    },
    /// A coordinate is too large to be told from its neighbours.
    #[error(
        "corner {corner} of the profile lies at {at}; coordinates up to {farthest_mm:.0e} mm are possible"
    )]
    TooFar {
        /// Index of the corner.
        corner: usize,
        /// The corner.
        at: DVec2,
        /// The limit.
        farthest_mm: f64,
    },
    /// A corner lies beyond the axis.
    #[error(
        "corner {corner} of the profile has the radius {radius_mm} mm; it must not be negative"
    )]
    BeyondAxis {
        /// Index of the corner.
        corner: usize,
        /// Its radius.
        radius_mm: f64,
    },
    /// A side, or the distance of a corner from the axis, is too short to be told from nothing.
    #[error(
        "the profile has a feature of {length_mm:.3e} mm at {at}; at least {least_mm:.0e} mm is needed"
    )]
    TooSmall {
        /// The place.
        at: DVec2,
        /// Its size.
        length_mm: f64,
        /// The least size.
        least_mm: f64,
    },
    /// The corners run clockwise, or enclose nothing.
    #[error(
        "the profile encloses {area_mm2} mm²; its corners must run counter-clockwise around an area"
    )]
    NotCounterClockwise {
        /// The signed area.
        area_mm2: f64,
    },
    /// Two sides cross, touch or come too close.
    #[error("the profile crosses or touches itself near {at}")]
    CrossesItself {
        /// The place.
        at: DVec2,
    },
    /// The profile touches the axis in a corner only, where the body would be pinched to a point.
    #[error(
        "the profile touches the axis at {at} without a side along it: the body would be pinched to a point"
    )]
    TouchesAxis {
        /// The place.
        at: DVec2,
    },
}

/// Sides shorter than this (mm), and sides or corners closer to each other or to the axis without
/// touching, are refused.
const LEAST_MM: f64 = 1e-4;

impl Turned {
    /// A solid cylinder standing on `z = 0`.
    pub fn cylinder(diameter: f64, height: f64) -> Self {
        let r = 0.5 * diameter;
        Self { profile: vec![dvec2(0., 0.), dvec2(r, 0.), dvec2(r, height), dvec2(0., height)] }
    }

    /// A round tube standing on `z = 0`.
    pub fn pipe(outer_diameter: f64, inner_diameter: f64, length: f64) -> Self {
        let (r, hole) = (0.5 * outer_diameter, 0.5 * inner_diameter);
        Self { profile: vec![dvec2(hole, 0.), dvec2(r, 0.), dvec2(r, length), dvec2(hole, length)] }
    }

    /// Volume in mm³, exact: `V = 2π ∬ r dr dz` over the profile (Pappus' second theorem), by
    /// Green's theorem `π ∮ r² dz`, side by side `π/3 (r₀² + r₀ r₁ + r₁²)(z₁ − z₀)`, the frustum of
    /// a cone.
    pub fn volume_mm3(&self) -> f64 {
        let frustum = |[p, q]: [DVec2; 2]| (p.x * p.x + p.x * q.x + q.x * q.x) * (q.y - p.y);
        PI / 3.0 * self.sides().map(frustum).sum::<f64>()
    }

    /// Sides of the profile, each from corner to corner, counter-clockwise.
    pub fn sides(&self) -> impl Iterator<Item = [DVec2; 2]> + '_ {
        let next = self.profile.iter().cycle().skip(1);
        self.profile.iter().zip(next).map(|(&p, &q)| [p, q])
    }

    /// Largest radius, lowest and highest `z` (mm); zeros for an empty profile.
    pub fn extent(&self) -> (f64, [f64; 2]) {
        let Some(&first) = self.profile.first() else { return (0.0, [0.0, 0.0]) };
        self.profile.iter().fold((first.x, [first.y; 2]), |(r, [lo, hi]), p| {
            (r.max(p.x), [lo.min(p.y), hi.max(p.y)])
        })
    }

    /// Whether the profile makes a closed body, or the first reason why not.
    pub fn check(&self) -> Result<(), TurnedError> {
        self.check_corners()?;
        self.check_sides_apart()?;
        let area_mm2 = 0.5 * self.sides().map(|[p, q]| p.perp_dot(q)).sum::<f64>();
        if area_mm2 < LEAST_MM * LEAST_MM {
            return Err(TurnedError::NotCounterClockwise { area_mm2 });
        }
        self.check_axis()
    }

    fn check_corners(&self) -> Result<(), TurnedError> {
        if self.profile.len() < 3 {
            return Err(TurnedError::TooFewCorners { count: self.profile.len() });
        }
        for (corner, p) in self.profile.iter().enumerate() {
            if !p.is_finite() {
                return Err(TurnedError::NotFinite { corner });
            }
            if p.abs().max_element() > FARTHEST_MM {
                return Err(TurnedError::TooFar { corner, at: *p, farthest_mm: FARTHEST_MM });
            }
            if p.x < 0.0 {
                return Err(TurnedError::BeyondAxis { corner, radius_mm: p.x });
            }
            if 0.0 < p.x && p.x < LEAST_MM {
                return Err(TurnedError::TooSmall { at: *p, length_mm: p.x, least_mm: LEAST_MM });
            }
        }
        for [p, q] in self.sides() {
            let length_mm = p.distance(q);
            if length_mm < LEAST_MM {
                return Err(TurnedError::TooSmall { at: p, length_mm, least_mm: LEAST_MM });
            }
        }
        Ok(())
    }

    /// Sides that are not neighbours stay apart; neighbours do not fold back on each other.
    fn check_sides_apart(&self) -> Result<(), TurnedError> {
        let sides: Vec<[DVec2; 2]> = self.sides().collect();
        let n = sides.len();
        for i in 0..n {
            let ([p, q], [_, next]) = (sides[i], sides[(i + 1) % n]);
            let (u, v) = ((q - p).normalize(), (next - q).normalize());
            if u.dot(v) < 0.0
                && u.perp_dot(v).abs() * p.distance(q).min(q.distance(next)) < LEAST_MM
            {
                return Err(TurnedError::CrossesItself { at: q });
            }
            for (j, &other) in sides.iter().enumerate().skip(i + 2) {
                if (j + 1) % n != i && distance_between(sides[i], other) < LEAST_MM {
                    return Err(TurnedError::CrossesItself { at: other[0] });
                }
            }
        }
        Ok(())
    }

    /// Every corner on the axis has a side along the axis.
    fn check_axis(&self) -> Result<(), TurnedError> {
        let n = self.profile.len();
        let on_axis = |i: usize| self.profile[i % n].x == 0.0;
        match (0..n).find(|&i| on_axis(i) && !on_axis(i + 1) && !on_axis(i + n - 1)) {
            Some(i) => Err(TurnedError::TouchesAxis { at: self.profile[i] }),
            None => Ok(()),
        }
    }
}

/// Distance between two straight sides; 0 if they cross.
fn distance_between([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> f64 {
    let apart = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| {
        (q - p).perp_dot(r - p) * (q - p).perp_dot(s - p) >= 0.0
    };
    if !apart(a, b, c, d) && !apart(c, d, a, b) {
        return 0.0;
    }
    let to_side = |p: DVec2, [s, e]: [DVec2; 2]| {
        let t = ((p - s).dot(e - s) / (e - s).length_squared()).clamp(0.0, 1.0);
        p.distance(s.lerp(e, t))
    };
    let ends = [to_side(a, [c, d]), to_side(b, [c, d]), to_side(c, [a, b]), to_side(d, [a, b])];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turned(profile: &[(f64, f64)]) -> Turned {
        Turned { profile: profile.iter().map(|&p| p.into()).collect() }
    }

    #[test]
    fn volumes_are_those_of_solid_geometry() {
        assert!((Turned::cylinder(20.0, 7.0).volume_mm3() - 700.0 * PI).abs() < 1e-9);
        assert!((Turned::pipe(20.0, 16.0, 50.0).volume_mm3() - 1800.0 * PI).abs() < 1e-9);
        let cone = turned(&[(0., 0.), (3., 0.), (0., 4.)]);
        assert!((cone.volume_mm3() - 12.0 * PI).abs() < 1e-9);
        // Pappus: a triangle of 6 mm² whose centroid turns on a radius of 11 mm.
        let ring = turned(&[(10., 0.), (13., 0.), (10., 4.)]);
        assert!((ring.volume_mm3() - 6.0 * 2.0 * PI * 11.0).abs() < 1e-9);
        for body in [Turned::cylinder(20.0, 7.0), Turned::pipe(20.0, 16.0, 50.0), cone, ring] {
            assert_eq!(body.check(), Ok(()));
        }
    }

    #[test]
    fn bad_profiles_are_refused_by_name() {
        #[track_caller]
        fn check(profile: &[(f64, f64)], words: &str) {
            let message = turned(profile).check().expect_err("refused").to_string();
            assert!(message.contains(words), "{message}");
        }
        check(&[(0., 0.), (1., 0.)], "2 corners");
        check(&[(0., 0.), (f64::NAN, 0.), (1., 1.)], "corner 1 of the profile is not a finite");
        check(&[(0., 0.), (2., 0.), (1., 2e6)], "corner 2 of the profile lies at [1, 2000000]");
        check(&[(0., 0.), (2., 0.), (-1., 1.)], "radius -1 mm");
        check(&[(5., 0.), (5., 4.), (9., 0.)], "counter-clockwise");
        check(&[(5., 0.), (9., 0.), (9., 1e-5), (5., 3.)], "1.000e-5 mm");
        check(&[(5., 0.), (9., 4.), (9., 0.), (5., 5.)], "crosses or touches itself");
        check(&[(5., 0.), (9., 0.), (7., 0.), (5., 4.)], "crosses or touches itself");
        check(&[(5., 0.), (9., 0.), (9., 4.), (7., 0.), (5., 4.)], "crosses or touches itself");
        check(&[(0., 0.), (4., -3.), (4., 3.)], "pinched to a point");
        check(&[(1e-5, 0.), (4., -3.), (4., 3.)], "1.000e-5 mm");
    }
}

//! Arcs of circles as cubic curves, for formats that have no arcs.

use std::f64::consts::FRAC_PI_4;

use glam::DVec2;

/// A cubic curve from where the one before it ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Curve {
    /// The two points that draw it towards them.
    pub(crate) controls: [DVec2; 2],
    /// Where it ends.
    pub(crate) end: DVec2,
}

/// An arc in equal curves of an eighth of a turn at most.
///
/// The arms of the control points are `4/3 tan(φ/4)` radii long, so that the curve's middle lies on the circle. Elsewhere
/// it lies outside by at most `2/27 sin⁶(φ/4) / cos²(φ/4)` radii: for `φ` = 45° 4.2e-6, or 0.001 mm on a circle of
/// 250 mm. Source: M. Goldapp, *Approximation of circular arcs by cubic polynomials*, Computer Aided Geometric Design 8
/// (1991) 227–238; the bound is stated from memory, and measured by the test.
pub(crate) fn curves(centre: DVec2, from: DVec2, sweep: f64) -> Vec<Curve> {
    let mut parts = 1_u32;
    while sweep.abs() > 1.000_001 * FRAC_PI_4 * f64::from(parts) && parts < 64 {
        parts += 1;
    }
    let angle = sweep / f64::from(parts);
    let arm = 4.0 / 3.0 * (0.25 * angle).tan();
    let spoke = |i: u32| DVec2::from_angle(angle * f64::from(i)).rotate(from - centre);
    let curve = |i: u32| {
        let (start, end) = (spoke(i), spoke(i + 1));
        let controls = [centre + start + arm * start.perp(), centre + end - arm * end.perp()];
        Curve { controls, end: centre + end }
    };
    (0..parts).map(curve).collect()
}

#[cfg(test)]
mod tests {
    use glam::dvec2;

    use super::*;

    #[test]
    fn curves_stay_as_near_to_the_circle_as_said_and_end_where_the_arc_ends() {
        for degrees in [-360.0_f64, -90.0, -10.0, 45.0, 46.0, 180.0, 270.0, 360.0] {
            let (centre, from, sweep) =
                (dvec2(3.0, -2.0), dvec2(103.0, -2.0), degrees.to_radians());
            let mut start = from;
            let mut worst = 0.0_f64;
            for Curve { controls: [a, b], end } in curves(centre, from, sweep) {
                for i in 0..=100 {
                    let t = f64::from(i) / 100.0;
                    let s = 1.0 - t;
                    let p = s * s * s * start
                        + 3.0 * s * s * t * a
                        + 3.0 * s * t * t * b
                        + t * t * t * end;
                    worst = worst.max((p.distance(centre) - 100.0).abs());
                }
                start = end;
            }
            assert!(worst < 4.3e-6 * 100.0, "{degrees}°: {worst}");
            if degrees.abs() >= 45.0 {
                assert!(worst > 1e-8 * 100.0, "{degrees}°: {worst}: measured nothing");
            }
            let end = centre + DVec2::from_angle(sweep).rotate(from - centre);
            assert!(start.distance(end) < 1e-9);
        }
    }
}

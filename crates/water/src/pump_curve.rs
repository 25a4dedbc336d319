//! What a pump delivers at a head, and through its line.

use serde::Serialize;
use thiserror::Error;

use crate::pipe_line::{PipeLine, rising_root};
use crate::table::Table;

/// Where a curve comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CurveBasis {
    /// Points of the maker's curve.
    Points,
    /// A parabola through greatest flow and greatest head: common practice where nothing else is known.
    Extremes,
}

/// Why a pump curve cannot be used.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum PumpCurveError {
    /// One point is no curve.
    #[error("a pump curve needs at least 2 points, not {0}")]
    TooFewPoints(usize),
    /// Flows must rise from point to point.
    #[error(
        "point {index} of the pump curve: flow {q_m3_s} m³/s does not exceed the one before, {before_m3_s}"
    )]
    FlowNotRising {
        /// Which point, from 1.
        index: usize,
        /// Its flow, m³/s.
        q_m3_s: f64,
        /// The flow before it, m³/s.
        before_m3_s: f64,
    },
    /// Heads must fall from point to point.
    #[error(
        "point {index} of the pump curve: head {head_m} m is not below the one before, {before_m}"
    )]
    HeadNotFalling {
        /// Which point, from 1.
        index: usize,
        /// Its head, m.
        head_m: f64,
        /// The head before it, m.
        before_m: f64,
    },
    /// A flow or head is negative or no number.
    #[error(
        "point {index} of the pump curve: {value} is neither a flow nor a head; give 0 or more"
    )]
    NotAValue {
        /// Which point, from 1.
        index: usize,
        /// What was given.
        value: f64,
    },
}

/// Head over flow of a pump: a monotone curve through its points, never beyond them.
///
/// Piecewise cubic with the slopes of Fritsch & Butland, *SIAM J. Sci. Stat. Comput.* 5 (1984) 300, as
/// in SciPy's `PchipInterpolator`. Past the greatest flow the head is 0; before the first point, if that
/// is not at 0, it is the first point's.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PumpCurve {
    /// Where it comes from.
    pub basis: CurveBasis,
    points: Vec<(f64, f64)>,
    #[serde(skip)]
    slopes: Vec<f64>,
}

impl PumpCurve {
    /// Curve through points of flow, m³/s, and head, m.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, PumpCurveError> {
        if points.len() < 2 {
            return Err(PumpCurveError::TooFewPoints(points.len()));
        }
        for (i, &(q, h)) in points.iter().enumerate() {
            for value in [q, h] {
                if !(value >= 0.0 && value.is_finite()) {
                    return Err(PumpCurveError::NotAValue { index: i + 1, value });
                }
            }
        }
        for (i, pair) in points.windows(2).enumerate() {
            let ((q0, h0), (q1, h1)) = (pair[0], pair[1]);
            if q1 <= q0 {
                return Err(PumpCurveError::FlowNotRising {
                    index: i + 2,
                    q_m3_s: q1,
                    before_m3_s: q0,
                });
            }
            if h1 >= h0 {
                return Err(PumpCurveError::HeadNotFalling {
                    index: i + 2,
                    head_m: h1,
                    before_m: h0,
                });
            }
        }
        let points = points.to_vec();
        let slopes = slopes(&points);
        Ok(Self { basis: CurveBasis::Points, points, slopes })
    }

    /// `H = H_max·(1 − (Q/Q_max)²)` from the two numbers printed on the box: common practice; real pumps
    /// lie some 20 % about it (our judgement).
    pub fn from_extremes(q_max_m3_s: f64, head_max_m: f64) -> Result<Self, PumpCurveError> {
        const POINTS: u32 = 32;
        let points: Vec<(f64, f64)> = (0..=POINTS)
            .map(|i| {
                let x = f64::from(i) / f64::from(POINTS);
                (q_max_m3_s * x, head_max_m * (1.0 - x * x))
            })
            .collect();
        Ok(Self { basis: CurveBasis::Extremes, ..Self::new(&points)? })
    }

    /// The same pump at another speed: flow in proportion, head by the square (affinity laws;
    /// ANSI/HI 14.3, ISO 9906 annex; from memory). Good from half to full speed (our judgement).
    /// A ratio above 0; a stopped pump is no pump, but a closed way.
    #[must_use]
    pub fn at_speed(&self, ratio: f64) -> Self {
        let points = self.points.iter().map(|&(q, h)| (q * ratio, h * ratio * ratio)).collect();
        let slopes = self.slopes.iter().map(|slope| slope * ratio).collect();
        Self { basis: self.basis, points, slopes }
    }

    /// Points of flow, m³/s, and head, m.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Greatest head, m.
    pub fn head_max_m(&self) -> f64 {
        self.points[0].1
    }

    /// Greatest flow, m³/s.
    pub fn q_max_m3_s(&self) -> f64 {
        self.points[self.points.len() - 1].0
    }

    /// Head at a flow, m.
    pub fn head(&self, q_m3_s: f64) -> f64 {
        self.head_and_slope(q_m3_s).0
    }

    /// Head at a flow, m, and its derivative, s/m².
    pub fn head_and_slope(&self, q_m3_s: f64) -> (f64, f64) {
        if q_m3_s > self.q_max_m3_s() {
            return (0.0, 0.0);
        }
        if q_m3_s < self.points[0].0 {
            return (self.points[0].1, 0.0);
        }
        let last = self.points.len() - 2;
        let i = self.points.partition_point(|&(q, _)| q <= q_m3_s).saturating_sub(1).min(last);
        let ((q0, h0), (q1, h1)) = (self.points[i], self.points[i + 1]);
        let width = q1 - q0;
        let t = (q_m3_s - q0) / width;
        let (m0, m1) = (self.slopes[i] * width, self.slopes[i + 1] * width);
        let rise = h1 - h0;
        let (c2, c3) = (3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise);
        (h0 + t * (m0 + t * (c2 + t * c3)), (m0 + t * (2.0 * c2 + 3.0 * t * c3)) / width)
    }

    /// Discharge when the water is lifted by `lift_m` through this line, m³/s: where the pump's head is
    /// the lift and the line's loss. 0 if the pump cannot lift so high.
    pub fn operating_point(&self, lift_m: f64, line: &PipeLine) -> f64 {
        if self.head_max_m() <= lift_m {
            return 0.0;
        }
        // The first point's head holds below it, so the balance falls from q = 0 on.
        let short_by = |q| {
            let ((h, dh), (loss, dloss)) = (self.head_and_slope(q), line.head_and_slope(q));
            (loss - h, dloss - dh)
        };
        let q_max = self.q_max_m3_s();
        if short_by(q_max).0 <= -lift_m {
            return q_max;
        }
        rising_root(short_by, -lift_m, q_max)
    }

    /// Discharge through this line over the height lifted, as a table of at least so many points.
    ///
    /// Points are doubled, up to a thousand, until the table is true to 0.1 % of the greatest flow
    /// at quarters between them: a curve with flat stretches needs more than a plain one.
    pub fn table(&self, line: &PipeLine, points: usize) -> PumpTable {
        const MOST_POINTS: usize = 1025;
        let mut points = points.max(2);
        loop {
            let table = self.table_of(line, points);
            let finer = 2 * points - 1;
            if finer > MOST_POINTS || self.is_true(&table, line, points) {
                return table;
            }
            points = finer;
        }
    }

    fn table_of(&self, line: &PipeLine, points: usize) -> PumpTable {
        let q_max = self.q_max_m3_s();
        let table = PumpTable::build(self.head_max_m(), points, |lift| {
            let q = self.operating_point(lift, line);
            if q >= q_max {
                return (q, 0.0);
            }
            let slope = self.head_and_slope(q).1 - line.head_and_slope(q).1;
            (q, 1.0 / slope)
        });
        PumpTable { curve_ends_at_lift_m: (self.head(q_max) - line.head(q_max)).max(0.0), ..table }
    }

    fn is_true(&self, table: &PumpTable, line: &PipeLine, points: usize) -> bool {
        let steps = 4 * (points - 1);
        (1..steps).filter(|i| i % 4 != 0).all(|i| {
            let u = i as f64 / steps as f64;
            let lift = self.head_max_m() * (1.0 - u * u);
            let exact = self.operating_point(lift, line);
            (table.at(lift).0 - exact).abs() <= 1e-3 * self.q_max_m3_s()
        })
    }
}

/// Discharge of a pump with its line over the height lifted.
///
/// Kept over the root of the head to spare: heads fall about as the square of the flow, so that curve
/// is nearly straight, down to where the pump stops lifting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PumpTable {
    lift_max_m: f64,
    /// Below this lift the pump would run past the end of its curve.
    curve_ends_at_lift_m: f64,
    flow: Table,
}

impl PumpTable {
    /// `f` gives, for a lift from 0 to `lift_max_m`, the discharge, m³/s, and its slope, m²/s; the
    /// discharge falls to 0 at `lift_max_m`.
    pub fn build(lift_max_m: f64, points: usize, f: impl Fn(f64) -> (f64, f64)) -> Self {
        let flow = Table::build(0.0, lift_max_m.max(1e-9).sqrt(), points, |u| {
            if u <= 0.0 {
                // Taken from just below the greatest lift: the slope by u is a limit there.
                let u = 1e-4 * lift_max_m.sqrt();
                return (0.0, f(lift_max_m - u * u).0 / u);
            }
            let (q, by_lift) = f((lift_max_m - u * u).max(0.0));
            (q, -2.0 * u * by_lift)
        });
        Self { lift_max_m, curve_ends_at_lift_m: 0.0, flow }
    }

    /// Lift at which nothing is delivered any more, m.
    pub fn lift_max_m(&self) -> f64 {
        self.lift_max_m
    }

    /// Lift below which the curve has no more points and its greatest flow is kept, m; 0 if there is none.
    pub fn curve_ends_at_lift_m(&self) -> f64 {
        self.curve_ends_at_lift_m
    }

    /// Discharge, m³/s, and its derivative by the lift, m²/s, never positive. Below lift 0 it is the one
    /// at 0: what a pump does when water runs through it by itself is not on its curve.
    #[inline]
    pub fn at(&self, lift_m: f64) -> (f64, f64) {
        if lift_m <= 0.0 {
            return (self.flow.at_head(self.lift_max_m).0, 0.0);
        }
        let (q, slope) = self.flow.at_head(self.lift_max_m - lift_m);
        (q, -slope)
    }
}

/// Slopes at the points: weighted harmonic means inside, three-point formula kept monotone at the ends.
fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let n = points.len();
    let width: Vec<f64> = points.windows(2).map(|p| p[1].0 - p[0].0).collect();
    let chord: Vec<f64> =
        points.windows(2).map(|p| (p[1].1 - p[0].1) / (p[1].0 - p[0].0)).collect();
    if n == 2 {
        return vec![chord[0]; 2];
    }
    let end = |h0: f64, h1: f64, m0: f64, m1: f64| {
        let slope = ((2.0 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);
        // All chords fall, so only the sign needs a guard.
        if slope * m0 <= 0.0 { 0.0 } else { slope }
    };
    let mut slopes = vec![end(width[0], width[1], chord[0], chord[1])];
    for i in 1..n - 1 {
        let (w1, w2) = (2.0 * width[i] + width[i - 1], width[i] + 2.0 * width[i - 1]);
        slopes.push((w1 + w2) / (w1 / chord[i - 1] + w2 / chord[i]));
    }
    slopes.push(end(width[n - 2], width[n - 3], chord[n - 2], chord[n - 3]));
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;

    const L_H: f64 = 1.0 / 3.6e6;

    fn curve() -> PumpCurve {
        let points = [(0.0, 5.0), (2e3, 4.6), (4e3, 3.9), (6e3, 2.8), (8e3, 1.2), (9e3, 0.0)];
        PumpCurve::new(&points.map(|(q, h)| (q * L_H, h))).unwrap()
    }

    fn line() -> PipeLine {
        PipeLine {
            bore_m: 0.0262,
            length_m: 2.5,
            loss_k: 4.0,
            roughness_m: 1.5e-6,
            viscosity_m2_s: 0.937_31e-6,
        }
    }

    #[test]
    fn passes_where_scipy_passes() {
        // SciPy 1.17.1, PchipInterpolator.
        for (q, h) in
            [(1e3, 4.83239), (3e3, 4.29331), (5e3, 3.40602), (7e3, 2.08249), (8.5e3, 0.64394)]
        {
            assert!((curve().head(q * L_H) - h).abs() < 6e-6, "{q}");
        }
        assert!(curve().head(9001.0 * L_H).abs() < 1e-300);
    }

    #[test]
    fn a_curve_that_bends_sharply_stays_falling() {
        // SciPy 1.17.1, PchipInterpolator, whose slope at 0 is 0 here.
        let curve = PumpCurve::new(&[(0.0, 12.0), (1.0, 11.0), (2.0, 1.0), (3.0, 0.0)]).unwrap();
        for (q, h) in
            [(0.5, 11.727272727272728), (1.5, 5.999999999999998), (2.5, 0.2727272727272727)]
        {
            assert!((curve.head(q) - h).abs() < 1e-12, "{q}: {}", curve.head(q));
        }
        assert!(curve.head_and_slope(0.0).1.abs() < 1e-300);
    }

    #[test]
    fn runs_where_an_independent_solver_says() {
        // Python, brentq on iterated Colebrook: pump, line and lift of a worked case.
        let q = curve().operating_point(1.135_753, &line());
        assert!((q / L_H - 5211.788).abs() < 0.01, "{}", q / L_H);
    }

    #[test]
    fn table_is_true_to_the_curve() {
        for curve in [curve(), PumpCurve::from_extremes(9e3 * L_H, 5.0).unwrap()] {
            let table = curve.table(&line(), 65);
            for i in 0..499_u32 {
                let lift = 0.01 * f64::from(i);
                let exact = curve.operating_point(lift, &line());
                let (q, slope) = table.at(lift);
                assert!((q - exact).abs() < 2e-4 * curve.q_max_m3_s(), "{lift}: {q} {exact}");
                assert!(slope <= 0.0);
            }
            assert!(table.at(5.0).0.abs() < 1e-300 && table.at(7.0).0.abs() < 1e-300);
        }
    }

    #[test]
    fn speed_follows_affinity() {
        let slow = curve().at_speed(0.5);
        assert!((slow.head(2e3 * L_H) - 0.25 * curve().head(4e3 * L_H)).abs() < 1e-12);
        assert!((slow.head_max_m() - 1.25).abs() < 1e-12);
    }

    #[test]
    fn wrong_curves_are_named() {
        let error = |points: &[(f64, f64)]| PumpCurve::new(points).unwrap_err();
        assert!(matches!(error(&[(0.0, 1.0)]), PumpCurveError::TooFewPoints(1)));
        assert!(matches!(
            error(&[(0.0, 2.0), (0.0, 1.0)]),
            PumpCurveError::FlowNotRising { index: 2, .. }
        ));
        assert!(matches!(
            error(&[(0.0, 2.0), (1.0, 2.0)]),
            PumpCurveError::HeadNotFalling { index: 2, .. }
        ));
        assert!(matches!(
            error(&[(0.0, f64::NAN), (1.0, 0.0)]),
            PumpCurveError::NotAValue { index: 1, .. }
        ));
    }
}

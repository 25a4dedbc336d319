//! A monotone curve through points with known slopes.

use std::sync::Arc;

use serde::Serialize;

/// Evenly spaced points of a curve with their slopes: cubic Hermite pieces, their slopes limited after
/// Fritsch & Carlson, *SIAM J. Numer. Anal.* 17 (1980) 238, so that the curve rises or falls where the
/// points do. A pipe's discharge from a head takes an iteration; a table takes one square root.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    x0: f64,
    step: f64,
    /// Value, and slope per step.
    nodes: Vec<(f64, f64)>,
}

impl Table {
    /// `f` gives value and slope; at least two points are taken from `x0` to `x1`, both included.
    pub fn build(x0: f64, x1: f64, points: usize, f: impl Fn(f64) -> (f64, f64)) -> Self {
        let n = points.max(2);
        let step = (x1 - x0) / (n - 1) as f64;
        let mut nodes: Vec<(f64, f64)> = (0..n)
            .map(|i| {
                let (y, slope) = f(x0 + step * i as f64);
                (y, slope * step)
            })
            .collect();
        for i in 0..n - 1 {
            let rise = nodes[i + 1].0 - nodes[i].0;
            for (_, slope) in &mut nodes[i..=i + 1] {
                if *slope * rise <= 0.0 {
                    *slope = 0.0;
                } else if slope.abs() > 3.0 * rise.abs() {
                    *slope = 3.0 * rise;
                }
            }
        }
        Self { x0, step, nodes }
    }

    /// From where to where it was made.
    pub fn range(&self) -> (f64, f64) {
        (self.x0, self.x0 + self.step * (self.nodes.len() - 1) as f64)
    }

    /// Value and slope; constant outside the range.
    #[inline]
    pub fn at(&self, x: f64) -> (f64, f64) {
        let t = (x - self.x0) / self.step;
        let last = self.nodes.len() - 1;
        if t < 0.0 {
            return (self.nodes[0].0, 0.0);
        }
        if t > last as f64 {
            return (self.nodes[last].0, 0.0);
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 ≤ t ≤ last")]
        let i = (t as usize).min(last - 1);
        let t = t - i as f64;
        let ((y0, m0), (y1, m1)) = (self.nodes[i], self.nodes[i + 1]);
        let rise = y1 - y0;
        let (c2, c3) = (3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise);
        (y0 + t * (m0 + t * (c2 + t * c3)), (m0 + t * (2.0 * c2 + 3.0 * t * c3)) / self.step)
    }

    /// For a table over √head: the value at a head, and its slope by the head. Nothing at and below
    /// head 0; past the last point it goes on straight in √head, as a pipe nearly does.
    #[inline]
    pub fn at_head(&self, head: f64) -> (f64, f64) {
        if head <= 0.0 {
            return (0.0, 0.0);
        }
        let u = head.sqrt();
        let end = self.x0 + self.step * (self.nodes.len() - 1) as f64;
        if u <= end {
            let (y, slope) = self.at(u);
            return (y, 0.5 * slope / u);
        }
        let (y, slope) = self.nodes[self.nodes.len() - 1];
        let slope = slope / self.step;
        (y + slope * (u - end), 0.5 * slope / u)
    }
}

/// Writes a shared table as if it were not shared.
pub(crate) fn shared<T: Serialize, S: serde::Serializer>(
    table: &Arc<T>,
    to: S,
) -> Result<S::Ok, S::Error> {
    table.as_ref().serialize(to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_its_points_and_keeps_its_direction() {
        let table = Table::build(0.0, 2.0, 9, |x| (x * x * x, 3.0 * x * x));
        let mut before = -1.0;
        for i in 0..=2000_u32 {
            let x = f64::from(i) * 1e-3;
            let (y, slope) = table.at(x);
            assert!(y >= before && slope >= 0.0, "at {x}");
            before = y;
        }
        for i in 0..9_u32 {
            let x = 0.25 * f64::from(i);
            assert!((table.at(x).0 - x * x * x).abs() < 1e-12);
        }
    }

    #[test]
    fn slopes_too_steep_for_the_points_are_limited() {
        let table = Table::build(0.0, 1.0, 5, |x| (x, 10.0));
        for i in 0..=1000_u32 {
            assert!(table.at(1e-3 * f64::from(i)).1 >= -1e-12);
        }
    }

    #[test]
    fn goes_on_straight_in_the_root_of_the_head() {
        let table = Table::build(0.0, 1.0, 5, |u| (2.0 * u, 2.0));
        assert!((table.at_head(4.0).0 - 4.0).abs() < 1e-12);
        assert!((table.at_head(0.25).0 - 1.0).abs() < 1e-12);
        assert!((table.at_head(4.0).1 - 0.5).abs() < 1e-12);
    }
}

//! Second derivatives at nodes from those at the points of Gauss, where they are best.

use crate::hermite::{GAUSS_2, shapes};

/// A second derivative at a node as a sum over values and slopes of up to three nodes side by side.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stencil {
    /// Node, factor of its deflection, factor of its slope.
    terms: [(usize, f64, f64); 3],
}

impl Stencil {
    /// `slope` is the offset of the slope along the line among the unknowns of a node.
    pub(crate) fn apply(&self, u: &[f64], slope: usize) -> f64 {
        let per_node = crate::assembly::PER_NODE;
        let term = |&(node, of_w, of_slope): &(usize, f64, f64)| {
            of_w * u[per_node * node] + of_slope * u[per_node * node + slope]
        };
        self.terms.iter().map(term).sum()
    }
}

/// The second derivative along a line at one of its nodes.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Second {
    /// No plate on either side.
    Nothing,
    /// One value.
    Smooth(Stencil),
    /// A support crosses here: the derivative has a kink, perhaps a jump.
    Kinked(Stencil, Stencil),
}

/// For all nodes of a line: `is_live(k)` says whether step `k` is plate, `is_kink(k)` whether nothing is smooth across
/// node `k`, `node(k)` which node it is.
pub(crate) fn seconds(
    places: &[f64],
    is_live: impl Fn(usize) -> bool,
    is_kink: impl Fn(usize) -> bool,
    node: impl Fn(usize) -> usize,
) -> Vec<Second> {
    let steps = places.len() - 1;
    let at = |k: usize, points: &[(usize, usize)]| stencil(places, k, points, &node);
    (0..=steps)
        .map(|k| {
            let before = || {
                let mut points = vec![(k - 1, 1), (k - 1, 0)];
                if k > 1 && is_live(k - 2) && !is_kink(k - 1) {
                    points.push((k - 2, 1));
                }
                at(k, &points)
            };
            let after = || {
                let mut points = vec![(k, 0), (k, 1)];
                if k + 1 < steps && is_live(k + 1) && !is_kink(k + 1) {
                    points.push((k + 1, 0));
                }
                at(k, &points)
            };
            match (k > 0 && is_live(k - 1), k < steps && is_live(k)) {
                (true, true) if is_kink(k) => Second::Kinked(before(), after()),
                (true, true) => Second::Smooth(at(k, &[(k - 1, 0), (k - 1, 1), (k, 0), (k, 1)])),
                (true, false) => Second::Smooth(before()),
                (false, true) => Second::Smooth(after()),
                (false, false) => Second::Nothing,
            }
        })
        .collect()
}

/// The polynomial through the values at some points of Gauss (step, which of its two), taken at node `k`.
fn stencil(
    places: &[f64],
    k: usize,
    points: &[(usize, usize)],
    node: &impl Fn(usize) -> usize,
) -> Stencil {
    let place = |&(step, which): &(usize, usize)| {
        places[step] + GAUSS_2[which] * (places[step + 1] - places[step])
    };
    let first = points.iter().map(|point| point.0).min().unwrap_or(0);
    let last = places.len() - 1;
    let mut terms = [0, 1, 2].map(|offset| (node((first + offset).min(last)), 0.0, 0.0));
    for (p, point) in points.iter().enumerate() {
        let others = points.iter().enumerate().filter(|(q, _)| *q != p);
        let weight: f64 = others
            .map(|(_, other)| (places[k] - place(other)) / (place(point) - place(other)))
            .product();
        let (step, which) = *point;
        let [w0, s0, w1, s1] = shapes(GAUSS_2[which], places[step + 1] - places[step])[2];
        let offset = step - first;
        terms[offset].1 += weight * w0;
        terms[offset].2 += weight * s0;
        terms[offset + 1].1 += weight * w1;
        terms[offset + 1].2 += weight * s1;
    }
    Stencil { terms }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn second_derivatives_of_a_cubic_are_exact_also_one_sided() {
        let places = [0.0, 0.1, 0.25, 0.3, 0.5];
        let mut u = vec![0.0; 20];
        for (k, x) in places.iter().enumerate() {
            u[4 * k] = x * x * x - 2.0 * x * x;
            u[4 * k + 1] = 3.0 * x * x - 4.0 * x;
        }
        for (k, second) in seconds(&places, |_| true, |k| k == 2, |k| k).iter().enumerate() {
            let want = 6.0 * places[k] - 4.0;
            let got = match second {
                Second::Smooth(stencil) => vec![stencil],
                Second::Kinked(before, after) => vec![before, after],
                Second::Nothing => vec![],
            };
            assert_eq!(got.len(), if k == 2 { 2 } else { 1 });
            for stencil in got {
                assert!((stencil.apply(&u, 1) - want).abs() < 1e-11, "{k}");
            }
        }
    }
}

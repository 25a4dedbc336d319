//! Lévy's solution, exact but for where its series is cut off: a plate hinged at x = 0 and x = a,
//! `w = Σ Y_m(y) sin(α_m x)` with `α_m = m π / a` and odd m, under a pressure `p0 + p1 y` (Timoshenko and Woinowsky-Krieger,
//! Theory of Plates and Shells, art. 29 to 48; numbers of articles from memory). Written for these tests alone; it shares no code with
//! the elements.

use std::f64::consts::PI;

/// What holds one of the two edges y = 0 and y = b.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Edge {
    Hinged,
    Clamped,
    /// Free but for a beam (EI, GJ) and springs (k, kr); all nought is free.
    Elastic {
        ei: f64,
        gj: f64,
        k: f64,
        kr: f64,
    },
}

pub(crate) const FREE: Edge = Edge::Elastic { ei: 0.0, gj: 0.0, k: 0.0, kr: 0.0 };

#[derive(Clone, Debug)]
pub(crate) struct Levy {
    b: f64,
    d: f64,
    nu: f64,
    /// α and, of Y, the polynomial's two and the four other coefficients.
    terms: Vec<(f64, [f64; 2], [f64; 4])>,
}

impl Levy {
    pub(crate) fn new(
        [a, b]: [f64; 2],
        d: f64,
        nu: f64,
        [low, high]: [Edge; 2],
        [p0, p1]: [f64; 2],
    ) -> Self {
        let terms = (0..100).map(|n| {
            let m = f64::from(2 * n + 1);
            let alpha = m * PI / a;
            let own = [p0, p1].map(|p| 4.0 * p / (m * PI * d * alpha.powi(4)));
            let mut rows = Vec::new();
            for (edge, y, out) in [(low, 0.0, -1.0), (high, b, 1.0)] {
                rows.extend(conditions(edge, alpha, b, y, out, d, nu, own));
            }
            (alpha, own, solve(rows))
        });
        Self { b, d, nu, terms: terms.collect() }
    }

    /// `Σ factor(α) Y⁽ⁿ⁾(y) sin(α x)`.
    fn sum(&self, x: f64, y: f64, order: usize, factor: impl Fn(f64) -> f64) -> f64 {
        let of = |(alpha, own, c): &(f64, [f64; 2], [f64; 4])| {
            factor(*alpha) * derivative(*alpha, self.b, y, order, own, c) * (alpha * x).sin()
        };
        self.terms.iter().map(of).sum()
    }

    pub(crate) fn w(&self, x: f64, y: f64) -> f64 {
        self.sum(x, y, 0, |_| 1.0)
    }

    pub(crate) fn m_x(&self, x: f64, y: f64) -> f64 {
        self.d * (self.sum(x, y, 0, |a| a * a) - self.nu * self.sum(x, y, 2, |_| 1.0))
    }

    pub(crate) fn m_y(&self, x: f64, y: f64) -> f64 {
        self.d * (self.nu * self.sum(x, y, 0, |a| a * a) - self.sum(x, y, 2, |_| 1.0))
    }

    pub(crate) fn m_xy(&self, x: f64, y: f64) -> f64 {
        let of = |(alpha, own, c): &(f64, [f64; 2], [f64; 4])| {
            alpha * derivative(*alpha, self.b, y, 1, own, c) * (alpha * x).cos()
        };
        -self.d * (1.0 - self.nu) * self.terms.iter().map(of).sum::<f64>()
    }

    /// Force per length with which the edge y = 0 holds the plate against the pressure.
    pub(crate) fn low_force(&self, x: f64) -> f64 {
        -self.shear(x, 0.0)
    }

    /// The same of the edge y = b.
    pub(crate) fn high_force(&self, x: f64) -> f64 {
        self.shear(x, self.b)
    }

    /// `D (w_yyy + (2 − ν) w_xxy)`.
    fn shear(&self, x: f64, y: f64) -> f64 {
        let of_slope = self.sum(x, y, 1, |a| (2.0 - self.nu) * a * a);
        self.d * (self.sum(x, y, 3, |_| 1.0) - of_slope)
    }

    /// Moment of a beam along y = b.
    pub(crate) fn beam(&self, x: f64, ei: f64) -> f64 {
        ei * self.sum(x, self.b, 0, |a| a * a)
    }
}

/// The four functions, each largest near one edge so that nothing overflows, and their derivatives.
fn functions(alpha: f64, b: f64, y: f64, order: usize) -> [f64; 4] {
    let n = f64::from(u32::try_from(order).expect("small"));
    let power = |base: f64| base.powi(i32::try_from(order).expect("small"));
    let (down, up) = ((-alpha * y).exp(), (-alpha * (b - y)).exp());
    // (s e^{−αs})⁽ⁿ⁾ = (−α)ⁿ (s − n/α) e^{−αs}; towards the other edge each derivative changes sign.
    [
        power(-alpha) * down,
        power(-alpha) * (y - n / alpha) * down,
        power(alpha) * up,
        power(alpha) * (b - y - n / alpha) * up,
    ]
}

fn derivative(alpha: f64, b: f64, y: f64, order: usize, own: &[f64; 2], c: &[f64; 4]) -> f64 {
    let polynomial = [own[0] + own[1] * y, own[1], 0.0, 0.0][order];
    polynomial + functions(alpha, b, y, order).iter().zip(c).map(|(f, c)| f * c).sum::<f64>()
}

/// Two rows of five: the four coefficients' factors and the right side. `out` is the direction out of the plate.
#[expect(clippy::too_many_arguments, reason = "the letters of one formula")]
fn conditions(
    edge: Edge,
    alpha: f64,
    b: f64,
    y: f64,
    out: f64,
    d: f64,
    nu: f64,
    own: [f64; 2],
) -> [[f64; 5]; 2] {
    // Y and its three derivatives as rows.
    let rows: [[f64; 5]; 4] = std::array::from_fn(|order| {
        let f = functions(alpha, b, y, order);
        let polynomial = [own[0] + own[1] * y, own[1], 0.0, 0.0][order];
        [f[0], f[1], f[2], f[3], -polynomial]
    });
    let mix = |factors: [f64; 4]| -> [f64; 5] {
        std::array::from_fn(|k| (0..4).map(|n| factors[n] * rows[n][k]).sum())
    };
    let a2 = alpha * alpha;
    match edge {
        Edge::Hinged => [rows[0], rows[2]],
        Edge::Clamped => [rows[0], rows[1]],
        Edge::Elastic { ei, gj, k, kr } => [
            // D (w_yy + ν w_xx) = −out (kr + GJ α²) w_y
            mix([-d * nu * a2, out * (kr + gj * a2), d, 0.0]),
            // D (w_yyy + (2 − ν) w_xxy) = out (EI α⁴ + k) w
            mix([-out * (ei * a2 * a2 + k), -d * (2.0 - nu) * a2, 0.0, d]),
        ],
    }
}

/// Gauss with the largest pivot of each column; rows are scaled first.
fn solve(mut rows: Vec<[f64; 5]>) -> [f64; 4] {
    for row in &mut rows {
        let most = row[..4].iter().fold(0.0_f64, |most, v| most.max(v.abs()));
        row.iter_mut().for_each(|v| *v /= most);
    }
    for column in 0..4 {
        let best = (column..4)
            .max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs()))
            .expect("four rows");
        rows.swap(column, best);
        for row in column + 1..4 {
            let factor = rows[row][column] / rows[column][column];
            let above = rows[column];
            rows[row].iter_mut().zip(above).for_each(|(v, a)| *v -= factor * a);
        }
    }
    let mut c = [0.0; 4];
    for row in (0..4).rev() {
        let known: f64 = (row + 1..4).map(|k| rows[row][k] * c[k]).sum();
        c[row] = (rows[row][4] - known) / rows[row][row];
    }
    c
}

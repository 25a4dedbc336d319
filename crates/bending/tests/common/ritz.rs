//! Ritz' method with polynomials over the whole plate: another way to Kirchhoff's plate, which shares no code with the elements.
//! Each function is a product of Legendre polynomials with factors that vanish at the held edges.

#[derive(Clone, Debug)]
pub(crate) struct Ritz {
    size: [f64; 2],
    d: f64,
    nu: f64,
    /// At each end of each side, how often the functions vanish: 0 free, 1 hinged, 2 clamped.
    orders: [[i32; 2]; 2],
    terms: usize,
    c: Vec<f64>,
}

impl Ritz {
    /// Edges left, right, bottom, top as S, C or F; pressure as a function of y.
    pub(crate) fn new(
        size: [f64; 2],
        d: f64,
        nu: f64,
        edges: &str,
        p: impl Fn(f64) -> f64,
    ) -> Self {
        let order = |letter: char| match letter {
            'C' => 2,
            'S' => 1,
            _ => 0,
        };
        let o: Vec<i32> = edges.chars().map(order).collect();
        let terms = 14;
        let mut ritz = Self { size, d, nu, orders: [[o[0], o[1]], [o[2], o[3]]], terms, c: vec![] };
        let points = gauss(24);
        // Products of derivatives in each direction: [p][q][i][j].
        let table = |axis: usize| {
            let mut products = vec![vec![0.0; terms * terms]; 9];
            for &(s, weight) in &points {
                let f: Vec<[f64; 3]> = (0..terms).map(|i| ritz.shape(axis, i, s)).collect();
                for (pq, product) in products.iter_mut().enumerate() {
                    for (i, fi) in f.iter().enumerate() {
                        for (j, fj) in f.iter().enumerate() {
                            product[i * terms + j] += weight * size[axis] * fi[pq / 3] * fj[pq % 3];
                        }
                    }
                }
            }
            products
        };
        let (x, y) = (table(0), table(1));
        let n = terms * terms;
        let mut k = vec![vec![0.0; n]; n];
        for (r, row) in k.iter_mut().enumerate() {
            for (s, entry) in row.iter_mut().enumerate() {
                let (ix, iy) = ((r / terms) * terms + s / terms, (r % terms) * terms + s % terms);
                *entry = d
                    * (x[8][ix] * y[0][iy]
                        + x[0][ix] * y[8][iy]
                        + nu * (x[6][ix] * y[2][iy] + x[2][ix] * y[6][iy])
                        + 2.0 * (1.0 - nu) * x[4][ix] * y[4][iy]);
            }
        }
        let mut f = vec![0.0; n];
        for (r, force) in f.iter_mut().enumerate() {
            let over = |axis: usize, i: usize, p: &dyn Fn(f64) -> f64| -> f64 {
                let part = |&(s, w): &(f64, f64)| {
                    w * size[axis] * p(s * size[axis]) * ritz.shape(axis, i, s)[0]
                };
                points.iter().map(part).sum()
            };
            *force = over(0, r / terms, &|_| 1.0) * over(1, r % terms, &p);
        }
        ritz.c = cholesky(k, f);
        ritz
    }

    /// Value and two derivatives at share `s` of a side.
    fn shape(&self, axis: usize, i: usize, s: f64) -> [f64; 3] {
        let [p, q] = self.orders[axis];
        let h = self.size[axis];
        // Legendre's polynomial of 2 s − 1 with its derivatives by s.
        let legendre = legendre(i, s);
        let power = |base: f64, n: i32, slope: f64| {
            let n_f = f64::from(n);
            let first = if n > 0 { n_f * base.powi(n - 1) * slope } else { 0.0 };
            let second = if n > 1 { n_f * (n_f - 1.0) * base.powi(n - 2) } else { 0.0 };
            [base.powi(n), first, second]
        };
        let f = product(product(power(s, p, 1.0), power(1.0 - s, q, -1.0)), legendre);
        [f[0], f[1] / h, f[2] / (h * h)]
    }

    fn sum(&self, [x, y]: [f64; 2], [p, q]: [usize; 2]) -> f64 {
        let terms = self.terms;
        let fx: Vec<f64> = (0..terms).map(|i| self.shape(0, i, x / self.size[0])[p]).collect();
        let fy: Vec<f64> = (0..terms).map(|i| self.shape(1, i, y / self.size[1])[q]).collect();
        (0..terms * terms).map(|r| self.c[r] * fx[r / terms] * fy[r % terms]).sum()
    }

    pub(crate) fn w(&self, at: [f64; 2]) -> f64 {
        self.sum(at, [0, 0])
    }

    pub(crate) fn m_x(&self, at: [f64; 2]) -> f64 {
        -self.d * (self.sum(at, [2, 0]) + self.nu * self.sum(at, [0, 2]))
    }

    pub(crate) fn m_y(&self, at: [f64; 2]) -> f64 {
        -self.d * (self.sum(at, [0, 2]) + self.nu * self.sum(at, [2, 0]))
    }
}

fn product(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] * b[0], a[1] * b[0] + a[0] * b[1], a[2] * b[0] + 2.0 * a[1] * b[1] + a[0] * b[2]]
}

fn legendre(i: usize, s: f64) -> [f64; 3] {
    let x = 2.0 * s - 1.0;
    let (mut before, mut here) = ([0.0; 3], [1.0, 0.0, 0.0]);
    for n in 0..i {
        let n = n as f64;
        let times_x = product([x, 2.0, 0.0], here);
        let next =
            std::array::from_fn(|k| ((2.0 * n + 1.0) * times_x[k] - n * before[k]) / (n + 1.0));
        (before, here) = (here, next);
    }
    here
}

/// Points and weights of Gauss on 0..1, by Newton's steps.
fn gauss(n: usize) -> Vec<(f64, f64)> {
    (0..n)
        .map(|k| {
            let guess = (std::f64::consts::PI * (k as f64 + 0.75) / (n as f64 + 0.5)).cos();
            let mut s = 0.5 * (1.0 + guess);
            for _ in 0..20 {
                let p = legendre(n, s);
                s -= p[0] / p[1];
            }
            let slope = legendre(n, s)[1];
            (s, 1.0 / (s * (1.0 - s) * slope * slope))
        })
        .collect()
}

fn cholesky(mut k: Vec<Vec<f64>>, mut f: Vec<f64>) -> Vec<f64> {
    let n = f.len();
    // Scaled to a diagonal of ones, for the sake of rounding.
    let scale: Vec<f64> = (0..n).map(|i| k[i][i].sqrt().recip()).collect();
    for i in 0..n {
        f[i] *= scale[i];
        for j in 0..n {
            k[i][j] *= scale[i] * scale[j];
        }
    }
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|m| k[i][m] * k[j][m]).sum();
            let left = k[i][j] - known;
            k[i][j] = if i == j { left.sqrt() } else { left / k[j][j] };
        }
        let known: f64 = (0..i).map(|m| k[i][m] * f[m]).sum();
        f[i] = (f[i] - known) / k[i][i];
    }
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|m| k[m][i] * f[m]).sum();
        f[i] = (f[i] - known) / k[i][i];
    }
    (0..n).map(|i| f[i] * scale[i]).collect()
}

//! Cubics on one interval, given by value and slope at both ends: what every plate matrix is a product of.

/// Points and weights of Gauss on 0..1, exact to degree 7.
const GAUSS_4: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_92),
    (0.330_009_478_207_571_9, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_92),
];

/// Points of Gauss on 0..1, exact to degree 3. Second derivatives of a cubic that was found by least
/// energy are one order better here than elsewhere (Barlow 1976, from memory).
pub(crate) const GAUSS_2: [f64; 2] = [0.211_324_865_405_187_13, 0.788_675_134_594_812_9];

/// Four by four, in the order value, slope, value, slope.
pub(crate) type M4 = [[f64; 4]; 4];

/// The four shapes at `s` (0..1) of an interval of length `h`, and their first and second derivatives.
pub(crate) fn shapes(s: f64, h: f64) -> [[f64; 4]; 3] {
    let (s2, s3) = (s * s, s * s * s);
    [
        [1.0 - 3.0 * s2 + 2.0 * s3, h * (s - 2.0 * s2 + s3), 3.0 * s2 - 2.0 * s3, h * (s3 - s2)],
        [6.0 * (s2 - s) / h, 1.0 - 4.0 * s + 3.0 * s2, 6.0 * (s - s2) / h, 3.0 * s2 - 2.0 * s],
        [
            (12.0 * s - 6.0) / (h * h),
            (6.0 * s - 4.0) / h,
            (6.0 - 12.0 * s) / (h * h),
            (6.0 * s - 2.0) / h,
        ],
    ]
}

/// `[p][q][i][j] = ∫ N_i⁽ᵖ⁾ N_j⁽ᵠ⁾ ds` over an interval of length `h`; exact.
pub(crate) fn gram(h: f64) -> [[M4; 3]; 3] {
    let mut gram = [[[[0.0; 4]; 4]; 3]; 3];
    for (s, weight) in GAUSS_4 {
        let n = shapes(s, h);
        for (p, of_p) in gram.iter_mut().enumerate() {
            for (q, of_q) in of_p.iter_mut().enumerate() {
                for (i, row) in of_q.iter_mut().enumerate() {
                    for (j, entry) in row.iter_mut().enumerate() {
                        *entry += weight * h * n[p][i] * n[q][j];
                    }
                }
            }
        }
    }
    gram
}

/// `∫ (at_start + per_m·s) N_i ds` over the part `from..to` (shares, 0..1) of an interval of length `h`;
/// exact.
pub(crate) fn line_load(h: f64, from: f64, to: f64, at_start: f64, per_m: f64) -> [f64; 4] {
    let mut load = [0.0; 4];
    if to <= from {
        return load;
    }
    for (s, weight) in GAUSS_4 {
        let at = from + (to - from) * s;
        let share = weight * (to - from) * h * (at_start + per_m * at * h);
        for (sum, n) in load.iter_mut().zip(shapes(at, h)[0]) {
            *sum += share * n;
        }
    }
    load
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bending_matrix_of_a_beam_is_that_of_the_textbooks() {
        // EI/h³ · [12, 6h, −12, 6h; …], e.g. Bathe, Finite Element Procedures, beam element.
        let h = 0.3;
        let k = gram(h)[2][2];
        let h3 = h * h * h;
        let first = [12.0 / h3, 6.0 * h / h3, -12.0 / h3, 6.0 * h / h3];
        for (got, want) in k[0].iter().zip(first) {
            assert!((got - want).abs() < 1e-9 * want.abs(), "{got} {want}");
        }
        assert!((k[1][3] - 2.0 / h).abs() < 1e-9 / h);
    }

    #[test]
    fn a_load_on_a_part_of_an_interval_keeps_its_force_and_its_lever() {
        let (h, from, to, p0, p1) = (0.4, 0.25, 0.7, 3.0, -2.0);
        let f = line_load(h, from, to, p0, p1);
        let (a, b) = (from * h, to * h);
        let force = p0 * (b - a) + p1 * (b * b - a * a) / 2.0;
        let lever = p0 * (b * b - a * a) / 2.0 + p1 * (b * b * b - a * a * a) / 3.0;
        assert!((f[0] + f[2] - force).abs() < 1e-14);
        assert!((f[1] + f[3] + h * f[2] - lever).abs() < 1e-14);
    }
}

use super::*;

/// Corner moment of a box of walls of equal stiffness under even pressure, by the ASME Boiler and Pressure Vessel Code, section VIII
/// division 1, appendix 13 (from memory): `p h² / 12 · (1 + α² K) / (1 + K)` with `α = H / h` and `K = α` for equal sheets.
fn by_the_code(pressure: f64, h: f64, big_h: f64) -> f64 {
    let alpha = big_h / h;
    pressure * h * h / 12.0 * (1.0 + alpha * alpha * alpha) / (1.0 + alpha)
}

/// Strips, both ends alike: clamped `p l² / 12`, hinged angle `p l³ / 24 E I`, so that `K = 2 E I / l`.
#[test]
fn the_corner_of_a_closed_box_shares_its_moment_as_by_the_code_for_rectangular_vessels() {
    let side = |l: f64| (1000.0 * l * l / 12.0, Some(2.0 * 50.0 / l));
    for (h, big_h) in [(0.3, 0.3), (0.3, 0.6), (0.2, 1.0)] {
        let ours = shared([side(h), side(big_h)]).expect("both are known");
        let theirs = by_the_code(1000.0, h, big_h);
        assert!((ours / theirs - 1.0).abs() < 1e-12, "{ours} {theirs}");
    }
}

#[test]
fn without_a_stiffness_there_is_no_estimate() {
    assert_eq!(shared([(1.0, None), (2.0, Some(3.0))]), None);
}

#[test]
fn the_estimate_lies_between_both_moments() {
    let m = shared([(1.0, Some(5.0)), (4.0, Some(1.0))]).expect("both are known");
    assert!(1.0 < m && m < 4.0, "{m}");
}

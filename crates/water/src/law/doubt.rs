//! How far a law may be wrong, and what taking it at the edge of its band does.

/// Relative doubt of a weir at this head, and its derivative by the head, 1/m.
///
/// `base` is the doubt at heads that the standards cover. Below some 30 mm the nappe clings to a square
/// plastic edge or is held by its meniscus and may flip between the two; 5 % at 30 mm, 8 % at 20 to
/// 30 mm, 15 % at 10 to 20 mm, 30 % at 5 to 10 mm, and not predictable below: our judgement, after the
/// warnings in Bos (ed.), *Discharge Measurement Structures*, ILRI publication 20, 5.1. Here as the
/// smooth `(base⁴ + 1 / ((h / 2.25 mm)⁴ + 0.3⁻⁴))^¼`.
///
/// It falls with the head more slowly than any opening's discharge rises (`−h·u′/(1+u)` stays below
/// 0.25, `h·q′/q` at or above 0.5), so a law at the edge of its band still rises with the upstream level.
#[inline]
pub fn of_head(base: f64, head_m: f64) -> (f64, f64) {
    const REFERENCE_HEAD_M: f64 = 2.25e-3;
    const CAP: f64 = 0.3;
    const FLOOR: f64 = 1.0 / (CAP * CAP * CAP * CAP);
    let base2 = base * base;
    let x = head_m.max(0.0) / REFERENCE_HEAD_M;
    let x3 = x * x * x;
    let small = 1.0 / (x3 * x + FLOOR);
    let square = (base2 * base2 + small).sqrt();
    let u = square.sqrt();
    (u, -x3 * small * small / (REFERENCE_HEAD_M * square * u))
}

/// Factor on a weir's discharge at this lean, and its derivative by the head.
#[inline]
pub(crate) fn factor_of_head(lean: f64, base: f64, head_m: f64) -> (f64, f64) {
    if lean == 0.0 {
        return (1.0, 0.0);
    }
    let (u, slope) = of_head(base, head_m);
    (1.0 + lean * u, lean * slope)
}

#[cfg(test)]
mod tests {
    use super::of_head;

    #[test]
    fn grows_at_small_heads_as_judged() {
        for (head_mm, from, to) in
            [(60.0, 0.05, 0.054), (25.0, 0.08, 0.1), (15.0, 0.13, 0.16), (7.5, 0.24, 0.31)]
        {
            let u = of_head(0.05, head_mm * 1e-3).0;
            assert!(from <= u && u <= to, "{u} at {head_mm} mm");
        }
        assert!((of_head(0.05, 0.0).0 - 0.3).abs() < 1e-4);
    }

    #[test]
    fn falls_more_slowly_than_an_orifice_rises() {
        for i in 0..2000_u32 {
            let h = f64::from(i) * 5e-5;
            for base in [0.0, 0.05, 0.15, 0.5] {
                let (u, slope) = of_head(base, h);
                assert!(slope <= 0.0 && -h * slope / (1.0 + u) < 0.25);
                assert!(-h * slope / (1.0 - u) < 0.5);
                let e = 1e-8;
                let difference = (of_head(base, h + e).0 - of_head(base, h.max(e) - e).0)
                    / (h + e - (h.max(e) - e));
                assert!(
                    (slope - difference).abs() < 1e-3 * slope.abs() + 1e-3,
                    "{slope} {difference} at {h}"
                );
            }
        }
    }
}

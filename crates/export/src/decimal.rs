//! Numbers as decimal text.

/// The number rounded to this many decimals, without trailing zeros: `12.5`, `-3`, `0`.
///
/// Rounding hides the last bits, in which machines may differ, so files repeat to the byte.
pub(crate) fn decimal(value: f64, decimals: i32) -> String {
    let scale = 10f64.powi(decimals);
    // Adding zero turns −0 into 0.
    format!("{}", (value * scale).round() / scale + 0.0)
}

/// A coordinate or radius in mm. Seven decimals keep the area of a hole of 1 mm to 4e-7 of itself.
pub(crate) fn coordinate(mm: f64) -> String {
    decimal(mm, 7)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_have_no_minus_zero() {
        assert_eq!(decimal(100.0 / 3.0, 4), "33.3333");
        assert_eq!(coordinate(99.999_999_999_999), "100");
        assert_eq!(coordinate(-1e-12), "0");
        assert_eq!(coordinate(-2.5), "-2.5");
    }
}

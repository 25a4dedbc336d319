//! Lengths as people expect to read them.

/// The nearest whole nanometre: sums of lengths carry rounding errors that nobody wants to read.
pub(crate) fn without_rounding(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6
}

//! Millimetres as whole hundredths: what nests, nests in whole numbers.

/// Steps in a millimetre.
const STEPS: f64 = 100.0;
/// What is nearer to a step than this (in steps; 1e-6 mm) is on it: no part is made as truly, and sums of lengths carry
/// such errors.
const ON_STEP: f64 = 1e-4;

/// The step at or below a length.
pub(super) fn down(mm: f64) -> i32 {
    whole((mm * STEPS + ON_STEP).floor())
}

/// The step at or above a length.
pub(super) fn up(mm: f64) -> i32 {
    whole((mm * STEPS - ON_STEP).ceil())
}

/// The length of so many steps.
pub(super) fn mm(steps: i32) -> f64 {
    f64::from(steps) / STEPS
}

#[expect(clippy::cast_possible_truncation, reason = "no sheet is longer than 10 m: 1e6 steps")]
fn whole(steps: f64) -> i32 {
    steps as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_on_the_grid_stays() {
        for steps in [0, 1, 635, 952, 304_800, 999_999] {
            assert_eq!((down(mm(steps)), up(mm(steps))), (steps, steps));
        }
        assert_eq!((down(0.1 + 0.2), up(0.1 + 0.2)), (30, 30));
        assert_eq!((down(9.525), up(9.525)), (952, 953));
    }
}

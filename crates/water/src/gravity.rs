//! Standard gravity and what hydraulics makes of it.

/// Standard acceleration of free fall, m/s². Source: 3rd CGPM (1901); ISO 80000-3.
pub const G: f64 = 9.806_65;

/// √(2g), m^½/s.
pub(crate) const SQRT_2G: f64 = 4.428_690_551_393_267;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn root_belongs_to_gravity() {
        assert!((SQRT_2G * SQRT_2G - 2.0 * G).abs() < 1e-14);
    }
}

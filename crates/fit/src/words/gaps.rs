//! The least gap on a way.

use units::{Length, System};

use crate::clearance::NEAR_MM;

/// The least gap on a way in words. What is farther than [`NEAR_MM`] is not looked for: it is only known that the
/// gap is more.
pub fn gap(least_mm: f64, system: System) -> String {
    if least_mm < NEAR_MM {
        Length::mm(least_mm.max(0.0)).show(system)
    } else {
        format!("more than {}", Length::mm(NEAR_MM).show(system))
    }
}

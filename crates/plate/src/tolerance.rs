//! The lengths that decide what is equal, what is refused and what is reported.

/// Lengths in mm that decide what is equal, what is refused and what is reported.
///
/// Between `same` and `near_miss` nothing is guessed: two features that are neither one nor clearly
/// apart are refused, because nobody can have meant them. Contours computed in `f64` from
/// parameters agree to about 1e-12 mm, so both limits are far from honest input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Points and heights closer than this are one.
    pub same: f64,
    /// Features closer than this, but not the same, are refused.
    pub near_miss: f64,
    /// Shorter edges are reported.
    pub least_edge: f64,
    /// Thinner floors are reported.
    pub least_floor: f64,
    /// Thinner walls between two cuts, or a cut and the outline, are reported.
    pub least_wall: f64,
}

impl Default for Tolerance {
    /// 1e-6, 1e-4, 0.01, 0.2 and 0.5 mm. The last three are common practice for sheet that is
    /// routed or cut by laser: less than that breaks off or melts.
    fn default() -> Self {
        Self { same: 1e-6, near_miss: 1e-4, least_edge: 1e-2, least_floor: 0.2, least_wall: 0.5 }
    }
}

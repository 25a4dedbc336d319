//! What is told of a glued seam.

use serde::Serialize;

/// A glued seam under load.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Seam {
    /// Index into `design.joints`.
    pub joint: usize,
    /// What it joins: `front wall, lower edge, to bottom`.
    pub words: String,
    /// Path of the parameter it comes from.
    pub parameter: String,
    /// Bonded width, mm.
    pub width_mm: f64,
    /// Greatest force per length that pulls it open, N/mm.
    pub pull_n_mm: f64,
    /// Greatest force per length along its face, N/mm.
    pub shear_n_mm: f64,
    /// Greatest moment per length if this seam alone were clamped (an upper bound), N.
    pub moment_n: f64,
    /// Peel stress by that moment and the pull across it, MPa: an upper bound.
    pub peel_mpa: f64,
    /// Shear stress, peak of a parabola, MPa.
    pub shear_mpa: f64,
    /// Stress by pull and shear with all seams hinged, MPa: what it carries however soft it is.
    pub certain_mpa: f64,
    /// What the weaker of its sheets may carry for years where it is dry, MPa.
    pub sheet_mpa: f64,
    /// The limit of the seam, for years, MPa: the share `strength.joint` of [`Self::sheet_mpa`].
    pub allowable_mpa: f64,
    /// Which load, in words.
    pub load: String,
}

impl Seam {
    /// How many times the greater of peel and shear fits into what is allowed.
    pub fn factor(&self) -> f64 {
        self.allowable_mpa / self.peel_mpa.max(self.shear_mpa)
    }
}

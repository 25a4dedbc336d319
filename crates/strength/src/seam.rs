//! What is told of a glued seam.

use serde::Serialize;

use crate::panel::Duration;

/// For years: so many times its limit a seam is far beyond it, if the bound of a rigid seam says so; our judgement. With the share
/// of 30 % that is nearly all that the sheet beside it may carry.
pub const FAR: f64 = 3.0;

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
    /// What all loads do to it at most.
    #[serde(flatten)]
    pub most: SeamStress,
    /// The same of loads that bear for years; `None` where there is none.
    pub years: Option<SeamStress>,
    /// Stress by pull and shear with all seams hinged, MPa: what it carries however soft it is.
    pub certain_mpa: f64,
    /// What the weaker of its sheets may carry for years where it is dry, MPa.
    pub sheet_mpa: f64,
    /// What the same sheet may carry for as long as the load of [`Self::most`] bears, MPa.
    pub sheet_brief_mpa: f64,
    /// The limit of the seam, for years, MPa: the share `strength.joint` of [`Self::sheet_mpa`].
    pub allowable_mpa: f64,
}

/// What loads do to a seam at most.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeamStress {
    /// Greatest force per length that pulls it open, N/mm.
    pub pull_n_mm: f64,
    /// Greatest force per length along its face, N/mm.
    pub shear_n_mm: f64,
    /// Greatest moment per length if this seam alone were clamped (an upper bound), N.
    pub moment_n: f64,
    /// The moment that the two panels of a corner of the box share by their stiffness, N: an estimate. Of other seams the bound.
    pub shared_moment_n: f64,
    /// Peel stress by [`Self::moment_n`] and the pull across it, MPa: an upper bound.
    pub peel_mpa: f64,
    /// The same by [`Self::shared_moment_n`], MPa: an estimate.
    pub shared_peel_mpa: f64,
    /// Shear stress, peak of a parabola, MPa.
    pub shear_mpa: f64,
    /// Which load, in words.
    pub load: String,
    /// How long that load bears.
    pub duration: Duration,
}

impl SeamStress {
    /// The greater of peel and shear, MPa: an upper bound.
    pub fn bound_mpa(&self) -> f64 {
        self.peel_mpa.max(self.shear_mpa)
    }

    /// The same with the moment that both panels share, MPa: an estimate.
    pub fn estimate_mpa(&self) -> f64 {
        self.shared_peel_mpa.max(self.shear_mpa)
    }
}

/// How a seam stands to what it may carry, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SeamStanding {
    /// Pull and shear alone, which are there however soft it is, are more than its limit.
    Fails,
    /// For years the bound is more than [`FAR`] times its limit and the estimate more than the limit; or the estimate of all
    /// loads is more than the sheet beside it may carry for so long: it would craze or crack too.
    FarBeyond,
    /// The estimate for years is more than its limit.
    BeyondForYears,
    /// An upper bound is more than its limit, for years or for hours.
    Open,
    /// Even the upper bound of all loads is within its limit.
    Holds,
}

impl SeamStanding {
    /// Whether it must not be built so.
    pub fn is_failing(self) -> bool {
        self <= Self::FarBeyond
    }
}

impl Seam {
    /// How many times the greater of peel and shear fits into what is allowed, of all loads: a lower bound.
    pub fn factor(&self) -> f64 {
        self.allowable_mpa / self.most.bound_mpa()
    }

    /// How it stands to what it may carry.
    pub fn standing(&self) -> SeamStanding {
        let limit = self.allowable_mpa;
        let [bound, estimate] =
            self.years.as_ref().map_or([0.0; 2], |years| [years.bound_mpa(), years.estimate_mpa()]);
        match () {
            () if self.certain_mpa > limit => SeamStanding::Fails,
            () if bound > FAR * limit && estimate > limit => SeamStanding::FarBeyond,
            () if self.most.estimate_mpa() > self.sheet_brief_mpa => SeamStanding::FarBeyond,
            () if estimate > limit => SeamStanding::BeyondForYears,
            () if self.factor() < 1.0 => SeamStanding::Open,
            () => SeamStanding::Holds,
        }
    }

    /// Bonded width with which even the upper bound of all loads would be within the limit, mm: the greater root of
    /// `σ s² − N s − 6 M = 0` for peel, and `3/2 V / τ` for shear. Moments do not depend on the thickness where no rim helps.
    pub fn wanted_width_mm(&self) -> f64 {
        let (limit, most) = (self.allowable_mpa, &self.most);
        let (pull, moment) = (most.pull_n_mm, most.moment_n);
        let peel = (pull + (pull * pull + 24.0 * limit * moment).sqrt()) / (2.0 * limit);
        peel.max(self.width_mm * most.shear_mpa / limit)
    }
}

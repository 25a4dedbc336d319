//! How far a law may be trusted at the levels it is asked about.

use serde::Serialize;

/// How far a law may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Validity {
    /// Within the range of its source.
    Within,
    /// Outside the range of its source, in a way that still makes sense.
    Extrapolated,
    /// Nobody can say.
    NotPredictable,
}

/// How far a law may be trusted, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Range {
    /// How far.
    pub validity: Validity,
    /// Why; empty if there is nothing to say.
    pub why: &'static str,
}

impl Range {
    /// Within, with nothing to say.
    pub const WITHIN: Self = Self { validity: Validity::Within, why: "" };

    pub(super) const fn new(validity: Validity, why: &'static str) -> Self {
        Self { validity, why }
    }

    /// Of a free surface over an edge: standards begin at 30 mm (ISO 1438:2017, 9.6.4); below 5 mm
    /// surface tension decides (our judgement).
    pub(super) fn of_head(head_m: f64) -> Self {
        if head_m <= 0.0 || head_m >= crate::weir::MIN_HEAD_M {
            Self::WITHIN
        } else if head_m >= 5e-3 {
            Self::new(
                Validity::Extrapolated,
                "the head is below the 30 mm at which the standards begin",
            )
        } else {
            Self::new(Validity::NotPredictable, "the head is below 5 mm: surface tension decides")
        }
    }
}

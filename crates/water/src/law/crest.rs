//! A plain crest.

use serde::Serialize;

use super::{Flow, Range, Validity, doubt};
use crate::gravity::SQRT_2G;
use crate::weir;

/// Water runs over a straight, level crest; free or drowned, either way.
///
/// `Q = (2/3)·(α + β·h/p)·√(2g)·b·h^1.5`, the coefficient after Kindsvater and Carter (ISO 1438), times
/// the share of a thick crest, times Villemonte's share when drowned.
///
/// Kindsvater and Carter's additions to head (1 mm) and width (−0.9 to 4.3 mm) are left out on purpose.
/// They hold for a nappe that springs from a sharp, clean metal edge at heads above 30 mm; at the 5 to
/// 20 mm of a sump on square plastic edges the nappe clings, and 1 mm more head would promise 8 to 30 %
/// more water than anybody has measured there. Without them the level is predicted too high rather than
/// too low. The addition to width is meant for one notch in a wide plate, and would give the slots of a
/// comb tens of percent.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Crest {
    crest_m: f64,
    width_m: f64,
    thickness_m: f64,
    height_over_floor_m: f64,
    channel_width_m: f64,
    /// Relative doubt at heads that the standards cover.
    pub doubt: f64,
    #[serde(skip)]
    alpha: f64,
    /// β over the height of the crest, 1/m.
    #[serde(skip)]
    beta_per_m: f64,
    /// (2/3)·√(2g)·b, m^1.5/s.
    #[serde(skip)]
    poleni: f64,
}

impl Crest {
    /// Crest at `crest_m`, `width_m` wide, `thickness_m` along the flow (0: a thin edge),
    /// `height_over_floor_m` above the floor of the chamber it is approached from, in a chamber
    /// `channel_width_m` wide.
    pub fn new(
        crest_m: f64,
        width_m: f64,
        thickness_m: f64,
        height_over_floor_m: f64,
        channel_width_m: f64,
    ) -> Self {
        let (alpha, beta) = weir::kindsvater_carter(width_m / channel_width_m);
        // A sill of less than a millimetre is no crest; the coefficient is at the end of its range there.
        let height = height_over_floor_m.max(1e-3);
        Self {
            crest_m,
            width_m,
            thickness_m,
            height_over_floor_m,
            channel_width_m,
            doubt: 0.05,
            alpha,
            beta_per_m: beta / height,
            poleni: 2.0 / 3.0 * SQRT_2G * width_m,
        }
    }

    /// Length of the crest across the flow, m.
    pub fn width_m(&self) -> f64 {
        self.width_m
    }

    /// Height of the crest, m.
    pub fn crest_m(&self) -> f64 {
        self.crest_m
    }

    fn largest_known_head_m(&self) -> f64 {
        weir::MAX_HEAD_OVER_HEIGHT * self.height_over_floor_m.max(1e-3)
    }

    /// Free discharge at a head above 0 and its derivative by the head.
    #[inline]
    fn free(&self, h: f64, lean: f64) -> (f64, f64) {
        let known = h.min(weir::MAX_HEAD_OVER_HEIGHT * self.height_over_floor_m.max(1e-3));
        let c = self.alpha + self.beta_per_m * known;
        let dc = if known < h { 0.0 } else { self.beta_per_m };
        let root = h.sqrt();
        let (mut q, mut slope) = (c * h * root, root * (1.5 * c + h * dc));
        if h < 2.0 * self.thickness_m {
            let (f, df) = weir::thick_crest_factor(h / self.thickness_m);
            (q, slope) = (q * f, slope * f + q * df / self.thickness_m);
        }
        let (f, df) = doubt::factor_of_head(lean, self.doubt, h);
        (self.poleni * q * f, self.poleni * (slope * f + q * df))
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let (h1, h2) = (up_m - self.crest_m, down_m - self.crest_m);
        if h1 <= 0.0 {
            return Flow::default();
        }
        let (q, slope) = self.free(h1, lean);
        if h2 <= 0.0 {
            return Flow { q, up: slope, down: 0.0 };
        }
        let r = h2 / h1;
        let (share, by_r) = weir::villemonte(r);
        Flow { q: q * share, up: slope * share - q * by_r * r / h1, down: q * by_r / h1 }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        let head = up_m.max(down_m) - self.crest_m;
        if head <= 0.0 {
            return Range::WITHIN;
        }
        let of_head = Range::of_head(head);
        if of_head.validity == Validity::NotPredictable {
            return of_head;
        }
        let limits = [
            (
                head > self.largest_known_head_m(),
                "the head is more than 2.5 times the height of the crest",
            ),
            (self.width_m < weir::MIN_WIDTH_M, "the crest is narrower than the standard's 0.15 m"),
            (
                self.height_over_floor_m < weir::MIN_HEIGHT_M,
                "the crest is lower than the standard's 0.1 m",
            ),
        ];
        let beyond = limits.iter().find(|(beyond, _)| *beyond);
        beyond.map_or(of_head, |&(_, why)| Range::new(Validity::Extrapolated, why))
    }
}

//! Discharge over a crest: plain, contracted, thick, drowned.
//!
//! Every standard for weirs begins at a head of 30 mm. Sumps run at 5 to 30 mm: what these formulas say
//! there is an extrapolation, and [`crate::law::Validity`] says so.

use crate::gravity::SQRT_2G;
use crate::smooth::smoothstep;

/// Width of notch over width of channel, with α and β of the coefficient of discharge `α + β·h/p`.
///
/// Source: ISO 1438:2017, 9.6.3, after Kindsvater & Carter, *Trans. ASCE* 124 (1959) 772; printed again
/// in Bos (ed.), *Discharge Measurement Structures*, ILRI publication 20, 5.1.
const KINDSVATER_CARTER: [(f64, f64, f64); 11] = [
    (0.0, 0.587, -0.0023),
    (0.1, 0.588, -0.0021),
    (0.2, 0.589, -0.0018),
    (0.3, 0.590, 0.0020),
    (0.4, 0.591, 0.0058),
    (0.5, 0.592, 0.011),
    (0.6, 0.593, 0.018),
    (0.7, 0.595, 0.030),
    (0.8, 0.597, 0.045),
    (0.9, 0.599, 0.064),
    (1.0, 0.602, 0.075),
];

/// α and β of Kindsvater and Carter for a notch that takes this share of the channel's width; straight
/// between the lines of the table, the nearest end outside.
pub fn kindsvater_carter(width_ratio: f64) -> (f64, f64) {
    let ratio = width_ratio.clamp(0.0, 1.0);
    for pair in KINDSVATER_CARTER.windows(2) {
        let ((r0, a0, b0), (r1, a1, b1)) = (pair[0], pair[1]);
        if ratio <= r1 {
            let t = (ratio - r0) / (r1 - r0);
            return (a0 + t * (a1 - a0), b0 + t * (b1 - b0));
        }
    }
    (0.602, 0.075)
}

/// Largest head over height of crest for which the coefficient is known.
/// Source: ISO 1438:2017, 9.6.4 (2.5 for all notches); from memory.
pub const MAX_HEAD_OVER_HEIGHT: f64 = 2.5;

/// Smallest head that the standards cover, m. Source: ISO 1438:2017, 9.6.4; Blevins, *Applied Fluid
/// Dynamics Handbook* (1984).
pub const MIN_HEAD_M: f64 = 0.03;

/// Narrowest crest that the standards cover, m. Source: ISO 1438:2017, 9.6.4; from memory.
pub const MIN_WIDTH_M: f64 = 0.15;

/// Lowest crest over the floor that the standards cover, m. Source: ISO 1438:2017, 9.6.4; from memory.
pub const MIN_HEIGHT_M: f64 = 0.1;

/// Free discharge in Poleni's form, `(2/3)·C·√(2g)·b·h^1.5`, m³/s.
///
/// Poleni, *De motu aquae mixto* (1717); `coefficient` dimensionless, `width_m` and `head_m` in m.
#[inline]
pub fn poleni(coefficient: f64, width_m: f64, head_m: f64) -> f64 {
    let h = head_m.max(0.0);
    2.0 / 3.0 * coefficient * SQRT_2G * width_m * h * h.sqrt()
}

/// What a crest of this thickness along the flow passes, as a share of a thin plate; and its derivative
/// by `head_over_length`, head over thickness.
///
/// From twice the thickness the nappe springs clear and the crest acts as a thin plate, `Q/(b h^1.5)` =
/// 3.32 ft^½/s = 1.83 m^½/s; below half the thickness it is a broad crest, 2.63 ft^½/s = 1.45 m^½/s.
/// Source of both ends: Brater & King, *Handbook of Hydraulics*, table of broad-crested weirs, as given
/// in EPA/600/R-17/111 (SWMM Reference Manual II, 2017). The smooth way between them is our
/// judgement.
#[inline]
pub fn thick_crest_factor(head_over_length: f64) -> (f64, f64) {
    const THIN: f64 = 1.83;
    const BROAD: f64 = 1.45;
    if head_over_length >= 2.0 {
        return (1.0, 0.0);
    }
    let (s, slope) = smoothstep((head_over_length - 0.5) / 1.5);
    ((BROAD + (THIN - BROAD) * s) / THIN, (THIN - BROAD) / THIN * slope / 1.5)
}

/// Share of the free discharge that a drowned rectangular crest still passes, and its derivative.
///
/// `(1 − r^1.5)^0.385`, `ratio` r = downstream head / upstream head above the crest, 0 ≤ r ≤ 1. Source:
/// Villemonte, *Engineering News-Record* 139 (1947) 866. Its slope is infinite at r = 1; there `x^0.385`
/// is taken as `x·(x² + ε²)^−0.3075` with ε = 1e-4 (our judgement; below 1e-4 of the value up to r = 0.99).
#[inline]
pub fn villemonte(ratio: f64) -> (f64, f64) {
    const ROUNDING: f64 = 1e-4;
    if ratio <= 0.0 {
        return (1.0, 0.0);
    }
    let r = ratio.min(1.0);
    let root = r.sqrt();
    let x = 1.0 - r * root;
    let square = x * x + ROUNDING * ROUNDING;
    let power = square.powf(-0.3075);
    let slope = power / square * (square - 0.615 * x * x);
    (x * power, slope * -1.5 * root)
}

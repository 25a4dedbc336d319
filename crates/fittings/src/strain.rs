//! How much what bends is stretched: arms of clips, straight and round.
//!
//! Both formulas are of slender beams of one thickness that bend little and are held stiffly at their root. Shear and
//! the root's own give take up part of a real arm's way, so that it is stretched less than told: safe for short arms.

use crate::filament::Filament;

/// Strain of the outer lines at the root of a straight arm of this thickness and length whose end is bent aside, as a
/// share: ε = 3 t δ / (2 L²), all in mm.
///
/// Source: beam with one end fixed and a load at the other, ε = M t / (2 E I) with δ = F L³ / (3 E I) (Roark's Formulas
/// for Stress and Strain, table of beams); makers' guides to snap fits, such as "Snap-Fit Joints for Plastics – A Design
/// Guide" (Bayer), give the same. Valid for L ≥ 5 t, about; shorter arms are stretched less.
pub fn bent_beam_strain(thickness_mm: f64, bent_by_mm: f64, length_mm: f64) -> f64 {
    1.5 * thickness_mm * bent_by_mm / (length_mm * length_mm)
}

/// Length of a straight arm that is strained by no more than this, mm: [`bent_beam_strain`] solved for it.
pub(crate) fn beam_length_mm(thickness_mm: f64, bent_by_mm: f64, strain: f64) -> f64 {
    (1.5 * thickness_mm * bent_by_mm / strain).sqrt()
}

/// A round arm: a piece of a ring that is held at its root and bent away from the axis at its tip. Angles from the middle
/// of the mouth, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BentArc {
    /// Radius of the middle of the arm's thickness, mm.
    pub radius_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Angle of its tip.
    pub tip: f64,
    /// Angle of its root.
    pub root: f64,
}

impl BentArc {
    /// Strain of the outer lines at the root when the tip is bent so far aside, across the mouth, as a share.
    ///
    /// Castigliano's theorem on a thin curved beam (Roark's Formulas for Stress and Strain, chapter on curved beams): a
    /// force F across the mouth at the tip h makes the moment M = F R (cos h − cos α) at the angle α, and moves the tip
    /// by δ = F R³ J / (E I) with J = ∫ (cos h − cos α)² dα from tip to root. So ε = t δ (cos h − cos β) / (2 R² J) at
    /// the root β, for β ≤ π. In a thick ring the inner lines are strained more than that: by the factor
    /// [`Self::winklers_factor`], which is 1.2 where the ring is as thick as 0.4 of its radius.
    pub fn strain(&self, bent_by_mm: f64) -> f64 {
        let Self { radius_mm, thickness_mm, tip, root } = *self;
        let (cos, sin) = (libm::cos(tip), libm::sin(tip));
        let twice = libm::sin(2.0 * root) - libm::sin(2.0 * tip);
        let integral =
            (root - tip) * (cos * cos + 0.5) - 2.0 * cos * (libm::sin(root) - sin) + 0.25 * twice;
        let arm = cos - libm::cos(root);
        let thin = thickness_mm * bent_by_mm * arm / (2.0 * radius_mm * radius_mm * integral);
        thin * self.winklers_factor()
    }

    /// How much more than in a straight beam a moment strains the inner lines of a ring of rectangular section (Winkler
    /// and Bach; Roark's Formulas for Stress and Strain, chapter on curved beams): with the neutral radius
    /// `r₀ = t / ln(b / a)` between the radii a and b and `e = R − r₀`, it is `(r₀ − a) t / (6 e a)`. For any a > 0.
    pub fn winklers_factor(&self) -> f64 {
        let (t, radius) = (self.thickness_mm, self.radius_mm);
        let (inner, outer) = (radius - 0.5 * t, radius + 0.5 * t);
        let neutral = t / libm::log(outer / inner);
        (neutral - inner) * t / (6.0 * (radius - neutral) * inner)
    }
}

impl Filament {
    /// Strain, as a share, that lines of it stand along their length for as long as something is pressed on or in, a
    /// few dozen times.
    ///
    /// Common practice: guides to printed snap fits give 2 to 3 % for PLA, 3 to 5 % for PETG and 3 to 8 % for nylon;
    /// taken is the least of each. The others from memory of guides to moulded ones, halved for printed lines.
    pub const fn strain_in_pressing(self) -> f64 {
        match self {
            Self::Petg | Self::Nylon => 0.03,
            Self::Asa | Self::Abs | Self::Pla => 0.02,
            Self::Pp => 0.04,
            Self::Tpu => 0.1,
        }
    }

    /// Strain, as a share, that it may be left with for years: a third of that in pressing. Our judgement: guides to snap
    /// fits let nothing stay bent at all, because it creeps and cracks; what grips sheet must.
    pub fn strain_for_years(self) -> f64 {
        self.strain_in_pressing() / 3.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Moment and way of the tip by adding up small pieces, from the force and the stiffness.
    #[test]
    fn a_round_arm_agrees_with_its_sum_over_small_pieces() {
        for (tip, root) in [(0.7_f64, 2.2_f64), (0.96, 2.15), (1.3, 2.9)] {
            let (r, t, modulus, force) = (17.0, 2.4, 2000.0, 3.0);
            let inertia = t * t * t / 12.0; // 1 mm wide
            let n = 20_000;
            let step = (root - tip) / f64::from(n);
            let moment = |a: f64| force * r * (tip.cos() - a.cos());
            // Unit load: the way is the sum of M m r dα / (E I).
            let way: f64 = (0..n)
                .map(|k| tip + (f64::from(k) + 0.5) * step)
                .map(|a| moment(a) * moment(a) / force * r * step / (modulus * inertia))
                .sum();
            let strain = moment(root) * 0.5 * t / (modulus * inertia);
            let arm = BentArc { radius_mm: r, thickness_mm: t, tip, root };
            let strain = strain * arm.winklers_factor();
            assert!((arm.strain(way) - strain).abs() < 1e-6 * strain, "{tip} {root}");
        }
    }

    /// Roark's table of curved beams of rectangular section, inner factor by R over half the thickness: 2.89 at 1.2, 1.52 at 2, 1.30 at 3, 1.20 at 4, 1.07 at 10.
    #[test]
    fn a_thick_ring_is_strained_as_the_tables_of_curved_beams_say() {
        for (ratio, factor) in [(1.2, 2.89), (2.0, 1.52), (3.0, 1.30), (4.0, 1.20), (10.0, 1.07)] {
            let arm = BentArc { radius_mm: 0.5 * ratio, thickness_mm: 1.0, tip: 1.0, root: 2.0 };
            assert!((arm.winklers_factor() - factor).abs() < 0.015, "{ratio}");
        }
    }

    #[test]
    fn a_short_piece_of_a_large_ring_is_a_straight_arm() {
        // 20 mm of a ring of 2 m, beside the mouth's height, where the ring runs along the force's normal.
        let (r, length) = (2000.0, 20.0);
        let middle = std::f64::consts::FRAC_PI_2;
        let (tip, root) = (middle - 0.5 * length / r, middle + 0.5 * length / r);
        let arm = BentArc { radius_mm: r, thickness_mm: 2.0, tip, root };
        let straight = bent_beam_strain(2.0, 0.5, length);
        assert!((arm.strain(0.5) / straight - 1.0).abs() < 1e-3);
    }

    /// A worked example of a published guide to printing (h = 1.6, Y = 0.8, limit 2.5 %): L = 8.76 mm.
    #[test]
    fn a_straight_arm_is_as_long_as_published_examples_say() {
        assert!((beam_length_mm(1.6, 0.8, 0.025) - 8.76).abs() < 0.005);
        assert!((bent_beam_strain(1.6, 0.8, 8.7636) - 0.025).abs() < 1e-6);
    }

    #[test]
    fn nothing_stays_bent_as_far_as_it_may_be_pressed() {
        for filament in Filament::ALL {
            let [years, pressing] = [filament.strain_for_years(), filament.strain_in_pressing()];
            assert!(0.004 < years && years < 0.5 * pressing && pressing <= 0.1);
        }
    }
}

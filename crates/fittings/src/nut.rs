//! Hexagon nuts.

/// Metric screws that doors are clamped with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ScrewSize {
    /// 4 mm
    M4,
    /// 5 mm
    M5,
    /// 6 mm
    M6,
}

impl ScrewSize {
    /// All sizes, upwards.
    pub const ALL: [Self; 3] = [Self::M4, Self::M5, Self::M6];

    /// The size whose number this is, 4, 5 or 6; of others the nearest.
    pub fn of(number: f64) -> Self {
        match number {
            n if n < 4.5 => Self::M4,
            n if n < 5.5 => Self::M5,
            _ => Self::M6,
        }
    }

    /// Diameter of the hole to be tapped in mm: the diameter less the pitch of the coarse thread (ISO 261: 0.7, 0.8 and
    /// 1 mm), as is common practice.
    pub const fn core_mm(self) -> f64 {
        match self {
            Self::M4 => 3.3,
            Self::M5 => 4.2,
            Self::M6 => 5.0,
        }
    }

    /// Diameter of the hole that the screw goes through in mm: medium series of ISO 273.
    pub const fn through_mm(self) -> f64 {
        match self {
            Self::M4 => 4.5,
            Self::M5 => 5.5,
            Self::M6 => 6.6,
        }
    }

    /// Nominal diameter of the thread in mm.
    pub const fn diameter_mm(self) -> f64 {
        match self {
            Self::M4 => 4.0,
            Self::M5 => 5.0,
            Self::M6 => 6.0,
        }
    }

    /// Largest width across flats of a hexagon nut in mm: `s` nominal = maximum of ISO 4032:2001,
    /// Table 1.
    pub const fn nut_across_flats_mm(self) -> f64 {
        match self {
            Self::M4 => 7.0,
            Self::M5 => 8.0,
            Self::M6 => 10.0,
        }
    }

    /// Least width across flats of a hexagon nut in mm: `s` minimum of ISO 4032:2001, Table 1, from memory; h14 of ISO 286
    /// for up to 10 mm is 0.36 mm, the nuts of grade A and B are held to 0.22 mm.
    pub const fn least_nut_across_flats_mm(self) -> f64 {
        self.nut_across_flats_mm() - 0.22
    }

    /// Largest height of a hexagon nut in mm: `m` maximum of ISO 4032:2001, Table 1. (Nuts after
    /// the older DIN 934 are lower: they fit as well.)
    pub const fn nut_height_mm(self) -> f64 {
        match self {
            Self::M4 => 3.2,
            Self::M5 => 4.7,
            Self::M6 => 5.2,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_are_those_of_the_drill_table_and_of_clearance_holes() {
        // ISO 2306: drills for coarse threads. Through holes are wider than the thread and narrower than the nut.
        for (size, drill) in ScrewSize::ALL.into_iter().zip([3.3, 4.2, 5.0]) {
            assert!((size.core_mm() - drill).abs() < 1e-12);
            assert!(size.diameter_mm() < size.through_mm());
            assert!(size.through_mm() < size.least_nut_across_flats_mm() - 2.0);
            assert_eq!(ScrewSize::of(size.diameter_mm()), size);
        }
    }

    #[test]
    fn a_nut_of_that_width_has_the_corners_the_standard_asks_for() {
        // e minimum of ISO 4032:2001, Table 1; a perfect hexagon has e = s · 2/√3.
        for (size, least_e) in ScrewSize::ALL.into_iter().zip([7.66, 8.79, 11.05]) {
            let e = size.nut_across_flats_mm() * 2.0 / 3.0_f64.sqrt();
            assert!(least_e < e && e < 1.07 * least_e, "{size:?}: {e}");
        }
    }
}

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
    fn a_nut_of_that_width_has_the_corners_the_standard_asks_for() {
        // e minimum of ISO 4032:2001, Table 1; a perfect hexagon has e = s · 2/√3.
        for (size, least_e) in ScrewSize::ALL.into_iter().zip([7.66, 8.79, 11.05]) {
            let e = size.nut_across_flats_mm() * 2.0 / 3.0_f64.sqrt();
            assert!(least_e < e && e < 1.07 * least_e, "{size:?}: {e}");
        }
    }
}

//! Numbers and names of strength as they are shown.

use strength::Held;
use units::{KG_PER_LB, Length, MM_PER_IN, Mass, N_PER_LBF, System};

use crate::told::figures::NONE;

/// Metres in a foot, exact (NIST SP 811, B.8).
const M_PER_FT: f64 = 0.3048;

/// Shows numbers in a system of units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shown(pub(super) System);

impl Shown {
    /// How far something bends: `1.82 mm`, `0.072 in`.
    pub(super) fn bend(self, mm: f64) -> String {
        Length::mm(mm).show_fine(self.0)
    }

    /// The same of what is wanted: `1.82 of 3.64 mm`.
    pub(super) fn bend_of(self, mm: f64, limit_mm: f64) -> String {
        let told = self.bend(mm);
        let number = told.split(' ').next().unwrap_or_default();
        format!("{number} of {}", self.bend(limit_mm))
    }

    /// A length: `12.5 mm`, `0.49 in`.
    pub(super) fn length(self, mm: f64) -> String {
        Length::mm(mm).show(self.0)
    }

    /// From one gap to another: `0.26 to 1.6 mm`.
    pub(super) fn range(self, [low, high]: [f64; 2]) -> String {
        let low = self.bend(low);
        let number = low.split(' ').next().unwrap_or_default();
        format!("{number} to {}", self.bend(high))
    }

    /// A stress, and what is allowed: `1.1 of 2.7 MPa`.
    pub(super) fn stress_of(self, mpa: f64, allowable_mpa: f64) -> String {
        let told = self.0.show_stress(mpa);
        let number = told.split(' ').next().unwrap_or_default();
        format!("{number} of {}", self.0.show_stress(allowable_mpa))
    }

    /// A stress: `1.1 MPa`.
    pub(super) fn stress(self, mpa: f64) -> String {
        self.0.show_stress(mpa)
    }

    /// A mass to a tenth: nobody weighs a sump finer.
    pub(super) fn kg(self, kg: f64) -> String {
        let unit = match self.0 {
            System::Metric => 1.0,
            System::UsCustomary => KG_PER_LB,
        };
        Mass::kg((10.0 * kg / unit).round() * 0.1 * unit).show(self.0)
    }

    /// A mass per running length: `96 kg/m`, `65 lb/ft`.
    pub(super) fn per_metre(self, kg_m: f64) -> String {
        match self.0 {
            System::Metric => format!("{kg_m:.0} kg/m"),
            System::UsCustomary => format!("{:.0} lb/ft", kg_m / KG_PER_LB * M_PER_FT),
        }
    }

    /// A pressure on what stands below: `2.2 kN/m²`, `46 lbf/ft²`.
    pub(super) fn pressure(self, kn_m2: f64) -> String {
        match self.0 {
            System::Metric => format!("{kn_m2:.1} kN/m²"),
            System::UsCustomary => {
                format!("{:.0} lbf/ft²", 1e3 * kn_m2 / N_PER_LBF * M_PER_FT * M_PER_FT)
            }
        }
    }

    /// A force along a seam by its length: `1.2 N/mm`, `6.9 lbf/in`.
    pub(super) fn per_length(self, n_mm: f64) -> String {
        match self.0 {
            System::Metric => format!("{n_mm:.2} N/mm"),
            System::UsCustomary => format!("{:.1} lbf/in", n_mm / N_PER_LBF * MM_PER_IN),
        }
    }

    /// A force: `12 N`, `2.7 lbf`.
    pub(super) fn force(self, n: f64) -> String {
        match self.0 {
            System::Metric => format!("{n:.0} N"),
            System::UsCustomary => format!("{:.1} lbf", n / N_PER_LBF),
        }
    }
}

/// A factor: `1.31`; more than ten is not told finer.
pub fn show_factor(factor: f64) -> String {
    match factor {
        f if f.is_nan() => NONE.to_owned(),
        f if f >= 10.0 => "over 10".to_owned(),
        f => format!("{f:.2}"),
    }
}

/// How an edge is held, in a word or two.
pub fn held(held: Held) -> &'static str {
    match held {
        Held::Free => "free",
        Held::Glued => "glued",
        Held::Rim => "glued to the rim",
        Held::Guided => "in its guide",
        Held::Rests => "rests",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_systems() {
        let [si, us] = [Shown(System::Metric), Shown(System::UsCustomary)];
        assert_eq!(si.stress_of(1.14, 2.7), "1.1 of 2.7 MPa");
        assert_eq!(us.stress_of(1.0, 2.7), "145 of 392 psi");
        assert_eq!(si.range([0.263, 1.6]), "0.26 to 1.6 mm");
        assert_eq!([si.kg(20.637), us.kg(20.637)], ["20.6 kg", "45.5 lb"]);
        // A cubic metre of water weighs 62.4 lb per cubic foot: 1000 kg/m are 672 lb/ft.
        assert_eq!([si.per_metre(1000.0), us.per_metre(1000.0)], ["1000 kg/m", "672 lb/ft"]);
        // 40 lbf/ft², the usual floor of homes there, is 1.92 kN/m² (ASCE 7, Table 4.3-1).
        assert_eq!([si.pressure(1.915), us.pressure(1.915)], ["1.9 kN/m²", "40 lbf/ft²"]);
        // NIST SP 811, B.8: 1 lbf/in is 175.1268 N/m.
        assert_eq!([si.per_length(0.175), us.per_length(0.175_126_8)], ["0.17 N/mm", "1.0 lbf/in"]);
        assert_eq!([si.force(44.48), us.force(44.482_22)], ["44 N", "10.0 lbf"]);
        assert_eq!([0.891, 12.0, f64::INFINITY].map(show_factor), ["0.89", "over 10", "over 10"]);
    }
}

//! From a quantity to what people read.

use crate::kind::{KG_PER_LB, L_PER_GAL, MM_PER_IN};
use crate::quantity::{Flow, Length, Mass, Salinity, Speed, Temperature, Volume};

/// The units that a report is written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Millimetres, litres, degrees Celsius.
    #[default]
    Metric,
    /// Inches, US gallons, degrees Fahrenheit.
    UsCustomary,
}

/// Pounds-force per square inch in 1 MPa: 1e6 / (4.448 221 615 260 5 / 0.0254²) (NIST SP 811).
const PSI_PER_MPA: f64 = 145.037_737_730_2;

impl System {
    /// A stress given in MPa: `2.7 MPa`, `392 psi`.
    pub fn show_stress(self, mpa: f64) -> String {
        match self {
            Self::Metric if mpa < 0.1 => format!("{} MPa", rounded(mpa, 2)),
            Self::Metric => format!("{} MPa", rounded(mpa, 1)),
            Self::UsCustomary => format!("{} psi", rounded(mpa * PSI_PER_MPA, 0)),
        }
    }
}

impl Length {
    /// `12.5 mm`, `36.25 in`: to 0.1 mm or 0.01 in, without trailing zeros.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} mm", rounded(self.to_mm(), 1)),
            System::UsCustomary => format!("{} in", rounded(self.to_in(), 2)),
        }
    }
}

impl Length {
    /// As finely as a caliper reads: `7.85 mm`, `0.309 in`, to 0.01 mm or 0.001 in.
    pub fn show_fine(self, system: System) -> String {
        match system {
            System::Metric => format!("{} mm", rounded(self.to_mm(), 2)),
            System::UsCustomary => format!("{} in", rounded(self.to_in(), 3)),
        }
    }
}

impl Volume {
    /// `12.5 L`, `3.3 gal`.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} L", rounded(self.to_l(), 1)),
            System::UsCustomary => format!("{} gal", rounded(self.to_l() / L_PER_GAL, 1)),
        }
    }
}

impl Flow {
    /// `3000 L/h`, `793 gph`.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} L/h", rounded(self.to_l_per_h(), 0)),
            System::UsCustomary => format!("{} gph", rounded(self.to_l_per_h() / L_PER_GAL, 0)),
        }
    }
}

impl Temperature {
    /// `25 °C`, `77 °F`.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} °C", rounded(self.to_celsius(), 1)),
            System::UsCustomary => {
                format!("{} °F", rounded(self.to_celsius() * 9.0 / 5.0 + 32.0, 1))
            }
        }
    }
}

impl Salinity {
    /// `35 g/kg` in either system.
    pub fn show(self) -> String {
        format!("{} g/kg", rounded(self.to_g_per_kg(), 1))
    }
}

impl Speed {
    /// `1800 mm/min`, `71 in/min`.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} mm/min", rounded(self.to_mm_per_min(), 0)),
            System::UsCustomary => {
                format!("{} in/min", rounded(self.to_mm_per_min() / MM_PER_IN, 0))
            }
        }
    }
}

impl Mass {
    /// `12.5 kg`, `27.6 lb`.
    pub fn show(self, system: System) -> String {
        match system {
            System::Metric => format!("{} kg", rounded(self.to_kg(), 2)),
            System::UsCustomary => format!("{} lb", rounded(self.to_kg() / KG_PER_LB, 2)),
        }
    }
}

/// At most so many decimals, no trailing zeros, no minus zero.
pub(crate) fn rounded(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_systems() {
        assert_eq!(Length::mm(920.75).show(System::UsCustomary), "36.25 in");
        assert_eq!(Length::mm(7.85).show_fine(System::Metric), "7.85 mm");
        assert_eq!(Length::mm(7.85).show_fine(System::UsCustomary), "0.309 in");
        assert_eq!(Length::mm(-0.01).show(System::Metric), "0 mm");
        assert_eq!(Flow::l_per_h(3000.0).show(System::Metric), "3000 L/h");
        assert_eq!(Temperature::celsius(25.0).show(System::UsCustomary), "77 °F");
    }
}

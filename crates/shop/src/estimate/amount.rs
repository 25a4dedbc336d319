//! How much of something, in the units of the file.

use params::M2_PER_FT2;
use units::System;

use super::money::shown_money;

/// Millilitres in a US fluid ounce, exactly: a gallon of 231 cubic inches has 128.
const ML_PER_FL_OZ: f64 = 29.573_529_562_5;

/// `7 to 62 mL`, `0.23 to 2.1 fl oz`.
pub(crate) fn shown_fluid(ml: [f64; 2], system: System) -> String {
    match system {
        System::Metric => shown_money(ml, "mL"),
        System::UsCustomary => shown_money(ml.map(|ml| ml / ML_PER_FL_OZ), "fl oz"),
    }
}

/// An area as film is sold by: `0.45 m²`, `4.8 ft²`.
pub fn shown_area(m2: f64, system: System) -> String {
    match system {
        System::Metric => format!("{m2:.2} m²"),
        System::UsCustomary => format!("{:.1} ft²", m2 / M2_PER_FT2),
    }
}

/// `12 to 30 min`, `1.5 to 2.3 h`.
pub(super) fn shown_minutes(minutes: [f64; 2]) -> String {
    if minutes[1] < 120.0 {
        shown_money(minutes, "min")
    } else {
        shown_money(minutes.map(|minutes| minutes / 60.0), "h")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_in_the_units_of_the_file() {
        // 1 pint of 473.176 mL is 16 fl oz (NIST Handbook 44, appendix C).
        assert_eq!(shown_fluid([473.176_473; 2], System::UsCustomary), "16 fl oz");
        assert_eq!(shown_fluid([7.4, 61.2], System::Metric), "7 to 62 mL");
        // 1 m² is 10.764 square feet (NIST Handbook 44, appendix C).
        assert_eq!(shown_area(10.0, System::UsCustomary), "107.6 ft²");
        assert_eq!(shown_area(0.454, System::Metric), "0.45 m²");
    }
}

//! From what people write to a quantity.

use std::str::FromStr;

use crate::kind::{Kind, Reading};
use crate::quantity::{Angle, Flow, Length, Mass, Quantity, Salinity, Speed, Temperature, Volume};

/// Why a text is not the quantity that is asked for. The text of the error says what would be.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ParseError {
    /// There is no number at the front.
    #[error("`{text}` does not start with a number; write a {quantity} such as `{example}`")]
    NoNumber {
        /// What was written.
        text: String,
        /// The quantity that is asked for.
        quantity: &'static str,
        /// One that would do.
        example: &'static str,
    },
    /// The number has a comma.
    #[error(
        "`{text}` has a comma in its number; write a point before decimals and nothing between thousands"
    )]
    Comma {
        /// What was written.
        text: String,
    },
    /// The unit is none of this quantity's.
    #[error("`{unit}` is not a unit of {quantity}; write one of {known}")]
    WrongUnit {
        /// The unit that was written.
        unit: String,
        /// The quantity that is asked for.
        quantity: &'static str,
        /// The units that would do.
        known: String,
    },
    /// The number is infinite or none.
    #[error("`{text}` is not a finite number")]
    NotFinite {
        /// What was written.
        text: String,
    },
}

/// Reads a number with an optional unit.
pub(crate) fn read(kind: &'static Kind, text: &str) -> Result<Reading, ParseError> {
    let no_number = || ParseError::NoNumber {
        text: text.to_owned(),
        quantity: kind.name,
        example: kind.example,
    };
    let (number, rest) = mixed_number(text.trim_matches(is_space)).ok_or_else(no_number)?;
    let rest = rest.trim_matches(is_space);
    let reading =
        if rest.is_empty() { kind.bare(number) } else { with_unit(kind, number, rest, text)? };
    if reading.to_bare().is_finite() {
        Ok(reading)
    } else {
        Err(ParseError::NotFinite { text: text.to_owned() })
    }
}

fn with_unit(
    kind: &'static Kind,
    number: f64,
    written: &str,
    text: &str,
) -> Result<Reading, ParseError> {
    match kind.units.iter().find(|unit| unit.spellings.contains(&written)) {
        Some(unit) => Ok(Reading {
            number,
            unit: unit.spellings[0],
            factor: unit.factor,
            offset: unit.offset,
        }),
        None if written.starts_with(',') => Err(ParseError::Comma { text: text.to_owned() }),
        None => Err(ParseError::WrongUnit {
            unit: written.to_owned(),
            quantity: kind.name,
            known: kind.units().map(|unit| format!("`{unit}`")).collect::<Vec<_>>().join(", "),
        }),
    }
}

/// Spaces that stand in and about a quantity: the plain one, and those that word processors put between
/// a number and its unit.
pub(crate) const SPACES: [char; 4] = [' ', '\t', '\u{a0}', '\u{202f}'];

fn is_space(c: char) -> bool {
    SPACES.contains(&c)
}

/// `36 1/4`, `36-1/4`, `36¼`, `1/4`, `-3.5`, `1e3`: the value and what follows it.
fn mixed_number(text: &str) -> Option<(f64, &str)> {
    let (negative, body) = match text.strip_prefix('-') {
        Some(body) => (true, body),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (value, rest) = match fraction_sign(body) {
        Some(found) => found,
        None => {
            let (first, rest) = decimal(body)?;
            with_fraction(first, rest)
        }
    };
    Some((if negative { -value } else { value }, rest))
}

/// Takes in the fraction that follows a number, if one does.
fn with_fraction(first: f64, rest: &str) -> (f64, &str) {
    if let Some((denominator, after)) = rest.strip_prefix('/').and_then(whole) {
        return (first / denominator, after);
    }
    let trimmed = rest.trim_start_matches(is_space);
    if let Some((fraction, after)) = fraction_sign(trimmed) {
        return (first + fraction, after);
    }
    let dashed = trimmed.strip_prefix('-').map(|after| after.trim_start_matches(is_space));
    let spaced = (trimmed.len() < rest.len()).then_some(trimmed);
    if let Some((numerator, after)) = dashed.or(spaced).and_then(whole)
        && let Some((denominator, after)) = after.strip_prefix('/').and_then(whole)
    {
        return (first + numerator / denominator, after);
    }
    (first, rest)
}

/// A fraction in one character, as word processors write it.
fn fraction_sign(text: &str) -> Option<(f64, &str)> {
    const SIGNS: [(char, f64); 7] = [
        ('¼', 0.25),
        ('½', 0.5),
        ('¾', 0.75),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
    ];
    SIGNS.iter().find_map(|&(sign, value)| Some((value, text.strip_prefix(sign)?)))
}

fn decimal(text: &str) -> Option<(f64, &str)> {
    let digits = |s: &str| s.bytes().take_while(u8::is_ascii_digit).count();
    let mut end = digits(text);
    if text[end..].starts_with('.') {
        end += 1 + digits(&text[end + 1..]);
    }
    if text[end..].starts_with(['e', 'E']) {
        let sign = usize::from(text[end + 1..].starts_with(['+', '-']));
        let exponent = digits(&text[end + 1 + sign..]);
        if exponent > 0 {
            end += 1 + sign + exponent;
        }
    }
    let value = text[..end].parse().ok()?;
    Some((value, &text[end..]))
}

fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    Some((text[..end].parse().ok()?, &text[end..]))
}

/// Reads a quantity.
pub(crate) fn parse<Q: Quantity>(text: &str) -> Result<Q, ParseError> {
    Ok(Q::from_bare(read(Q::KIND, text)?.to_bare()))
}

macro_rules! from_str {
    ($($type:ident),*) => {$(
        impl FromStr for $type {
            type Err = ParseError;
            fn from_str(text: &str) -> Result<Self, ParseError> {
                parse(text)
            }
        }
    )*};
}
from_str!(Length, Volume, Flow, Temperature, Salinity, Angle, Mass, Speed);

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, mm: f64) {
        let length: Length = text.parse().unwrap();
        assert!((length.to_mm() - mm).abs() < 1e-9, "{text} is {} mm", length.to_mm());
    }

    #[test]
    fn lengths_as_people_write_them() {
        check("230", 230.0);
        check(" 23 cm ", 230.0);
        check("36 1/4 in", 920.75);
        check("36\u{a0}1/4\u{a0}in", 920.75);
        check("36-1/4\"", 920.75);
        check("36 ¼ in", 920.75);
        check("36¼″", 920.75);
        check("½ in", 12.7);
        check("1/4in", 6.35);
        check("-1.5 mm", -1.5);
        check("-1 1/2 in", -38.1);
        check("1e3", 1000.0);
        check("3 ft", 914.4);
    }

    #[test]
    fn a_wrong_unit_is_named_with_the_right_ones() {
        let error = "3 gal".parse::<Length>().unwrap_err();
        assert_eq!(
            error.to_string(),
            "`gal` is not a unit of length; write one of `mm`, `cm`, `m`, `in`, `ft`"
        );
    }

    #[test]
    fn a_comma_is_explained() {
        assert!(matches!("7,5 mm".parse::<Length>(), Err(ParseError::Comma { .. })));
        assert!(matches!("1,000 gph".parse::<Flow>(), Err(ParseError::Comma { .. })));
    }

    #[test]
    fn nonsense_is_refused() {
        for text in [
            "",
            "mm",
            "1/0 in",
            "--3",
            "1..2",
            "é",
            "3é",
            "1e999",
            "nan",
            "inf",
            "- 3",
            "36 1/4 1/4 in",
        ] {
            assert!(text.parse::<Length>().is_err(), "{text}");
        }
    }

    #[test]
    fn temperatures_have_an_offset() {
        let t: Temperature = "78 F".parse().unwrap();
        assert!((t.to_celsius() - 25.555_555_555_555_557).abs() < 1e-12);
    }

    /// NIST SP 811 (2008), B.8: gallon (U.S.) per day to cubic metre per second, 4.381 264 E-08.
    #[test]
    fn flows_in_a_day() {
        let flow = |text: &str| text.parse::<Flow>().unwrap();
        assert!((flow("4 L/day").to_l_per_h() - 4.0 / 24.0).abs() < 1e-12);
        assert!((flow("1 gal/day").to_m3_per_s() / 4.381_264e-8 - 1.0).abs() < 1e-6);
        assert!((flow("24 gpd").to_l_per_h() - flow("1 gph").to_l_per_h()).abs() < 1e-12);
    }

    #[test]
    fn a_reading_keeps_the_unit() {
        let reading = Length::KIND.read("36 1/4 inches").unwrap();
        assert_eq!(reading.to_string(), "36.25 in");
        assert_eq!(reading.show(4000.0), "157.4803 in");
        assert_eq!(Temperature::KIND.read("78 °F").unwrap().show(45.0), "113 F");
        assert_eq!(Length::KIND.bare(1e300).to_string(), "1e300 mm");
    }
}

//! From what people write to a quantity.

use std::str::FromStr;

use crate::quantity::{Angle, Flow, Length, Mass, Quantity, Salinity, Temperature, Volume};

/// Why a text is not the quantity that is asked for. The text of the error says what would be.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ParseError {
    /// There is no number at the front.
    #[error("`{text}` does not start with a number")]
    NoNumber {
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

/// Reads a number with an optional unit: `12`, `12.5 mm`, `1/4 in`, `36 1/4 in`, `36-1/4"`.
pub(crate) fn parse<Q: Quantity>(text: &str) -> Result<Q, ParseError> {
    let trimmed = text.trim();
    let no_number = || ParseError::NoNumber { text: text.to_owned() };
    let (number, rest) = mixed_number(trimmed).ok_or_else(no_number)?;
    let rest = rest.trim();
    let value = if rest.is_empty() {
        number
    } else {
        let unit = Q::UNITS.iter().find(|u| u.spellings.contains(&rest)).ok_or_else(|| ParseError::WrongUnit {
            unit: rest.to_owned(),
            quantity: Q::NAME,
            known: Q::UNITS.iter().map(|u| format!("`{}`", u.spellings[0])).collect::<Vec<_>>().join(", "),
        })?;
        number * unit.factor + unit.offset
    };
    if value.is_finite() { Ok(Q::from_bare(value)) } else { Err(ParseError::NotFinite { text: text.to_owned() }) }
}

/// `36 1/4`, `36-1/4`, `1/4`, `-3.5`, `1e3`: the value and what follows it.
fn mixed_number(text: &str) -> Option<(f64, &str)> {
    let (negative, body) = match text.strip_prefix('-') {
        Some(body) => (true, body),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (first, mut rest) = decimal(body)?;
    let mut value = first;
    if let Some((denominator, after)) = rest.strip_prefix('/').and_then(whole) {
        value = first / denominator;
        rest = after;
    } else if let Some(fraction) = rest.strip_prefix([' ', '-'])
        && let Some((numerator, after)) = whole(fraction.trim_start())
        && let Some((denominator, after)) = after.strip_prefix('/').and_then(whole)
    {
        value = first + numerator / denominator;
        rest = after;
    }
    Some((if negative { -value } else { value }, rest))
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
from_str!(Length, Volume, Flow, Temperature, Salinity, Angle, Mass);

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
        check("36-1/4\"", 920.75);
        check("1/4in", 6.35);
        check("-1.5 mm", -1.5);
        check("1e3", 1000.0);
        check("3 ft", 914.4);
    }

    #[test]
    fn a_wrong_unit_is_named_with_the_right_ones() {
        let error = "3 gal".parse::<Length>().unwrap_err();
        assert_eq!(error.to_string(), "`gal` is not a unit of length; write one of `mm`, `cm`, `m`, `in`, `ft`");
    }

    #[test]
    fn nonsense_is_refused() {
        for text in ["", "mm", "1/0 in", "--3", "1..2", "é", "3é"] {
            assert!(text.parse::<Length>().is_err(), "{text}");
        }
    }

    #[test]
    fn temperatures_have_an_offset() {
        let t: Temperature = "78 F".parse().unwrap();
        assert!((t.to_celsius() - 25.555_555_555_555_557).abs() < 1e-12);
    }
}

//! Ranges of numbers without false precision.

/// A range as `93 to 141 EUR`, shown to two significant digits of its width: the least rounded down, the greatest up.
/// What has no width is an exact price and is shown to the hundredth, or to its second digit where it is less.
pub fn shown_money([least, most]: [f64; 2], currency: &str) -> String {
    let width = most - least;
    let behind = if currency.is_empty() { String::new() } else { format!(" {currency}") };
    if width < EXACT * most.abs().max(0.01) {
        return format!("{}{behind}", plain(least, exact_digits(least)));
    }
    // The place of the second digit of the width.
    #[expect(clippy::cast_possible_truncation, reason = "clamped")]
    let place = (libm::log10(width).floor() - 1.0).clamp(-2.0, 9.0) as i32;
    let step = libm::pow(10.0, f64::from(place));
    // A hair for numbers that are whole steps but for rounding.
    let least = (least / step + 1e-9).floor() * step;
    let most = (most / step - 1e-9).ceil() * step;
    #[expect(clippy::cast_sign_loss, reason = "at most 2, never less than 0")]
    let digits = (-place).max(0) as usize;
    format!("{} to {}{behind}", plain(least, digits), plain(most, digits))
}

/// A price as it is asked: `148 EUR`.
pub fn shown_price(price: f64, currency: &str) -> String {
    shown_money([price; 2], currency)
}

/// Decimals of an exact price: two, and more for one below a hundredth, which is not shown as nothing.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 2 and 12")]
fn exact_digits(price: f64) -> usize {
    if 0.0 < price && price < 0.01 {
        (1.0 - libm::log10(price).floor()).clamp(2.0, 12.0) as usize
    } else {
        2
    }
}

/// Ranges narrower than this share of themselves have no width.
const EXACT: f64 = 1e-6;

/// A number with so many decimals at most, none of which end in a nought that says nothing.
fn plain(number: f64, digits: usize) -> String {
    let text = format!("{:.digits$}", number + 0.0);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_range_is_shown_to_two_digits_of_its_width() {
        for (range, shown) in [
            ([93.27, 140.9], "93 to 141 EUR"),
            ([93.27, 94.9], "93.2 to 94.9 EUR"),
            ([1234.5, 5678.9], "1200 to 5700 EUR"),
            ([0.0, 0.031], "0 to 0.04 EUR"),
            ([120.0, 120.0], "120 EUR"),
            ([119.95, 119.95], "119.95 EUR"),
            ([0.004, 0.004], "0.004 EUR"),
            ([0.000_123, 0.000_123], "0.00012 EUR"),
            ([0.0, 0.0], "0 EUR"),
        ] {
            assert_eq!(shown_money(range, "EUR"), shown);
        }
        assert_eq!(shown_money([5.0, 9.0], ""), "5 to 9");
    }

    proptest! {
        /// The true range always lies within the shown one.
        #[test]
        fn what_is_shown_holds_what_is_so(least in 0.0..1e5_f64, width in 0.0..1e5_f64) {
            let shown = shown_money([least, least + width], "");
            let parts: Vec<f64> = shown.split(" to ").map(|part| part.parse().unwrap()).collect();
            prop_assert!(parts[0] <= least + 0.006 && least + width <= parts[parts.len() - 1] + 0.006, "{}", shown);
        }
    }
}

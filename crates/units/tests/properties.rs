//! Guards that reading a quantity never panics, and that what is written is what is read.

use proptest::prelude::*;
use units::Kind;

fn kind() -> impl Strategy<Value = &'static Kind> {
    prop::sample::select(Kind::all().to_vec())
}

/// A text near a quantity: pieces of numbers, units and things that go wrong.
fn nearly_a_quantity() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "1", "36", "0", "1/4", "/", "1/0", "-", "+", ".", ",", " ", "\u{a0}", "½", "e", "E+9",
        "1e400", "mm", "in", "\"", "gal", "L/h", "m³", "°", "F", "K", "\u{0}", "é", "🐟", "nan",
        "inf",
    ]);
    prop::collection::vec(piece, 0..7).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_or_refused(kind in kind(), text in any::<String>()) {
        let _ = kind.read(&text);
    }

    #[test]
    fn what_is_read_is_finite_and_the_pattern_of_editors_agrees(kind in kind(), text in nearly_a_quantity()) {
        let pattern = regex_lite::Regex::new(&kind.pattern()).unwrap();
        match kind.read(&text) {
            Ok(reading) => {
                prop_assert!(reading.to_bare().is_finite());
                prop_assert!(pattern.is_match(&text), "{text:?} is read, but the pattern refuses it");
            }
            Err(units::ParseError::NotFinite { .. }) => {}
            Err(_) => prop_assert!(!pattern.is_match(&text), "{text:?} is refused, but the pattern takes it"),
        }
    }

    #[test]
    fn a_number_and_any_spelling_come_back(kind in kind(), number in -1e6..1e6f64, pick in any::<prop::sample::Index>()) {
        let spellings: Vec<_> = kind.spellings().collect();
        let reading = kind.read(&format!("{number} {}", pick.get(&spellings))).unwrap();
        prop_assert_eq!(reading.number.to_bits(), number.to_bits());
        let back = reading.in_same_unit(reading.to_bare());
        prop_assert!((back - number).abs() <= 1e-9 * number.abs().max(300.0), "{} came back as {}", number, back);
    }

    #[test]
    fn a_reading_read_again_is_the_same(kind in kind(), number in -1e12..1e12f64, pick in any::<prop::sample::Index>()) {
        let units: Vec<_> = kind.units().collect();
        let reading = kind.read(&format!("{number} {}", pick.get(&units))).unwrap();
        prop_assert_eq!(kind.read(&reading.to_string()).unwrap(), reading);
    }

    #[test]
    fn thirty_seconds_of_an_inch_are_exact(whole in 0u32..200, part in 0u32..32) {
        let inches = f64::from(whole) + f64::from(part) / 32.0;
        let reading = Kind::named("length").unwrap().read(&format!("{whole} {part}/32 in")).unwrap();
        prop_assert_eq!(reading.number.to_bits(), inches.to_bits());
    }
}

//! Guards every conversion factor against published tables.

use units::{Angle, Flow, Kind, Length, Mass, Quantity, Salinity, Speed, Temperature, Volume};

/// One of a unit, in the kind's bare unit, as published, to the `relative` precision given there.
#[track_caller]
fn check<Q: Quantity>(unit: &str, published: f64, relative: f64) {
    let ours = Q::KIND.read(&format!("1 {unit}")).expect("a unit of ours").to_bare();
    assert!(
        (ours / published - 1.0).abs() <= relative,
        "1 {unit} is {ours}, published {published}"
    );
}

/// NIST Special Publication 811 (2008), *Guide for the Use of the International System of Units*,
/// appendix B.8, whose factors have seven digits (exact ones are bold there, here compared to 1e-15).
#[test]
fn factors_are_those_of_nist_sp_811() {
    check::<Length>("in", 2.54e-2 * 1000.0, 1e-15);
    check::<Length>("ft", 3.048e-1 * 1000.0, 1e-15);
    check::<Volume>("gal", 3.785_412, 2e-7);
    check::<Volume>("imp gal", 4.546_09, 1e-15);
    check::<Flow>("gpm", 6.309_020e-5 * 3.6e6, 2e-7);
    check::<Flow>("gph", 3.785_412, 2e-7);
    check::<Mass>("lb", 4.535_924e-1, 2e-7);
    check::<Mass>("oz", 2.834_952e-2, 2e-7);
    check::<Speed>("in/min", 4.233_333e-4 * 60_000.0, 2e-7);
    check::<Speed>("ft/min", 5.08e-3 * 60_000.0, 1e-15);
    check::<Angle>("rad", 1.0 / 1.745_329e-2, 2e-7);
}

/// 16 CFR 500.19 (US Federal Trade Commission), factors to six digits.
#[test]
fn factors_are_those_of_the_us_federal_code() {
    check::<Length>("in", 25.4, 1e-15);
    check::<Length>("ft", 304.8, 1e-15);
    check::<Volume>("gal", 3.785_41, 2e-6);
    check::<Mass>("oz", 28.349_5e-3, 2e-6);
    check::<Mass>("lb", 0.453_592, 2e-6);
}

/// The US gallon is 231 in³ by law (NIST Handbook 44, appendix C), so it follows from the inch.
#[test]
fn a_gallon_is_231_cubic_inches() {
    let inch: Length = "1 in".parse().unwrap();
    check::<Volume>("gal", 231.0 * inch.to_mm().powi(3) * 1e-6, 1e-15);
}

/// The fixed points of the Fahrenheit scale, and absolute zero (NIST SP 811, B.8, temperature).
#[test]
fn temperature_scales_meet_at_their_fixed_points() {
    for (text, celsius) in [
        ("32 F", 0.0),
        ("212 F", 100.0),
        ("-40 F", -40.0),
        ("0 K", -273.15),
        ("-459.67 F", -273.15),
    ] {
        let ours = text.parse::<Temperature>().unwrap().to_celsius();
        assert!((ours - celsius).abs() < 1e-12, "{text} is {ours} °C");
    }
}

/// IOC, SCOR and IAPSO (2010), TEOS-10 manual, section 2.4: standard seawater of practical salinity 35
/// has a reference salinity of 35.165 04 g/kg.
#[test]
fn practical_salinity_is_scaled_to_reference_salinity() {
    let ours = "35 psu".parse::<Salinity>().unwrap().to_g_per_kg();
    assert!((ours - 35.165_04).abs() < 1e-12, "35 psu is {ours} g/kg");
}

#[test]
fn no_spelling_means_two_things() {
    for kind in Kind::all() {
        let mut spellings: Vec<_> = kind.spellings().collect();
        let count = spellings.len();
        spellings.sort_unstable();
        spellings.dedup();
        assert_eq!(spellings.len(), count, "{}", kind.name);
        assert_eq!(
            kind.read(&format!("3 {}", kind.bare_unit)).unwrap().show(3.0),
            format!("3 {}", kind.units().next().unwrap())
        );
        assert!(kind.read(kind.example).is_ok());
        assert_eq!(Kind::named(kind.name), Some(kind));
    }
}

//! Guards what is said of sheets.

use super::*;
use crate::sample::changed;
use findings::Grade;

#[track_caller]
fn found(changes: &[(&str, &str)]) -> Vec<(Grade, &'static str)> {
    let (file, design) = changed(changes);
    check(&file, &design).into_iter().map(|f| (f.grade, f.code)).collect()
}

#[test]
fn warmth_is_told_of_and_too_much_of_it_fails() {
    assert_eq!(found(&[]), [(Grade::Holds, "sheet-warmth")]);
    let hot = "[tolerance]\ntemperature = [15, 55]\n[box]";
    assert_eq!(found(&[("[box]", hot)]), [(Grade::Fails, "sheet-too-warm")]);
    // The water alone may be the warmest.
    let pvc = ("cast acrylic", "PVC");
    assert_eq!(
        found(&[pvc, ("[box]", "[water]\ntemperature = 45\n[box]")]),
        [(Grade::Holds, "sheet-warmth")]
    );
}

#[test]
fn extruded_sheet_is_advised_against_unless_its_maker_vouches_for_it() {
    let extruded = ("cast acrylic", "extruded acrylic");
    let codes = |found: Vec<(Grade, &'static str)>| found.iter().any(|f| f.1 == "sheet-extruded");
    assert!(codes(found(&[extruded])));
    let vouched = ("[box]", "[sheet.clear.data_sheet]\nlasting_modulus = 1500\n[box]");
    assert!(!codes(found(&[extruded, vouched])));
}

#[test]
fn sheets_that_nothing_is_cut_from_are_passed_over() {
    let other = "[sheet.other]\nmaterial = \"PVC\"\nthickness = 5\n[box]";
    assert_eq!(found(&[("[box]", other)]).len(), 1);
}

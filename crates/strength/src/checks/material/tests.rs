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

const EXTRUDED: (&str, &str) = ("cast acrylic", "extruded acrylic");

#[track_caller]
fn vouched(changes: &[(&str, &str)], data: &str) -> Vec<(Grade, &'static str)> {
    let with = format!("[sheet.clear.data_sheet]\n{data}\n[box]");
    let mut changes = changes.to_vec();
    changes.push(("[box]", &with));
    let mut found = found(&changes);
    found.retain(|f| f.1 != "sheet-warmth");
    found
}

/// Crazing comes of stress: a stiffness vouches for nothing.
#[test]
fn extruded_sheet_is_advised_against_unless_its_maker_vouches_for_a_stress() {
    let warned = [(Grade::Tight, "sheet-extruded")];
    assert_eq!(found(&[EXTRUDED])[1..], warned);
    assert_eq!(vouched(&[EXTRUDED], "modulus = 3300\nlasting_modulus = 1500"), warned);
    assert_eq!(vouched(&[EXTRUDED], "lasting_stress = 3"), []);
    // Cast sheet needs nobody to vouch for it.
    assert_eq!(vouched(&[], "lasting_modulus = 1500"), []);
}

#[test]
fn a_stress_that_crazes_is_warned_of_whoever_vouches_for_it() {
    let warned = [(Grade::Tight, "sheet-crazes")];
    assert_eq!(vouched(&[EXTRUDED], "lasting_stress = 5.2"), []);
    assert_eq!(vouched(&[EXTRUDED], "lasting_stress = 5.3"), warned);
    assert_eq!(vouched(&[], "lasting_stress = 10.3"), []);
    assert_eq!(vouched(&[], "lasting_stress = 10.4"), warned);
    // Of PVC nothing like it is published.
    assert_eq!(vouched(&[("cast acrylic", "PVC")], "lasting_stress = 12"), []);
}

/// The warmest day just at what its material bears for years, and a tenth above it.
#[test]
fn warmth_fails_beyond_what_the_material_bears() {
    for (material, service) in [("cast acrylic", 50.0), ("extruded acrylic", 45.0), ("PVC", 45.0)] {
        let at = |celsius: f64| {
            let with = format!("[tolerance]\ntemperature = [15, {celsius}]\n[box]");
            found(&[("cast acrylic", material), ("[box]", &with)])[0]
        };
        assert_eq!(at(service), (Grade::Holds, "sheet-warmth"), "{material}");
        assert_eq!(at(service + 0.1), (Grade::Fails, "sheet-too-warm"), "{material}");
    }
}

#[test]
fn sheets_that_nothing_is_cut_from_are_passed_over() {
    let other = "[sheet.other]\nmaterial = \"PVC\"\nthickness = 5\n[box]";
    assert_eq!(found(&[("[box]", other)]).len(), 1);
}

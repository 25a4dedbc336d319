//! Guards what is said of weight.

use super::*;
use crate::sample::changed;
use crate::waters::Waters;
use crate::weight::weigh;
use findings::Grade;

fn found(changes: &[(&str, &str)]) -> Vec<Finding> {
    let (file, design) = changed(changes);
    check(&weigh(&design, &Waters::default()), &file, &design)
}

#[track_caller]
fn one<'a>(findings: &'a [Finding], code: &str) -> &'a Finding {
    findings.iter().find(|f| f.code == code).expect("it is found")
}

#[test]
fn a_sump_too_heavy_for_one_is_told_of() {
    assert_eq!(one(&found(&[]), "weight-to-carry").grade, Grade::Holds);
    let weak = found(&[("[box]", "[strength]\nlift = 8\n[box]")]);
    let finding = one(&weak, "weight-to-carry");
    assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::Tight, "strength.lift"));
    assert!(finding.hint.is_some());
}

#[test]
fn the_floor_is_left_to_who_knows_it() {
    let floor = found(&[]);
    let finding = one(&floor, "floor-load");
    assert_eq!(finding.grade, Grade::NotChecked);
    assert!(
        finding.message.contains("kN/m²")
            && finding.hint.as_ref().is_some_and(|h| h.contains("engineer"))
    );
    let us = found(&[("title = \"Plain\"", "title = \"Plain\"\nreport = \"us\"")]);
    assert!(one(&us, "floor-load").message.contains("lbf/ft²"));
}

#[test]
fn equipment_without_a_weight_is_named_until_it_has_one() {
    let finding = one(&found(&[]), "weight-unknown").clone();
    assert_eq!(finding.parameter, "equipment[0]");
    assert!(finding.message.contains("pump, and ") && finding.message.contains("small parts"));
    // What is left then are small parts, by their names.
    let weighed = found(&[("kind = \"pump\"", "kind = \"pump\"\nweight = \"4 lb\"")]);
    let finding = one(&weighed, "weight-unknown");
    assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::NotChecked, "equipment"));
    assert!(finding.message.contains("screw") && !finding.message.contains("pump"));
}

#[test]
fn nothing_unknown_is_told_of_where_all_is_known() {
    let weighed = ("kind = \"pump\"", "kind = \"pump\"\nweight = \"4 lb\"");
    let (file, design) = changed(&[weighed]);
    let mut weight = weigh(&design, &Waters::default());
    weight.unknown.clear();
    assert!(check(&weight, &file, &design).iter().all(|f| f.code != "weight-unknown"));
}

/// Of exactly what one lifts, and a gram more.
#[test]
fn one_person_lifts_up_to_the_limit_of_the_file() {
    let (file, design) = changed(&[]);
    let grade = |kg: f64| {
        let mut weight = weigh(&design, &Waters::default());
        weight.carried.parts_kg = kg;
        weight.carried.water_kg = 0.0;
        one(&check(&weight, &file, &design), "weight-to-carry").grade
    };
    let alone = file.strength.lift;
    assert_eq!([grade(alone), grade(alone + 1e-3)], [Grade::Holds, Grade::Tight]);
}

#[test]
fn what_leans_out_of_its_footprint_tips() {
    let (file, design) = changed(&[]);
    let mut weight = weigh(&design, &Waters::default());
    assert!(check(&weight, &file, &design).iter().all(|f| f.code != "tips-over"));
    for (y, tips) in [(0.1, false), (-0.1, true), (399.9, false), (400.1, true)] {
        weight.dry.centre_mm.y = y;
        let found = check(&weight, &file, &design);
        assert_eq!(found.iter().any(|f| f.code == "tips-over"), tips, "{y}");
    }
    weight.dry.centre_mm.y = -4.0;
    assert_eq!(one(&check(&weight, &file, &design), "tips-over").grade, Grade::Fails);
}

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

/// NIOSH and HSE L23: alone 23 kg, two together 30.7 kg, three 34.5 kg, four 46 kg.
#[test]
fn as_many_people_lift_as_guidance_says() {
    let counts = [22.9, 23.1, 30.6, 30.8, 34.4, 34.6, 45.9, 46.1].map(|kg| people(kg, 23.0));
    let expected = [Some(1), Some(2), Some(2), Some(3), Some(3), Some(4), Some(4), None];
    assert_eq!(counts, expected);
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
    assert!(one(&found(&[]), "weight-unknown").message.contains("pump"));
    let weighed = found(&[("kind = \"pump\"", "kind = \"pump\"\nweight = \"4 lb\"")]);
    assert!(weighed.iter().all(|f| f.code != "weight-unknown"));
}

#[test]
fn what_leans_out_of_its_footprint_tips() {
    let (file, design) = changed(&[]);
    let mut weight = weigh(&design, &Waters::default());
    assert!(check(&weight, &file, &design).iter().all(|f| f.code != "tips-over"));
    weight.dry.centre_mm.y = -4.0;
    assert_eq!(one(&check(&weight, &file, &design), "tips-over").grade, Grade::Fails);
}

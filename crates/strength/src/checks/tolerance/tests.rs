//! Guards what is said of tolerances.

use super::*;
use crate::sample::changed;
use crate::stack::stacks;
use findings::Grade;

fn found(changes: &[(&str, &str)]) -> Vec<Finding> {
    let (file, design) = changed(changes);
    check(&stacks(&file, &design, &[]), &file)
}

#[track_caller]
fn one<'a>(findings: &'a [Finding], code: &str) -> &'a Finding {
    findings.iter().find(|f| f.code == code).expect("it is found")
}

const SLOT: &str = "slot = [\"loose\"]";

#[test]
fn a_narrow_channel_fails_a_wide_one_only_rattles() {
    assert_eq!(one(&found(&[]), "leaf-slides").grade, Grade::Holds);
    let narrow = found(&[(SLOT, "slot = [\"loose\"]\nclearance = 0.2")]);
    let finding = one(&narrow, "leaf-slides");
    assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::Fails, "along[1]"));
    let wide = found(&[(SLOT, "slot = [\"loose\"]\nclearance = 3")]);
    let finding = one(&wide, "leaf-slides");
    assert_eq!(finding.grade, Grade::Tight);
    assert!(finding.message.contains("rattles"), "{}", finding.message);
}

#[test]
fn a_box_glued_carelessly_jams_its_leaf() {
    let careless = found(&[("[box]", "[tolerance]\nassembly = 4\n[box]")]);
    assert_eq!(one(&careless, "leaf-fits").grade, Grade::Fails);
    assert!(one(&careless, "leaf-fits").message.contains("distance of the walls"));
}

#[test]
fn every_kind_is_told_of_and_says_what_to_do_when_it_does_not_hold() {
    let findings = found(&[("[box]", "[tolerance]\ncut = 5\nassembly = 5\nprinted = 2\n[box]")]);
    for code in [
        "leaf-slides",
        "leaf-fits",
        "leaf-held",
        "door-slides",
        "shelf-fits",
        "shelf-rests",
        "sock-sits",
        "ring-fits",
    ] {
        let finding = one(&findings, code);
        assert_ne!(finding.grade, Grade::Holds, "{code}");
        assert!(finding.hint.is_some() && finding.source.is_some() && finding.limit.is_some());
    }
}

/// Two slots alike are one finding, and another that is not alike is one of its own.
#[test]
fn alike_fits_are_told_of_once() {
    let (file, design) = changed(&[("[box]", "[tolerance]\nassembly = 4\n[box]")]);
    let fits: Vec<Stack> =
        stacks(&file, &design, &[]).into_iter().filter(|s| s.code == "leaf-fits").collect();
    let two = [fits[0].clone(), fits[0].clone()];
    let findings = check(&two, &file);
    assert_eq!(findings.len(), 1);
    assert!(findings[0].message.contains("one more like it"));
}

/// The files that come with the program: some fits are close, none is likely to fail.
#[test]
fn no_demo_fails() {
    for name in ["seahorse", "mangrove", "brook", "fragfarm"] {
        let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("the demo is there");
        let (file, design) = crate::sample::of_text(&text);
        let findings = check(&stacks(&file, &design, &[]), &file);
        let failing: Vec<_> = findings.iter().filter(|f| f.grade == Grade::Fails).collect();
        assert!(failing.is_empty() && findings.len() > 2, "{name}: {failing:#?}");
    }
}

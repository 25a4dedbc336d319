//! Guards what is said of tolerances.

use super::*;
use crate::sample::changed;
use crate::stack::stacks;
use findings::Grade;

fn found(changes: &[(&str, &str)]) -> Vec<Finding> {
    let (file, design) = changed(changes);
    check(&stacks(&file, &design, &[]), &file)
}

/// What is found of the plain sump as it is built by what it says, judged by another `tolerance`.
fn judged(tolerance: &str) -> Vec<Finding> {
    let (file, _) = changed(&[("[box]", &format!("[tolerance]\n{tolerance}\n[box]"))]);
    check(&stacks(&file, &changed(&[]).1, &[]), &file)
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
fn a_box_glued_more_carelessly_than_it_was_built_for_jams_its_leaf() {
    let careless = judged("assembly = 4");
    assert_eq!(one(&careless, "leaf-fits").grade, Grade::Fails);
    assert!(one(&careless, "leaf-fits").message.contains("distance of the walls"));
    // Where the file says so, its ends leave room for that, and then strips hardly hold it.
    let said = found(&[("[box]", "[tolerance]\nassembly = 4\n[box]")]);
    assert_eq!(one(&said, "leaf-fits").grade, Grade::Holds);
    assert_ne!(one(&said, "leaf-held").grade, Grade::Holds);
}

/// What the hint says by how much is what was missing: with it the same fit holds.
#[test]
fn a_hint_says_by_how_much() {
    let of = |clearance: f64| {
        let slot = format!("{SLOT}\nclearance = {clearance}");
        found(&[(SLOT, &slot)])
    };
    // 0.2 mm less 0.5 mm of the strips and 0.04 mm of growth leaves -0.335; 0.435 below 0.1 mm.
    let hint = one(&of(0.2), "leaf-slides").hint.clone().unwrap_or_default();
    assert!(hint.contains("`clearance` larger by 0.5 mm;"), "{hint}");
    assert_eq!(one(&of(0.7), "leaf-slides").grade, Grade::Holds);
}

#[test]
fn every_kind_is_told_of_and_says_what_to_do_when_it_does_not_hold() {
    let findings = judged("cut = 5\nassembly = 5\nprinted = 2");
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

fn measured(code: &'static str, worst_mm: [f64; 2], likely_mm: [f64; 2]) -> Stack {
    let (_, stacks) = plain();
    let stack = stacks.into_iter().find(|stack| stack.code.as_str() == code).expect("it is there");
    Stack { worst_mm, likely_mm, briefly: None, ..stack }
}

fn plain() -> (File, Vec<Stack>) {
    let (file, design) = changed(&[]);
    let all = stacks(&file, &design, &[]);
    (file, all)
}

fn grade(stack: Stack) -> Grade {
    check(&[stack], &plain().0)[0].grade
}

/// A leaf must be held by 0.5 mm: at worst just so holds, at worst less is tight, likely less fails.
#[test]
fn worst_is_tight_and_likely_fails_below_the_least_gap() {
    let held = |worst: f64, likely: f64| grade(measured("leaf-held", [worst, 9.0], [likely, 8.0]));
    assert_eq!(held(0.5, 2.0), Grade::Holds);
    assert_eq!(held(0.49, 0.5), Grade::Tight);
    assert_eq!(held(0.3, 0.49), Grade::Fails);
}

/// Above the play that a file allows (2 mm here) a leaf rattles, which it may.
#[test]
fn too_much_play_never_fails() {
    let most = measured("leaf-slides", [1.0, 1.0], [1.0, 1.0]).most_mm.expect("it has a limit");
    let slides = |high: f64| grade(measured("leaf-slides", [0.5, high], [0.6, high]));
    assert_eq!([slides(most), slides(most + 0.01)], [Grade::Holds, Grade::Tight]);
}

/// What may be too small and too large is told with both limits.
#[test]
fn both_limits_are_told() {
    let text = std::fs::read_to_string(format!(
        "{}/../../params/mangrove.toml",
        env!("CARGO_MANIFEST_DIR")
    ))
    .expect("the demo is there");
    let (file, design) = crate::sample::of_text(&text);
    let findings = check(&stacks(&file, &design, &[]), &file);
    let groove = one(&findings, "groove-takes");
    assert_eq!(groove.grade, Grade::Tight);
    let both = "below 0 mm it does not go in, above 0.2 mm thin solvent does not fill it;";
    assert!(groove.message.contains(both), "{}", groove.message);
    assert!(groove.hint.as_deref().is_some_and(|hint| hint.contains("thickened cement")));
}

#[test]
fn what_gives_way_for_hours_is_told_beside_what_holds_for_years() {
    let for_hours = |mm: f64| {
        let held = measured("leaf-held", [1.0, 9.0], [2.0, 8.0]);
        check(&[held.with_brief("water to the rim", Duration::Hours, 1.0 - mm)], &plain().0)
    };
    assert_eq!(for_hours(0.5).len(), 1);
    let found = for_hours(0.49);
    assert_eq!([found[0].grade, found[1].grade], [Grade::Tight, Grade::Holds]);
    assert!(found[0].message.contains("for hours under water to the rim"), "{}", found[0].message);
    assert_eq!(found[0].limit.as_ref().map(|l| (l.measured, l.limit)), Some((0.49, 0.5)));
}

#[test]
fn how_long_it_gives_way_is_said() {
    let (file, _) = plain();
    for (duration, words) in
        [(Duration::Hours, "for hours under"), (Duration::Days, "for days, until")]
    {
        let held = measured("leaf-held", [1.0, 9.0], [2.0, 8.0]);
        let found = check(&[held.with_brief("no top-up", duration, 0.9)], &file);
        assert!(found[0].message.contains(words), "{}", found[0].message);
    }
}

/// The hint names what the file has: strips, a printed channel, a groove.
#[test]
fn hints_speak_of_the_guides_that_the_file_has() {
    let hint = |guide: &str, code: &str| {
        let slot = format!("{SLOT}\nguide = \"{guide}\"\nclearance = 0.1");
        let (file, design) = changed(&[(SLOT, &slot)]);
        let all = stacks(&file, &design, &[]);
        let stack = all.iter().find(|stack| stack.code.as_str() == code).expect("it is there");
        hint(stack, true, 1.0, &file).into_owned()
    };
    assert!(hint("strips", "leaf-slides").contains("glue the strips"));
    assert!(hint("printed", "leaf-slides").contains("print one channel"));
    assert!(hint("groove", "leaf-slides").contains("cut one groove"));
    assert!(hint("strips", "leaf-held").contains("`guide = \"printed\"`"));
    assert!(hint("printed", "leaf-held").starts_with("make `guide_depth` larger by 1 mm"));
}

/// Before the sheet is measured, that comes first, and nothing is said of a clearance that should be larger and smaller.
#[test]
fn an_unmeasured_sheet_is_measured_first() {
    let found = found(&[("measured = 8", ""), (SLOT, &format!("{SLOT}\nclearance = 0.2"))]);
    let bad = found.iter().filter(|f| f.code == "leaf-slides" && f.grade != Grade::Holds);
    let hints: Vec<&str> = bad.filter_map(|f| f.hint.as_deref()).collect();
    assert_eq!(hints.len(), 1);
    assert!(hints[0].starts_with("measure sheet `clear` and write `measured`"), "{hints:?}");
    // Nor is anything said of what a load of hours makes of it.
    let (file, _) = changed(&[("measured = 8", "")]);
    let slides =
        measured("leaf-slides", [-1.0, 4.0], [0.0, 3.0]).with_brief("water", Duration::Hours, 0.5);
    assert_eq!(check(&[slides], &file).len(), 1);
}

/// Two slots alike are one finding, and another that is not alike is one of its own.
#[test]
fn alike_fits_are_told_of_once() {
    let (file, _) = changed(&[("[box]", "[tolerance]\nassembly = 4\n[box]")]);
    let (_, design) = changed(&[]);
    let fits: Vec<Stack> = stacks(&file, &design, &[])
        .into_iter()
        .filter(|s| s.code.as_str() == "leaf-fits")
        .collect();
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

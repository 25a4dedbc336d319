//! Guards what a maker is told of guides that are too shallow for the play that a leaf needs.

mod common;
#[allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]
mod plain;

use findings::{Finding, Grade};
use plain::PLAIN;

const SLOT: &str = "slot = [\"loose\"]";

fn findings(guide: &str, changes: &[(&str, &str)]) -> Vec<Finding> {
    let text = changes.iter().fold(PLAIN.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the plain sump has no `{from}`");
        text.replace(from, to)
    });
    let text = text.replacen(SLOT, &format!("{SLOT}\n{guide}"), 1);
    let file = params::read(&text).file.expect("it reads");
    design::resolve(&file).findings
}

#[track_caller]
fn too_shallow(findings: &[Finding]) -> &Finding {
    findings.iter().find(|f| f.code == "guide-too-shallow").expect("it is found")
}

/// Whatever is told to be written holds the leaf.
#[test]
fn what_is_told_to_be_written_mends_it() {
    let thin = [("thickness = 8\nmeasured = 8", "thickness = 3\nmeasured = 3")];
    let long = [("width = 400, height", "width = 1900, height")];
    let thick = [("thickness = 8\nmeasured = 8", "thickness = 20\nmeasured = 20")];
    let cases: [(&str, &[(&str, &str)]); 5] = [
        ("guide = \"strips\"", &thin),
        ("guide = \"printed\"\nguide_depth = 2", &[]),
        ("guide = \"strips\"", &long),
        ("guide = \"groove\"", &[]),
        ("guide = \"groove\"\nguide_depth = 2", &thick),
    ];
    for (guide, changes) in cases {
        let found = findings(guide, changes);
        let finding = too_shallow(&found);
        assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::Fails, "along[1].guide"));
        let hint = finding.hint.as_deref().expect("it says what to write");
        let written: Vec<&str> = hint.split('`').skip(1).step_by(2).collect();
        let first = written.first().expect("it is in quotes");
        let lines = match hint.contains("` and `") {
            true => written.join("\n"),
            false if first.starts_with("guide_depth") => {
                format!("{}\n{first}", guide.lines().next().expect("it has a kind"))
            }
            false => (*first).to_owned(),
        };
        let mended = findings(&lines, changes);
        assert!(mended.iter().all(|f| f.code != "guide-too-shallow"), "{guide}: {lines}");
    }
}

/// By hand: 379.2 mm between the backs of printed channels need 1.5 mm at either end. At the other end of the play the leaf
/// is short by its cuts (0.4), places (0.5) and prints (0.4), by 5 K less (0.08), and as a dry spare in a box that has swollen
/// by half of 0.4 % (0.76): 3.0 + 0.5 + 2.14.
#[test]
fn a_deep_enough_channel_is_told() {
    let found = findings("guide = \"printed\"\nguide_depth = 2", &[]);
    let hint = too_shallow(&found).hint.as_deref();
    assert_eq!(hint, Some("write `guide_depth = 5.7`"));
}

/// What is too wide for the thinnest place of a sheet is too narrow for its thickest: first of all it is measured.
#[test]
fn a_sheet_that_was_not_measured_is_measured_first() {
    let hint = |changes: &[(&str, &str)]| {
        let found = findings("clearance = 4", changes);
        let loose =
            found.into_iter().find(|f| f.code == "leaf-loose-in-guide").expect("it is found");
        loose.hint.expect("it says what to do")
    };
    let unmeasured = hint(&[("thickness = 8\nmeasured = 8", "thickness = 8")]);
    assert!(unmeasured.starts_with("measure the sheet and write `measured` into `sheet.clear`"));
    let measured = hint(&[("measured = 8", "measured = 7.9")]);
    assert!(!measured.contains("measure the sheet") && measured.contains("`clearance` smaller"));
}

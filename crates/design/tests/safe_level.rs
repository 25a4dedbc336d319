//! Guards the mark of the highest safe level: where it is engraved, and what is said where it cannot be.

mod common;
#[allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]
mod plain;

use design::{Design, Resolved, Role, SafeLevel};
use findings::Grade;
use glam::DVec3;
use plain::PLAIN;

fn resolved(changes: &[(&str, &str)], chamber: &str, height_mm: f64) -> Resolved {
    let text = changes.iter().fold(PLAIN.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the plain sump has no `{from}`");
        text.replacen(from, to, 1)
    });
    let file = params::read(&text).file.expect("a file that reads");
    design::resolve_with(&file, &SafeLevel { chamber: chamber.into(), height_mm })
}

/// Code, parameter and hint of all that is wrong.
fn wrong(resolved: &Resolved) -> Vec<(&str, &str, &str)> {
    let wrong = resolved.findings.iter().filter(|f| f.grade != Grade::Holds);
    wrong
        .map(|f| {
            assert_eq!(f.grade, Grade::Tight);
            (f.code, f.parameter.as_str(), f.hint.as_deref().unwrap_or_default())
        })
        .collect()
}

/// Every engraved stroke of the walls in the sump's frame.
fn engraved(design: &Design) -> Vec<Vec<DVec3>> {
    let mut strokes = Vec::new();
    for placed in &design.placed {
        let piece = &design.pieces[placed.piece];
        let plate::Shape::Sheet(plate) = &piece.shape else { continue };
        if piece.role == Role::Wall {
            for engraving in &plate.engravings {
                let place = |stroke: &Vec<glam::DVec2>| {
                    stroke.iter().map(|p| placed.pose.transform_point3(p.extend(0.0))).collect()
                };
                strokes.extend(engraving.strokes.iter().map(place));
            }
        }
    }
    strokes
}

#[test]
fn the_line_lies_at_its_height_and_is_the_longest() {
    let file = params::read(PLAIN).file.expect("a file that reads");
    let plain = design::resolve(&file).design.expect("a design");
    let with = resolved(&[], "return", 163.0);
    assert!(wrong(&with).is_empty(), "{:?}", with.findings);
    let design = with.design.expect("a design");
    let before = engraved(&plain);
    let new: Vec<_> = engraved(&design).into_iter().filter(|s| !before.contains(s)).collect();
    let line = &new[0];
    assert_eq!(line.len(), 2);
    for p in line {
        assert!((p.z - design.floor_z - 163.0).abs() < 1e-9, "{p}");
    }
    let length = |stroke: &[DVec3]| (stroke[1] - stroke[0]).length();
    let longest_mark = before.iter().filter(|s| s.len() == 2).map(|s| length(s));
    assert!(length(line) > longest_mark.fold(0.0, f64::max));
    // `M`, `A` and `X` stand to one side of it, and of all that was there before at this height.
    let x = |strokes: &[Vec<DVec3>]| -> [f64; 2] {
        let x = || strokes.iter().flatten().map(|p| p.x);
        [x().fold(f64::INFINITY, f64::min), x().fold(f64::NEG_INFINITY, f64::max)]
    };
    let near: Vec<Vec<DVec3>> = before
        .iter()
        .filter(|s| s.iter().all(|p| (p.z - design.floor_z - 163.0).abs() < 6.0))
        .cloned()
        .collect();
    let (word, near) = (x(&new[1..]), x(&near));
    assert!(new.len() > 3, "three letters have at least three strokes");
    assert!(word[1] < near[0] || near[1] < word[0], "{word:?} {near:?}");
}

#[test]
fn on_every_wall_the_word_is_read_beside_the_line() {
    for wall in ["front", "far-end\"\nat = 60\nread_from = \"inside", "back"] {
        let change = format!("chamber = \"return\"\nwall = \"{wall}\"\nfrom = 50");
        let with = resolved(&[("chamber = \"return\"\nfrom = 50", &change)], "return", 121.0);
        assert!(wrong(&with).is_empty(), "{wall}: {:?}", with.findings);
        let design = with.design.expect("a design");
        let at_height = |p: &DVec3| (p.z - design.floor_z - 121.0).abs() < 1e-9;
        assert!(
            engraved(&design).iter().any(|s| s.len() == 2 && s.iter().all(at_height)),
            "{wall}"
        );
    }
}

#[test]
fn scales_of_other_chambers_are_left_alone() {
    let file = params::read(PLAIN).file.expect("a file that reads");
    let plain = design::resolve(&file).design.expect("a design");
    let with = resolved(&[], "middle", 163.0);
    assert!(wrong(&with).is_empty());
    assert_eq!(engraved(&with.design.expect("a design")), engraved(&plain));
}

#[test]
fn a_level_off_the_scale_is_said() {
    let code = "safe-level-off-marks";
    let above = resolved(&[], "return", 263.0);
    assert_eq!(wrong(&above), [(code, "level_marks[0].to", "extend the scale: `to = 265`")]);
    let high = "the wall has no room for a higher scale: put a mark of your own there";
    assert_eq!(wrong(&resolved(&[], "return", 364.0)), [(code, "level_marks[0].to", high)]);
    let inches = [("from = 50\nto = 250", "unit = \"in\"\nfrom = 50\nto = 200")];
    let above = resolved(&inches, "return", 209.0);
    assert_eq!(
        wrong(&above),
        [(code, "level_marks[0].to", "extend the scale: `to = \"8.25 in\"`")]
    );
    let below = resolved(&[], "return", 31.0);
    assert_eq!(wrong(&below), [(code, "level_marks[0].from", "begin the scale lower with `from`")]);
}

#[test]
fn a_mark_without_room_is_left_out_and_stops_nothing() {
    let code = "safe-level-off-marks";
    // Just room for the scale on one side, none for the word on the other either.
    let narrow =
        [("length = 220\nlevel", "length = 30\nlevel"), ("from = 50\n", "at = 14\nfrom = 50\n")];
    let narrow = [
        narrow[0],
        narrow[1],
        ("box = [100, 80, 100]\nat = [110, 100]", "box = [20, 80, 100]\nat = [15, 100]"),
    ];
    let with = resolved(&narrow, "return", 121.0);
    assert_eq!(
        wrong(&with),
        [(code, "level_marks[0].at", "move the scale with `at`, further from the chamber's sides")]
    );
    // A hole of the far wall lies where the word would be.
    let hole = [
        (
            "chamber = \"return\"\nfrom = 50",
            "chamber = \"return\"\nwall = \"far-end\"\nat = 232\nfrom = 50",
        ),
        ("at = 200\nheight = 250", "at = 200\nheight = 200"),
    ];
    for height_mm in [200.0, 120.0] {
        let with = resolved(&hole, "return", height_mm);
        assert!(with.design.is_some());
        let codes: Vec<&str> = wrong(&with).iter().map(|(code, ..)| *code).collect();
        assert_eq!(codes, if height_mm > 150.0 { vec![code] } else { vec![] }, "{height_mm}");
    }
}

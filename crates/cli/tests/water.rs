//! What `levels` and `rehearse` print and write, and what they say when they cannot.

mod common;

use std::fs;

use common::{all_of, contents, run, sumpwright};

/// A small sump below a display: two chambers, one weir, a door, one drain, one pump.
const SMALL: &str = include_str!("water/small.toml");

/// Runs `sumpwright ARGS` in a folder that holds `sump.toml` with `text`, and keeps what it says.
#[track_caller]
fn check(name: &str, args: &[&str], text: &str) {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    insta::assert_snapshot!(name, all_of(&run(dir.path(), args)));
}

/// The small sump with words replaced.
fn small(from: &str, to: &str) -> String {
    assert!(SMALL.contains(from), "the small sump has no `{from}`");
    SMALL.replacen(from, to, 1)
}

/// The small sump without the parts that begin with these heads.
fn without(heads: &[&str]) -> String {
    let is_kept = |part: &&str| !heads.iter().any(|head| part.starts_with(head));
    SMALL.split("\n\n").filter(is_kept).collect::<Vec<_>>().join("\n\n")
}

#[test]
fn levels_of_a_small_sump() {
    check("levels", &["levels", "sump.toml", "--want", "inlet=8.5 in"], SMALL);
}

#[test]
fn levels_in_inches_and_gallons() {
    let us = small("report = \"metric\"", "report = \"us\"");
    check("levels_us", &["levels", "sump.toml"], &us);
}

#[test]
fn one_rehearsal_in_full() {
    check("rehearse_one", &["rehearse", "sump.toml", "Power Back"], SMALL);
}

#[test]
fn all_rehearsals() {
    check("rehearse_all", &["rehearse", "sump.toml"], SMALL);
    check("rehearse_list", &["rehearse", "sump.toml", "--list"], SMALL);
}

#[test]
fn a_rehearsal_that_is_not_known() {
    check("rehearse_unknown", &["rehearse", "sump.toml", "powercut"], SMALL);
    let text =
        small("[[level_marks]]", "[rehearsals]\nleave_out = [\"power cutt\"]\n\n[[level_marks]]");
    check("unknown_in_file", &["check", "sump.toml"], &text);
}

#[test]
fn a_chamber_that_no_door_sets() {
    check("want_elsewhere", &["levels", "sump.toml", "--want", "return=200"], SMALL);
    check("want_wrong", &["levels", "sump.toml", "--want", "inlet"], SMALL);
}

#[test]
fn a_file_without_display() {
    let text = without(&["[display", "[[return_line", "[[drain"]);
    check("no_display_levels", &["levels", "sump.toml"], &text);
    check("no_display_rehearse", &["rehearse", "sump.toml"], &text);
    check("no_display_check", &["check", "sump.toml"], &text);
}

#[test]
fn json_says_the_same_in_si() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), SMALL).expect("written");
    let json = |args: &[&str]| -> serde_json::Value {
        let output = run(dir.path(), args);
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        serde_json::from_slice(&output.stdout).expect("JSON")
    };
    let levels = json(&["levels", "sump.toml", "--json", "--want", "inlet=215"]);
    let kept = levels["levels"]["reserve"]["kept_m"].as_f64().expect("a number");
    assert!((kept - 0.15).abs() < 1e-12);
    let setting = levels["wanted"][0]["wish"]["setting_m"].as_f64().expect("a setting");
    assert!(0.15 < setting && setting < 0.215, "the door lies below the level: {setting}");
    let played = json(&["rehearse", "sump.toml", "power cut", "--json"]);
    assert_eq!(played["rehearsals"][0]["name"], "power cut");
    assert_eq!(played["rehearsals"][0]["stop"], "end");
    assert_eq!(played["rehearsals"][0]["events"][0]["event"], "power-out");
}

#[test]
fn files_are_written_beside_what_is_there() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), SMALL).expect("written");
    fs::create_dir(dir.path().join("water")).expect("made");
    fs::write(dir.path().join("water/mine.txt"), "mine").expect("written");
    for threads in ["1", "8"] {
        for args in [
            &["levels", "sump.toml", "--into", "water"][..],
            &["rehearse", "sump.toml", "power cut", "no top-up", "--into", "water"],
        ] {
            let mut command = sumpwright(dir.path(), args);
            let output = command.env("RAYON_NUM_THREADS", threads).output().expect("it runs");
            assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        }
        let files = contents(&dir.path().join("water"));
        let names: Vec<&str> = files.keys().map(String::as_str).collect();
        let expected = [
            "01-power-cut.csv",
            "01-power-cut.svg",
            "02-no-top-up.csv",
            "02-no-top-up.svg",
            "levels.svg",
            "levels.txt",
            "mine.txt",
            "rehearsals.csv",
        ];
        assert_eq!(names, expected);
        assert_eq!(files["mine.txt"], b"mine");
        let kept = dir.path().join(threads);
        fs::rename(dir.path().join("water"), &kept).expect("moved");
        fs::create_dir(dir.path().join("water")).expect("made");
        fs::write(dir.path().join("water/mine.txt"), "mine").expect("written");
    }
    assert!(contents(&dir.path().join("1")) == contents(&dir.path().join("8")));
}

#[test]
fn a_table_of_curves_has_a_column_for_each_tank() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), SMALL).expect("written");
    let output = run(dir.path(), &["rehearse", "sump.toml", "power cut", "--into", "."]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let table = fs::read_to_string(dir.path().join("01-power-cut.csv")).expect("text");
    let lines: Vec<&str> = table.trim_end().split("\r\n").collect();
    let head =
        "\u{feff}time after the failure (s),inlet (mm),return (mm),display (mm),overflow box (mm),";
    assert!(lines[0].starts_with(head), "{}", lines[0]);
    let columns = lines[0].split(',').count();
    assert!(lines.len() > 20 && lines.iter().all(|line| line.split(',').count() == columns));
    let time = |line: &str| -> f64 {
        line.split(',').next().and_then(|cell| cell.parse().ok()).expect("a time")
    };
    assert!((time(lines[1]) + 60.0).abs() < 1e-9, "it begins a minute before the failure");
    assert!(lines[1..].windows(2).all(|pair| time(pair[0]) <= time(pair[1])));
    // What comes down stands in the sump: the return is higher at the end than at the beginning.
    let level = |line: &str| -> f64 {
        line.split(',').nth(2).and_then(|cell| cell.parse().ok()).expect("a level")
    };
    assert!(level(lines[lines.len() - 1]) > level(lines[1]) + 10.0);
}

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
            "rehearsals.txt",
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
    let head = "\u{feff}time after the failure (s),inlet (mm),return (mm),display (mm above the display's bottom),overflow box (mm above the display's bottom),reservoir (L left),floor under the sump (L gained),";
    assert!(lines[0].starts_with(head), "{}", lines[0]);
    let columns = lines[0].split(',').count();
    assert!(lines.len() > 20 && lines.iter().all(|line| line.split(',').count() == columns));
    let time = |line: &str| -> f64 {
        line.split(',').next().and_then(|cell| cell.parse().ok()).expect("a time")
    };
    assert!((time(lines[1]) + 60.0).abs() < 1e-9, "it begins a minute before the failure");
    assert!(lines[1..].windows(2).all(|pair| time(pair[0]) < time(pair[1])));
    // What comes down stands in the sump: the return is higher at the end than at the beginning.
    let [first, last] = [lines[1], lines[lines.len() - 1]];
    assert!(cell(last, 2) > cell(first, 2) + 10.0);
    // The display stands a little over its crest, 400 mm above its own bottom; the reservoir of 5 L is full.
    assert!(400.0 < cell(first, 3) && cell(first, 3) < 420.0, "{first}");
    assert!((cell(first, 5) - 5.0).abs() < 1e-3, "{first}");
}

/// A number of a line of a table.
fn cell(line: &str, place: usize) -> f64 {
    line.split(',').nth(place).and_then(|cell| cell.parse().ok()).expect("a number")
}

#[test]
fn curves_of_a_file_in_inches_are_in_inches_and_gallons() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let curves = |text: &str| -> Vec<String> {
        fs::write(dir.path().join("sump.toml"), text).expect("written");
        let output = run(dir.path(), &["rehearse", "sump.toml", "power cut", "--into", "."]);
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let table = fs::read_to_string(dir.path().join("01-power-cut.csv")).expect("text");
        table.lines().map(str::to_owned).collect()
    };
    let (metric, us) = (curves(SMALL), curves(&small("report = \"metric\"", "report = \"us\"")));
    assert!(us[0].contains("return (in)") && us[0].contains("reservoir (gal left)"), "{}", us[0]);
    for place in 1..5 {
        assert!((cell(&metric[1], place) / 25.4 - cell(&us[1], place)).abs() < 1e-3, "{}", us[1]);
    }
    assert!((cell(&us[1], 5) - 5.0 / 3.785_411_784).abs() < 1e-3, "{}", us[1]);
}

#[test]
fn a_level_out_of_reach() {
    check("want_too_high", &["levels", "sump.toml", "--want", "inlet=320"], SMALL);
}

#[test]
fn what_holds_is_printed_when_asked_for() {
    let said = |args: &[&str]| {
        let dir = tempfile::tempdir().expect("a temporary folder");
        fs::write(dir.path().join("sump.toml"), SMALL).expect("written");
        all_of(&run(dir.path(), args))
    };
    let (some, all) = (said(&["check", "sump.toml"]), said(&["check", "sump.toml", "--all"]));
    let holding = all.matches("\nholds[").count();
    assert!(0 < holding && !some.contains("holds["), "{all}");
    assert!(some.contains(&format!("\n{holding} hold: see them with --all\n")), "{some}");
    assert!(!all.contains("--all"), "{all}");
}

#[test]
fn the_valve_of_a_main_drain_is_set_by_steps() {
    let main = "[[drain]]\nname = \"siphon\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 32\n\
        at = [100, 150]\nend = 100\nintake = 270\nelbows = 2\n\n[[drain]]\nname = \"standpipe\"";
    let dir = tempfile::tempdir().expect("a temporary folder");
    let text = small("[[drain]]\nname = \"standpipe\"", main);
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    let told = all_of(&run(dir.path(), &["levels", "sump.toml"]));
    let flat = told.replace('\n', " ");
    assert!(flat.contains("To set the valve of `siphon`: open it fully, start the pump"), "{told}");
    // The crest is 400 mm above the display's bottom: both heights of the overflow box's water say the same.
    let number = |before: &str| -> f64 {
        let rest = flat.split(before).nth(1).expect("told");
        rest.split(' ').next().and_then(|word| word.parse().ok()).expect("a number")
    };
    let (below, above) = (number("overflow box then stands "), number("below the crest ("));
    assert!((below + above - 400.0).abs() <= 1.0, "{told}");
}

//! What `fit` prints and writes, and what it says when it cannot.

mod common;

use std::fs;

use common::{all_of, contents, demo, run};
use serde_json::Value;

/// A small sump below a display: two chambers, one weir, a door, one drain, one pump.
const SMALL: &str = include_str!("water/small.toml");

/// A cabinet around it, with one door.
const CABINET: &str = "
[cabinet]
inside = { length = 640, width = 340, height = 700 }
opening = [{ side = \"front\", from = 10, to = 630, top = 690 }]
";

/// Runs `sumpwright ARGS` in a folder that holds `sump.toml` with `text`, and keeps what it says.
#[track_caller]
fn check(name: &str, args: &[&str], text: &str) {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    insta::assert_snapshot!(name, all_of(&run(dir.path(), args)));
}

/// The small sump in its cabinet.
fn in_cabinet() -> String {
    format!("{SMALL}{CABINET}")
}

fn json(args: &[&str], text: &str) -> Value {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    let output = run(dir.path(), args);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", all_of(&output)))
}

#[test]
fn a_small_sump_in_its_cabinet() {
    check("fit", &["fit", "sump.toml"], &in_cabinet());
    check("fit_list", &["fit", "sump.toml", "--list"], &in_cabinet());
}

#[test]
fn one_part_in_inches() {
    let us = in_cabinet().replacen("report = \"metric\"", "report = \"us\"", 1);
    check("fit_one_us", &["fit", "sump.toml", "Return Pump"], &us);
}

#[test]
fn an_unknown_name_is_answered_with_the_names() {
    check("fit_unknown", &["fit", "sump.toml", "retrun pump"], &in_cabinet());
}

#[test]
fn a_file_of_which_nothing_can_be_made() {
    check("fit_wrong", &["fit", "sump.toml"], &SMALL.replacen("[box]", "[bocks]", 1));
}

/// What the file in `params/` is made to show, and its mend.
#[test]
fn a_stuck_leaf_fails_with_its_reason() {
    let stuck = fs::read_to_string(demo("stuck-leaf")).expect("read");
    check("fit_stuck", &["fit", "sump.toml"], &stuck);
    let told = json(&["check", "sump.toml", "--json"], &stuck);
    let findings = told["findings"].as_array().expect("a list");
    let fails: Vec<&Value> = findings.iter().filter(|f| f["grade"] == "fails").collect();
    assert_eq!(fails.len(), 1, "{fails:#?}");
    assert_eq!(fails[0]["code"], "way-out");
}

/// A move, played as the JSON says it is played, begins where the one before ended.
#[test]
fn moves_can_be_played_from_their_json() {
    let told = json(&["fit", "sump.toml", "--json"], &in_cabinet());
    let fit = &told["fit"];
    assert!(fit["units"].as_str().is_some_and(|units| units.contains("mm")));
    assert!(fit["play"].as_str().is_some_and(|words| words.contains("pivot")));
    let ways = fit["ways"].as_array().expect("a list");
    assert_eq!(ways.len(), fit["removables"].as_array().expect("a list").len());
    let mut moves = 0;
    for way in ways {
        assert_eq!(way["comes_out"], true, "{}", way["name"]);
        for step in way["steps"].as_array().expect("a list") {
            let mut at = ([0.0, 0.0, 0.0, 1.0], [0.0, 0.0, 0.0]);
            let mut clock_s = 0.0;
            for plain in step["moves"].as_array().expect("a list") {
                assert_eq!(rigid(&plain["from"]), at, "{}", plain["words"]);
                let [begin_s, end_s] = ["begin_s", "end_s"].map(|key| number(&plain[key]));
                assert!(clock_s <= begin_s && begin_s < end_s, "{}", plain["words"]);
                (at, clock_s) = (rigid(&plain["to"]), end_s);
                moves += 1;
            }
        }
    }
    assert!(moves > ways.len(), "only {moves} moves");
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Turn and shift.
fn rigid(value: &Value) -> ([f64; 4], [f64; 3]) {
    let turn = std::array::from_fn(|k| number(&value["turn"][k]));
    (turn, std::array::from_fn(|k| number(&value["shift"][k])))
}

#[test]
fn files_are_written_and_said() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), in_cabinet()).expect("written");
    let output = run(dir.path(), &["fit", "sump.toml", "--into", "fit"]);
    let names: Vec<String> = contents(&dir.path().join("fit")).into_keys().collect();
    let (strips, others): (Vec<&String>, Vec<_>) =
        names.iter().partition(|name| name.ends_with(".png"));
    assert_eq!(others, ["fit.txt", "plan.svg", "side.svg", "ways.json"]);
    // A film strip of every way that was found.
    let ways = fs::read_to_string(dir.path().join("fit/ways.json")).expect("written");
    let ways: Value = serde_json::from_str(&ways).expect("JSON");
    let ways = ways["ways"].as_array().expect("a list");
    let found = ways.iter().filter(|way| way["steps"].as_array().is_some_and(|s| !s.is_empty()));
    assert_eq!(strips.len(), found.count());
    assert!(!strips.is_empty());
    let told = all_of(&output);
    for name in names {
        assert!(told.contains(&format!("wrote `fit/{name}`")), "{told}");
    }
}

/// The same dice give the same ways, on one thread or eight.
#[test]
fn the_same_file_gives_the_same_ways() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("mangrove");
    let told = |threads: &str| {
        let args = ["fit", file.to_str().expect("letters"), "--json"];
        let output = common::sumpwright(dir.path(), &args)
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .expect("the binary runs");
        output.stdout
    };
    assert!(told("1") == told("8"));
}

//! What `compare` tells, what it writes, and what it says when it cannot.

mod common;

use std::fs;
use std::path::Path;

use common::{all_of, run};

/// A small sump below a display.
const SMALL: &str = include_str!("water/small.toml");

fn folder() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), SMALL).expect("written");
    dir
}

#[track_caller]
fn check(name: &str, args: &[&str]) {
    let dir = folder();
    insta::assert_snapshot!(name, all_of(&run(dir.path(), args)));
}

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).expect("there")
}

#[test]
fn a_longer_box_and_a_lower_weir() {
    check(
        "compare_set",
        &["compare", "sump.toml", "--set", "box.outside.length=700", "--set", "report=us"],
    );
}

#[test]
fn settings_that_cannot_be_changed() {
    check("compare_no_item", &["compare", "sump.toml", "--set", "along[nowhere].length=200"]);
    check("compare_mistake", &["compare", "sump.toml", "--set", "box.outside.length=12 gal"]);
    check("compare_nothing", &["compare", "sump.toml"]);
}

#[test]
fn the_changed_file_is_written_where_nothing_is() {
    let dir = folder();
    let longer = ["compare", "sump.toml", "--set", "box.outside.length=700", "--into", "new.toml"];
    assert!(run(dir.path(), &longer).status.code().is_some());
    let new = read(dir.path(), "new.toml");
    assert!(new.contains("length = 700"), "{new}");
    assert_eq!(new.lines().count(), SMALL.lines().count());
    let again = run(dir.path(), &[&longer[..5], &["sump.toml"]].concat());
    assert_eq!(again.status.code(), Some(2));
    assert_eq!(read(dir.path(), "sump.toml"), SMALL, "a file that is there is left alone");
    // The two files compared say the same as the change did.
    let both = run(dir.path(), &["compare", "sump.toml", "new.toml", "--json"]);
    let both: serde_json::Value = serde_json::from_slice(&both.stdout).expect("JSON");
    let one =
        run(dir.path(), &["compare", "sump.toml", "--set", "box.outside.length=700", "--json"]);
    let one: serde_json::Value = serde_json::from_slice(&one.stdout).expect("JSON");
    let [both_told, one_told] =
        [&both, &one].map(|all| all["differences"].as_array().expect("a list"));
    assert_eq!(both_told[1..], one_told[1..]);
    assert_eq!(one["changes"][0]["after"], "700");
}

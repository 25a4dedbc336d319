//! What people see when something is wrong: exit code, standard output and standard error, whole.

mod common;

use std::fs;

use common::{all_of, run};

/// Runs `sumpwright ARGS` in a folder that holds `sump.toml` with `text`, and keeps what it says.
#[track_caller]
fn check(name: &str, args: &[&str], text: &str) {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    insta::assert_snapshot!(name, all_of(&run(dir.path(), args)));
}

/// The starter file with some words replaced.
fn starter(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(params::starter(params::Starter { us: false }), |text, (from, to)| {
        assert!(text.contains(from), "the starter file has no `{from}`");
        text.replacen(from, to, 1)
    })
}

#[test]
fn a_good_file_has_no_findings() {
    check("good", &["check", "sump.toml"], &starter(&[]));
}

#[test]
fn a_key_that_is_spelled_wrong() {
    check("unknown_key", &["check", "sump.toml"], &starter(&[("\ntool = 6", "\ntol = 6")]));
}

#[test]
fn a_unit_of_another_quantity() {
    check(
        "wrong_unit",
        &["check", "sump.toml"],
        &starter(&[("length = 820", "length = \"20 gal\"")]),
    );
}

#[test]
fn several_mistakes_are_all_shown() {
    let changes = [
        ("thickness = 10", "thickness = -10"),
        ("leaf    = \"comb\"", "leaf    = \"combe\""),
        ("joint   = \"butt\"", "joint   = \"glue\""),
        ("chamber = \"middle\"\nlength", "chamber = \"inlet\"\nlength"),
    ];
    check("several", &["check", "sump.toml"], &starter(&changes));
}

#[test]
fn text_that_is_no_toml() {
    check("no_toml", &["check", "sump.toml"], "format = 1\ntitle = \"half\nbox = {\n");
}

#[test]
fn an_empty_file() {
    check("empty", &["check", "sump.toml"], "");
}

#[test]
fn a_file_of_a_later_format() {
    check("later_format", &["check", "sump.toml"], &starter(&[("format = 1 ", "format = 2 ")]));
}

#[test]
fn chambers_longer_than_the_box() {
    check("too_long", &["check", "sump.toml"], &starter(&[("length  = 280", "length  = 900")]));
}

#[test]
fn a_failing_design_is_not_made() {
    check("make_fails", &["make", "sump.toml"], &starter(&[("length  = 280", "length  = 900")]));
}

#[test]
fn findings_as_json() {
    check("json", &["check", "sump.toml", "--json"], &starter(&[("\ntool = 6", "\ntol = 6")]));
}

#[test]
fn a_file_that_is_not_there() {
    check("missing", &["check", "sumpp.toml"], "");
}

#[test]
fn a_verb_that_is_not_there() {
    check("no_verb", &["mke", "sump.toml"], "");
}

#[test]
fn a_folder_of_somebody_else() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), starter(&[])).expect("written");
    fs::create_dir(dir.path().join("mine")).expect("made");
    fs::write(dir.path().join("mine/letter.txt"), "dear").expect("written");
    insta::assert_snapshot!(
        "foreign_folder",
        all_of(&run(dir.path(), &["make", "sump.toml", "--into", "mine"]))
    );
    assert_eq!(fs::read_dir(dir.path().join("mine")).expect("readable").count(), 1);
}

#[test]
fn a_new_file_passes_check_and_is_never_replaced_unasked() {
    for us in [&[][..], &["--us"]] {
        let dir = tempfile::tempdir().expect("a temporary folder");
        let new = |more: &[&str]| run(dir.path(), &[&["new", "tank.toml"], us, more].concat());
        assert_eq!(new(&[]).status.code(), Some(0));
        assert_eq!(run(dir.path(), &["check", "tank.toml"]).status.code(), Some(0));
        let before = common::contents(dir.path());
        assert_eq!(before.keys().collect::<Vec<_>>(), ["sumpwright.schema.json", "tank.toml"]);
        fs::write(dir.path().join("tank.toml"), "mine").expect("written");
        let again = new(&[]);
        assert_eq!(again.status.code(), Some(2), "{}", all_of(&again));
        assert_eq!(fs::read_to_string(dir.path().join("tank.toml")).expect("read"), "mine");
        assert_eq!(new(&["--force"]).status.code(), Some(0));
        assert!(common::contents(dir.path()) == before);
    }
}

#[test]
fn a_new_file_never_replaces_what_is_not_ours() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::create_dir(dir.path().join("foreign")).expect("made");
    let schema = dir.path().join("sumpwright.schema.json");
    let folder = run(dir.path(), &["new", "foreign", "--force"]);
    assert_eq!(folder.status.code(), Some(2));
    assert!(all_of(&folder).contains("`foreign` is a folder"), "{}", all_of(&folder));
    let nowhere = run(dir.path(), &["new", "no/such/sump.toml"]);
    assert_eq!(nowhere.status.code(), Some(2));
    assert!(!all_of(&nowhere).contains(".sumpwright-"), "{}", all_of(&nowhere));
    for foreign in ["mine", "{\"title\": \"mine\"}", "{}"] {
        fs::write(&schema, foreign).expect("written");
        assert_eq!(run(dir.path(), &["new", "a.toml", "--force"]).status.code(), Some(2));
        assert_eq!(fs::read_to_string(&schema).expect("read"), foreign);
        assert!(!dir.path().join("a.toml").exists());
    }
    // A schema of another version is ours, and is brought up to date.
    let ours = String::from_utf8(run(dir.path(), &["schema"]).stdout).expect("text");
    let older = ours.replacen("\"properties\"", "\"older\"", 1);
    fs::write(&schema, older).expect("written");
    assert_eq!(run(dir.path(), &["new", "a.toml"]).status.code(), Some(0));
    assert_eq!(fs::read_to_string(&schema).expect("read"), ours);
}

#[test]
fn a_colour_escape_reaches_no_pipe() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), starter(&[("tool = 6", "tool = 600")]))
        .expect("written");
    for args in [&["check", "sump.toml"][..], &["make", "sump.toml"], &["--help"], &["check"]] {
        let output = run(dir.path(), args);
        assert!(!output.stdout.contains(&0x1b) && !output.stderr.contains(&0x1b), "{args:?}");
    }
}

//! What `fittings FILE` tells, writes and refuses: all that is printed for a sump, and nothing else of it.

mod common;

use std::fs;
use std::path::Path;

use common::{all_of, assert_whole, contents, run};

/// A small sump below a display, with a door and its knobs.
const SMALL: &str = include_str!("water/small.toml");

/// What is printed for it besides.
const MORE: &str = "
[[fitting]]
kind = \"corner-block\"
loose = true
quantity = 2

[[fitting]]
kind = \"pipe-clip\"
name = \"clip of the air hose\"
loose = true
measures = { pipe = 6 }
";

fn folder(text: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    dir
}

/// The small sump with two more fittings.
fn sump() -> tempfile::TempDir {
    folder(&format!("{SMALL}{MORE}"))
}

/// Exit code, and all that was said in one line.
fn told(dir: &Path, args: &[&str]) -> (Option<i32>, String) {
    let output = run(dir, &[&["fittings"][..], args].concat());
    let words = all_of(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    (output.status.code(), words)
}

#[track_caller]
fn check_refused(args: &[&str], words: &[&str]) {
    let dir = sump();
    let (code, said) = told(dir.path(), args);
    assert_eq!(code, Some(2), "{said}");
    for word in words {
        assert!(said.contains(word), "`{word}` is not in: {said}");
    }
    assert_eq!(contents(dir.path()).len(), 1, "nothing was written");
}

#[test]
fn all_that_is_printed_is_listed() {
    let dir = sump();
    let list =
        |args: &[&str]| all_of(&run(dir.path(), &[&["fittings", "sump.toml"], args].concat()));
    insta::assert_snapshot!("fittings_of_sump", list(&[]));
    insta::assert_snapshot!("fittings_of_sump_named", list(&["Clip of the air hose", "knob-m5"]));
    assert_eq!(contents(dir.path()).len(), 1, "nothing was written");
}

#[test]
fn the_folder_holds_what_make_prints_and_nothing_of_this_machine() {
    let dir = sump();
    let made = run(dir.path(), &["make", "sump.toml", "--no-pictures", "--into", "whole"]);
    assert_eq!(made.status.code(), Some(0), "{}", all_of(&made));
    let whole = contents(&dir.path().join("whole"));
    // By its whole path, which no file may tell.
    let file = dir.path().join("sump.toml").display().to_string();
    let (code, said) = told(dir.path(), &[&file, "--into", "prints"]);
    assert_eq!(code, Some(0), "{said}");
    assert_whole(&dir.path().join("prints"), "made");
    let prints = contents(&dir.path().join("prints"));
    let mut count = 0;
    for (path, bytes) in &whole {
        if let Some(name) = path.strip_prefix("print/") {
            assert!(prints[name] == *bytes, "`{name}` is another");
            count += 1;
        }
    }
    assert!(count > 8, "{count} files were compared");
    for (name, bytes) in &prints {
        let is_part = name.starts_with(|letter: char| letter.is_ascii_digit());
        if let (true, Some(name)) = (is_part, name.strip_suffix(".step")) {
            assert!(whole[&format!("model/parts/{name}.step")] == *bytes, "`{name}` is another");
            assert!(prints.contains_key(&format!("{name}.stl")));
            assert!(prints.contains_key(&format!("{name}.3mf")));
        }
        let of_machine = dir.path().display().to_string();
        assert!(!String::from_utf8_lossy(bytes).contains(&of_machine), "a path is in `{name}`");
    }
    assert_eq!(
        String::from_utf8_lossy(&prints["command.txt"]),
        "sumpwright fittings sump.toml --into FOLDER\n"
    );
    // Again, the same bytes.
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "prints"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(contents(&dir.path().join("prints")) == prints);
    // What `make` wrote is of another kind.
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "whole"]);
    assert!(code == Some(2) && said.contains("holds what another verb"), "{said}");
}

#[test]
fn the_print_list_tells_how_each_lies_and_what_it_is_for() {
    let dir = sump();
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "prints"]);
    assert_eq!(code, Some(0), "{said}");
    let list = fs::read_to_string(dir.path().join("prints/print-list.txt")).expect("it is there");
    let list = list.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "knob M5: clamping face down, nut trap up, ",
        "A star grip with a nut pressed into it",
        "corner-block: on its side, legs along the bed, 60 × 60 × 25 mm;",
        "clip of the air hose: on its side, ",
        "plate-1.3mf: ",
        "Never print what carries the load of the water",
        "without a parameter file it is `--clearance 0.25`",
    ] {
        assert!(list.contains(words), "`{words}` is not in: {list}");
    }
}

#[test]
fn only_the_same_of_the_same_sump_is_replaced() {
    let dir = sump();
    fs::write(dir.path().join("other sump.toml"), SMALL).expect("written");
    assert_eq!(told(dir.path(), &["sump.toml", "--into", "prints"]).0, Some(0));
    let before = contents(&dir.path().join("prints"));
    for other in [&["other sump.toml"][..], &["sump.toml", "knob M5"], &["pipe-clip"]] {
        let (code, said) = told(dir.path(), &[other, &["--into", "prints"]].concat());
        assert_eq!(code, Some(2), "{said}");
        let words = "`prints` holds other fittings, of an earlier run: sump.toml;";
        assert!(said.contains(words), "{said}");
        assert!(contents(&dir.path().join("prints")) == before, "nothing was touched");
    }
    // The sump was changed: its fittings are made anew.
    let text = format!("{SMALL}{MORE}").replace("quantity = 2", "quantity = 3");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    assert_eq!(told(dir.path(), &["sump.toml", "--into", "prints"]).0, Some(0));
    let after = contents(&dir.path().join("prints"));
    assert!(after["plate-1.3mf"] != before["plate-1.3mf"]);
    // What somebody put there stays.
    fs::write(dir.path().join("prints/mine.txt"), "mine").expect("written");
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "prints"]);
    assert!(code == Some(2) && said.contains("`mine.txt`"), "{said}");
}

#[test]
fn what_the_file_says_is_not_asked_for_again() {
    check_refused(&["sump.toml", "pipe=40"], &["`pipe=40`", "in `sump.toml`, below `[[fitting]]`"]);
    check_refused(
        &["sump.toml", "--nozzle", "0.6"],
        &["`--nozzle` goes with kinds", "`[printing]`"],
    );
    check_refused(&["sump.toml", "--count", "2"], &["`[[fitting]]` as `quantity`"]);
    check_refused(&["sump.toml", "knob"], &["nothing called `knob` is printed", "`knob M5`"]);
    check_refused(&["pipe-clip", "sump.toml"], &["a file stands first", "fittings sump.toml"]);
    check_refused(&["none.toml"], &["cannot read `none.toml`"]);
}

#[test]
fn nothing_is_written_while_a_finding_fails() {
    let dir = folder(&format!("{SMALL}{MORE}\n[printing]\nbed = 50\n"));
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "prints"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(
        said.contains("print-larger-than-bed") && said.contains("nothing was written"),
        "{said}"
    );
    assert!(said.contains("corner-block is larger than the bed and lies on no plate"), "{said}");
    assert_eq!(contents(dir.path()).len(), 1);
}

#[test]
fn a_filament_that_water_does_not_suit_is_found_and_other_checks_are_left_to_check() {
    let dir = folder(&format!("{SMALL}\n[printing]\nfilament = \"PLA\"\n"));
    let (code, said) = told(dir.path(), &["sump.toml"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("PLA is for jigs, not for fittings in water"), "{said}");
    assert!(said.contains("`sumpwright check sump.toml` looks at the rest"), "{said}");
    assert!(said.contains("say where with `--into FOLDER`"), "{said}");
}

#[test]
fn a_sump_for_which_nothing_is_printed_says_so() {
    let door = SMALL.find("[leaf.gate.door]").expect("it has a door");
    let after = SMALL[door..].find("[[along]]").expect("the walk follows") + door;
    let dir = folder(&format!("{}{}", &SMALL[..door], &SMALL[after..]));
    let (code, said) = told(dir.path(), &["sump.toml", "--into", "prints"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("nothing is printed for this sump"), "{said}");
    assert_eq!(contents(dir.path()).len(), 1);
}

#[test]
fn all_of_it_is_there_as_data_and_as_a_picture() {
    let dir = sump();
    let args = ["fittings", "sump.toml", "--json", "--into", "prints", "--picture", "sheet.png"];
    let output = run(dir.path(), &args);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let printed = &value["printed"];
    let fittings = printed["fittings"].as_array().expect("a list");
    let block = fittings.iter().find(|one| one["name"] == "corner-block").expect("it is listed");
    assert_eq!(block["count"], 2);
    assert_eq!(block["orientation"], "on its side, legs along the bed");
    assert_eq!(block["plates"], serde_json::json!(["1"]));
    assert_eq!(printed["plates"][0]["file"], "plate-1.3mf");
    let coupons = printed["coupons"].as_array().expect("a list");
    assert!(coupons.iter().any(|one| one["name"] == "clearance-coupon clear"));
    let files = value["files"].as_array().expect("a list");
    assert_eq!(
        files.len(),
        contents(&dir.path().join("prints")).len(),
        "one more, less the manifest"
    );
    let picture = fs::read(dir.path().join("sheet.png")).expect("it is there");
    assert!(picture.starts_with(b"\x89PNG"));
}

//! What `fittings` lists, makes and refuses, without a parameter file.

mod common;

use common::{all_of, contents, run};

fn empty() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// Exit code 2, and what is said holds these words.
#[track_caller]
fn check_refused(args: &[&str], words: &[&str]) {
    let dir = empty();
    let output = run(dir.path(), &[&["fittings"], args].concat());
    let said = all_of(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    for word in words {
        assert!(said.contains(word), "`{word}` is not in:\n{said}");
    }
    assert!(contents(dir.path()).is_empty(), "nothing was written");
}

fn listed(units: &str) -> String {
    let output = run(empty().path(), &["fittings", "--list", "--units", units]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    String::from_utf8(output.stdout).expect("text")
}

/// Names of all kinds, from the list as data.
fn kinds() -> Vec<String> {
    let output = run(empty().path(), &["fittings", "--list", "--json"]);
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let kinds = value["kinds"].as_array().expect("a list");
    kinds.iter().map(|kind| kind["name"].as_str().expect("a name").to_owned()).collect()
}

#[test]
fn the_list_has_a_line_for_every_kind_in_either_units() {
    let (metric, us) = (listed("metric"), listed("us"));
    for kind in kinds() {
        for text in [&metric, &us] {
            let lines =
                text.lines().filter(|line| line.trim_start().starts_with(&format!("{kind} ")));
            assert_eq!(lines.count(), 1, "{kind} in:\n{text}");
        }
    }
    let line = |text: &str| {
        let found = text.lines().find(|line| line.contains(" pipe-clip ")).expect("it is listed");
        found.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(line(&metric).contains(": pipe 32 mm, width 15 mm,"), "{metric}");
    assert!(line(&us).contains(": pipe 1.26 in,"), "{us}");
    let jigs = metric.find("\nJigs and gauges").expect("they stand apart");
    assert!(metric.find("pipe-clip").expect("a part") < jigs);
    assert!(metric.find("corner-block").expect("a jig") > jigs);
    // Without a word the same.
    let output = run(empty().path(), &["fittings"]);
    assert_eq!(String::from_utf8_lossy(&output.stdout), metric);
}

#[test]
fn the_list_of_one_kind_tells_what_its_measures_mean() {
    let told = |units: &str| {
        let args = ["fittings", "--list", "pipe-clip", "clearance-coupon", "--units", units];
        let output = run(empty().path(), &args);
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let text = String::from_utf8(output.stdout).expect("text");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let metric = told("metric");
    assert!(metric.contains("pipe 32 mm 4 mm to 75 mm outer diameter of the pipe"), "{metric}");
    assert!(metric.contains("below `[printing]` as `clearance = 0.25`"), "{metric}");
    assert!(metric.contains("`--clearance 0.25`"), "{metric}");
    assert!(!metric.contains("door-knob"));
    assert!(told("us").contains("pipe 1.26 in 0.157 in to 2.953 in outer diameter of the pipe"));
}

#[test]
fn what_cannot_be_made_is_refused_by_name() {
    check_refused(&["pipe-clp"], &["no fitting is called `pipe-clp`", "did you mean `pipe-clip`?"]);
    check_refused(
        &["pipe-clip", "pipes=40"],
        &["it has no measure `pipes`", "did you mean `pipe`?", "`width`"],
    );
    check_refused(
        &["pipe-clip", "pipe=200", "--into", "clips"],
        &["cannot make a `pipe-clip`", "`pipe` is 200 mm; it goes from 4 to 75 mm"],
    );
    check_refused(
        &["pipe-clip", "pipe=wide"],
        &["`pipe=wide`", "`wide` does not start with a number"],
    );
    check_refused(&["pipe-clip", "pipe=40", "pipe=41"], &["`pipe` is given twice"]);
    check_refused(&["pipe=40"], &["`pipe=40` stands before any kind"]);
    let blanks = "write measure and value without blanks, `pipe=32`";
    check_refused(&["pipe-clip", "pipe", "=", "32"], &["`pipe = 32`", blanks]);
    check_refused(&["pipe-clip", "pipe=", "32"], &["`pipe= 32`", blanks]);
    check_refused(&["pipe-clip", "pipe", "=32"], &["`pipe =32`", blanks]);
    check_refused(&["pipe-clip", "pipe="], &["`pipe=`", "as in `pipe=32`"]);
    check_refused(&["pipe-clip", "pipe", "32"], &["`pipe` is a measure; write it as `pipe=32`"]);
    check_refused(
        &["lid-handle", "screw=M5"],
        &["`screw` counts only with `screwed=yes`", "leave `screw` out"],
    );
    check_refused(&["corner-block", "--sheet", "9.8-10.1"], &["write `9.8..10.1`, with two dots"]);
    check_refused(&["./nope.toml"], &["cannot read `./nope.toml`", "No such file"]);
    check_refused(&["./nope"], &["cannot read `./nope`", "No such file"]);
    check_refused(&["pipe-clip", "./nope.toml"], &["there is no file `./nope.toml`"]);
    check_refused(&["pipe-clip", "--sheet", "8"], &["`--sheet` is of no use here", "corner-block"]);
    check_refused(&["corner-block", "--sheet", "8..7"], &["such as `7.7..8.0`"]);
    check_refused(
        &["pipe-clip", "--nozzle", "3"],
        &["`--nozzle` is 3 mm; it goes from 0.1 to 1.2 mm"],
    );
    check_refused(&["pipe-clip", "--layer", "0.39"], &["write at most `--layer 0.3"]);
    check_refused(&["pipe-clip", "--filament", "wood"], &["write one of PETG"]);
    check_refused(&["pipe-clip", "--count", "0"], &["a number from 1 to 100"]);
    check_refused(&["--into", "clips"], &["there is nothing to write"]);
    check_refused(
        &["pipe-clip", "pipe=75", "--bed", "60x60", "--into", "clips"],
        &["`pipe-clip` does not fit onto the bed", "the printer has 60 × 60 × 60 mm", "`--bed "],
    );
    check_refused(&["pipe-clip", "--picture", "clip.svg"], &["is a PNG", "`--picture clip.png`"]);
    check_refused(&["--picture", "clip"], &["`clip` does not end in `.png`"]);
}

#[test]
fn a_folder_holds_what_a_printer_needs_and_is_the_same_every_time() {
    let dir = empty();
    let made = |folder: &str| {
        let clips = ["pipe-clip", "pipe=1 1/4 in", "pipe-clip", "width=20", "clearance-coupon"];
        let rest = ["--sheet", "7.7..8.0", "--count", "4", "--bed", "120x100", "--into", folder];
        let output = run(dir.path(), &[&["fittings"][..], &clips, &rest].concat());
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        contents(&dir.path().join(folder))
    };
    let files = made("one");
    assert!(files == made("two"), "the same bytes");
    for name in ["pipe-clip-1", "pipe-clip-2", "clearance-coupon", "plate-1", "plate-2"] {
        assert!(files.contains_key(&format!("{name}.3mf")), "{name} in {:?}", files.keys());
    }
    for name in ["pipe-clip-1", "pipe-clip-2", "clearance-coupon"] {
        assert!(files[&format!("{name}.step")].starts_with(b"ISO-10303-21;"));
        assert!(files.contains_key(&format!("{name}.stl")));
    }
    let text = String::from_utf8_lossy(&files["how-to-print.txt"]);
    for words in [
        "pipe-clip-1, 4 to print",
        "- pipe: 31.75 mm, outer diameter of the pipe.",
        "- sheet: 8 mm",
        "plate-1.3mf: ",
        "PETG may stay in the water",
        "Never print what carries the load of the water",
        "Wash before use",
        "goes into `clearance`",
        "`clearance = 0.25`",
    ] {
        assert!(text.contains(words), "`{words}` is not in:\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 90), "{text}");
    // The command in the folder makes the same again.
    let command = String::from_utf8_lossy(&files["command.txt"]).trim().replace("FOLDER", "three");
    let words: Vec<&str> = command.split(' ').skip(1).collect();
    let output = run(dir.path(), &words);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let again = contents(&dir.path().join("three"));
    assert!(again.keys().eq(files.keys()));
    let other: Vec<&String> = files.keys().filter(|name| files[*name] != again[*name]).collect();
    assert!(other.is_empty(), "these differ: {other:?}");
}

#[test]
fn a_folder_of_somebody_else_is_left_alone() {
    let dir = empty();
    std::fs::create_dir(dir.path().join("clips")).expect("made");
    std::fs::write(dir.path().join("clips/letter.txt"), "dear").expect("written");
    let output = run(dir.path(), &["fittings", "pipe-clip", "--into", "clips"]);
    assert_eq!(output.status.code(), Some(2), "{}", all_of(&output));
    assert_eq!(contents(dir.path()).len(), 1);
}

#[test]
fn only_the_same_fittings_are_replaced() {
    let dir = empty();
    let make = |what: &[&str]| {
        let output = run(dir.path(), &[&["fittings"][..], what, &["--into", "clips"]].concat());
        (output.status.code(), all_of(&output).split_whitespace().collect::<Vec<_>>().join(" "))
    };
    assert_eq!(make(&["pipe-clip", "pipe=40"]).0, Some(0));
    let first = contents(dir.path());
    let (code, said) = make(&["door-knob"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("holds other fittings, of an earlier run: pipe-clip;"), "{said}");
    assert_eq!(contents(dir.path()), first, "nothing was touched");
    // Other measures are a further try, and what they replace is said.
    let (code, said) = make(&["pipe-clip", "pipe=41"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("it was replaced") && said.contains("pipe=40"), "{said}");
    // The same again says nothing.
    let (code, said) = make(&["pipe-clip", "pipe=41"]);
    assert!(code == Some(0) && !said.contains("replaced"), "{said}");
}

#[test]
fn a_filament_that_water_takes_apart_is_told_of_fittings_and_not_of_jigs() {
    let said = |what: &[&str]| {
        let output = run(empty().path(), &[&["fittings"][..], what].concat());
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let text = String::from_utf8(output.stderr).expect("text");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let told = said(&["pipe-clip", "corner-block", "--filament", "PLA"]);
    assert!(told.contains("PLA is for jigs and for trying out"), "{told}");
    assert!(told.contains("print `pipe-clip` with `--filament PETG` or `ASA`"), "{told}");
    assert!(said(&["pipe-clip", "--filament", "nylon"]).contains("nylon needs care in water"));
    assert!(!said(&["corner-block", "--filament", "PLA"]).contains("PLA"));
    assert!(!said(&["pipe-clip"]).contains("PETG"));
}

/// What is printed to standard output, in one line.
fn printed(what: &[&str]) -> String {
    let output = run(empty().path(), &[&["fittings"][..], what].concat());
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let text = String::from_utf8(output.stdout).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn whoever_tells_no_sheet_is_told_first_which_one_it_is_made_for() {
    let told = printed(&["guide-channel", "door-stop", "pipe-clip"]);
    let first = "note: `guide-channel`, `door-stop` are made for a sheet of 8 mm, as usual: give yours with `--sheet 9.8..10.1`";
    assert!(told.starts_with(first), "{told}");
    for what in [
        &["guide-channel", "--sheet", "9.8..10.1"][..],
        &["guide-channel", "sheet=8"],
        &["pipe-clip"],
        &["door-stop", "glued=yes"],
    ] {
        assert!(!printed(what).contains("note:"), "{what:?}");
    }
    let told = printed(&["probe-holder", "sheet=10", "--sheet", "9.8..10.1"]);
    let first = "note: this `probe-holder` is made for the sheet of 10 mm that is given with it, not for that of `--sheet`: there it would be 10.1 mm";
    assert!(told.starts_with(first), "{told}");
}

#[test]
fn measures_that_do_not_count_are_not_told() {
    assert!(!printed(&["lid-handle"]).contains("screw M5"));
    assert!(printed(&["lid-handle", "screwed=yes"]).contains("screw M5"));
    let block = printed(&["door-stop", "glued=yes"]);
    assert!(!block.contains("sheet 8 mm") && block.contains("reach 25 mm"), "{block}");
}

#[test]
fn the_slicer_makes_up_only_for_what_is_not_drawn() {
    let text = |options: &[&str]| {
        let dir = empty();
        let output =
            run(dir.path(), &[&["fittings", "pipe-clip"], options, &["--into", "clip"]].concat());
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let files = contents(&dir.path().join("clip"));
        let text = String::from_utf8_lossy(&files["how-to-print.txt"]);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let both = text(&[]);
    assert!(both.contains("compensation for the first layer and for holes: both"), "{both}");
    assert!(both.contains("drawn in by 0.2 mm over one layer alone, a step"), "{both}");
    let holes = text(&["--foot", "0"]);
    assert!(holes.contains("compensation for holes, which is drawn"), "{holes}");
    assert!(holes.contains("edges on the bed drawn as they are to be"), "{holes}");
    let neither = text(&["--foot", "0", "--hole-loss", "0"]);
    assert!(neither.contains("leave the slicer's own compensation as it is"), "{neither}");
    assert!(!neither.contains("Switch off the slicer's own"), "{neither}");
}

#[test]
fn a_channel_longer_than_the_bed_is_made_in_pieces() {
    let dir = empty();
    let channel = ["guide-channel", "length=390", "--bed", "200x180", "--into", "guides"];
    let output = run(dir.path(), &[&["fittings"][..], &channel].concat());
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let said = all_of(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("a `guide-channel` of 390 mm is longer than the bed of 200 mm"),
        "{said}"
    );
    assert!(said.contains("in 2 pieces of 195 mm"), "{said}");
    let files = contents(&dir.path().join("guides"));
    for name in ["guide-channel-1.stl", "guide-channel-2.stl", "plate-1.3mf"] {
        assert!(files.contains_key(name), "{name} in {:?}", files.keys());
    }
    assert!(!files.contains_key("guide-channel-3.stl"));
}

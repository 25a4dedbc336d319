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
fn the_list_names_every_kind_with_its_limits_in_either_units() {
    let (metric, us) = (listed("metric"), listed("us"));
    for kind in kinds() {
        assert!(metric.contains(&format!("\n{kind}: ")), "{kind}");
        assert!(us.contains(&format!("\n{kind}: ")), "{kind}");
    }
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let told = "pipe 32 mm 4 mm to 75 mm outer diameter of the pipe";
    assert!(words(&metric).contains(told), "{metric}");
    let told = "pipe 1.26 in 0.157 in to 2.953 in outer diameter of the pipe";
    assert!(words(&us).contains(told), "{us}");
    // Without a word the same.
    let output = run(empty().path(), &["fittings"]);
    assert_eq!(String::from_utf8_lossy(&output.stdout), metric);
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
        &["cannot make a `pipe-clip`", "`pipe` is 200; it goes from 4 to 75"],
    );
    check_refused(
        &["pipe-clip", "pipe=wide"],
        &["`pipe=wide`", "`wide` does not start with a number"],
    );
    check_refused(&["pipe-clip", "pipe=40", "pipe=41"], &["`pipe` is given twice"]);
    check_refused(&["pipe=40"], &["`pipe=40` stands before any kind"]);
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
        &["`pipe-clip` does not fit onto the bed", "the printer has 60 × 60 × 60 mm"],
    );
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
    assert_eq!(files, made("two"), "the same bytes");
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
    ] {
        assert!(text.contains(words), "`{words}` is not in:\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 90), "{text}");
    // The command in the folder makes the same again.
    let command = String::from_utf8_lossy(&files["command.txt"]).trim().replace("FOLDER", "three");
    let words: Vec<&str> = command.split(' ').skip(1).collect();
    let output = run(dir.path(), &words);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    assert_eq!(files, contents(&dir.path().join("three")));
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

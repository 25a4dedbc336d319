//! What `make` writes: the same bytes every time, every file listed, nothing replaced that is not ours.

mod common;

use std::fs;

use common::{DEMOS, all_of, assert_whole, contents, demo, run, sumpwright};

/// A page to send stays well below the 1.5 MB that may be sent, so that a larger sump does as well.
const MOST_BYTES: usize = 1_250_000;

#[test]
fn demos_are_made_and_every_file_is_listed() {
    for name in DEMOS {
        let dir = tempfile::tempdir().expect("a temporary folder");
        fs::copy(demo(name), dir.path().join(name).with_extension("toml")).expect("copied");
        let output = run(dir.path(), &["make", &format!("{name}.toml"), "--no-pictures"]);
        assert_eq!(output.status.code(), Some(0), "{name}: {}", all_of(&output));
        let target = dir.path().join("out").join(name);
        assert_eq!(output.stdout, format!("out/{name}\n").as_bytes());
        assert_whole(&target, name);
        let files = contents(&target);
        let size = files["page.html"].len();
        assert!(size < MOST_BYTES, "{name}: page.html has {size} bytes");
        let page = String::from_utf8(files["index.html"].clone()).expect("a page is text");
        for path in files.keys().filter(|path| *path != "index.txt" && *path != "index.html") {
            assert!(
                page.contains(&format!("href=\"{path}\"")),
                "{name}: `{path}` is not in the index"
            );
        }
        let text = String::from_utf8(files["index.txt"].clone()).expect("text");
        for told in [&page, &text] {
            assert!(told.contains("the power goes: all pumps stop"), "{name}: no failure in full");
        }
        for wanted in [
            "model/assembly.step",
            "model/assembly.3mf",
            "parts.csv",
            "parameters.toml",
            "checks/solids.json",
            "checks/water.json",
            "checks/fit.json",
            "shop/glue-up-guide.pdf",
            "fit/fit.txt",
            "fit/plan.svg",
            "fit/side.svg",
            "fit/ways.json",
            "water/levels.svg",
            "water/levels.txt",
            "water/rehearsals.csv",
            "water/rehearsals.txt",
            "water/01-power-cut.csv",
            "water/01-power-cut.svg",
        ] {
            assert!(files.contains_key(wanted), "{name}: `{wanted}` is missing");
        }
    }
}

#[test]
fn the_same_file_gives_the_same_bytes_on_any_number_of_threads() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("seahorse");
    let file = file.to_str().expect("a path of letters");
    let run = |args: &[&str], threads: &str| {
        let output = sumpwright(dir.path(), args)
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .expect("the binary runs");
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    };
    let make = |target: &str, threads: &str| {
        run(&["make", file, "--into", target, "--no-pictures"], threads);
        // Small ones, so that a build for debugging is not kept busy for minutes.
        run(
            &["picture", file, "--into", &format!("{target}-pictures"), "--size", "320x240"],
            threads,
        );
        let mut files = contents(&dir.path().join(target));
        files.extend(contents(&dir.path().join(format!("{target}-pictures"))));
        files
    };
    let (one, eight) = (make("one", "1"), make("eight", "8"));
    assert_eq!(one.keys().collect::<Vec<_>>(), eight.keys().collect::<Vec<_>>());
    for (path, bytes) in &one {
        assert!(*bytes == eight[path], "`{path}` differs");
    }
}

#[test]
fn a_failing_design_writes_nothing_and_keeps_the_folder() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let path = dir.path().join("sump.toml");
    fs::copy(demo("brook"), &path).expect("copied");
    let args = ["make", "sump.toml", "--into", "target", "--no-pictures"];
    assert_eq!(run(dir.path(), &args).status.code(), Some(0));
    let before = contents(&dir.path().join("target"));
    let text = fs::read_to_string(&path)
        .expect("read")
        .replace("length = \"11 in\"", "length = \"110 in\"");
    fs::write(&path, text).expect("written");
    let output = run(dir.path(), &args);
    assert_eq!(output.status.code(), Some(1), "{}", all_of(&output));
    assert!(contents(&dir.path().join("target")) == before);
}

#[test]
fn names_in_the_file_cannot_become_markup_or_formulas() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let text = fs::read_to_string(demo("brook")).expect("read");
    let text = text.replace("title = \"Cold brook\"", "title = \"<script>alert('x')</script>\"");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    let output = run(dir.path(), &["make", "sump.toml", "--no-pictures"]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let page = fs::read_to_string(dir.path().join("out/sump/index.html")).expect("read");
    assert!(page.contains("&lt;script&gt;") && !page.contains("<script"));
}

#[test]
fn json_lists_what_was_written() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("brook");
    let output =
        run(dir.path(), &["make", file.to_str().expect("letters"), "--no-pictures", "--json"]);
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let manifest = fs::read(dir.path().join("out/brook/manifest.json")).expect("read");
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).expect("JSON");
    assert_eq!(told["folder"], "out/brook");
    assert_eq!(told["files"], manifest["files"]);
    assert_eq!(told["counts"]["fails"], 0);
}

#[test]
fn no_file_tells_where_it_was_made() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::copy(demo("brook"), dir.path().join("sump.toml")).expect("copied");
    let here = dir.path().join("sump.toml");
    let output = run(
        dir.path(),
        &["make", here.to_str().expect("letters"), "--into", "target", "--no-pictures"],
    );
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let here = dir.path().to_str().expect("letters").as_bytes();
    for (path, bytes) in contents(&dir.path().join("target")) {
        assert!(
            !bytes.windows(here.len()).any(|window| window == here),
            "`{path}` holds a path of this machine"
        );
    }
}

#[test]
fn the_parts_list_has_a_line_for_every_part() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("mangrove");
    run(dir.path(), &["make", file.to_str().expect("letters"), "--no-pictures"]);
    let files = contents(&dir.path().join("out/mangrove"));
    let list = String::from_utf8(files["parts.csv"].clone()).expect("text");
    let solids = files.keys().filter(|path| path.starts_with("model/parts/")).count();
    assert_eq!(list.split("\r\n").count(), solids + 2, "a head, the parts, and the last line end");
    assert!(list.starts_with("\u{feff}number,name,quantity,role,"), "spreadsheets need the mark");
}

#[test]
fn the_water_is_told_so_that_another_program_can_repeat_it() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("seahorse");
    run(dir.path(), &["make", file.to_str().expect("letters"), "--no-pictures"]);
    let text = fs::read(dir.path().join("out/seahorse/checks/water.json")).expect("read");
    let told: serde_json::Value = serde_json::from_slice(&text).expect("JSON");
    let list = |value: &serde_json::Value| value.as_array().expect("a list").len();
    let (tanks, elements) = (list(&told["network"]["tanks"]), list(&told["network"]["elements"]));
    assert_eq!(list(&told["parts"]), elements);
    assert_eq!(list(&told["steady"]["levels_m"]), tanks);
    assert_eq!(list(&told["steady"]["flows_m3_s"]), elements);
    let rehearsals = told["rehearsals"].as_array().expect("a list");
    assert!(rehearsals.len() > 10);
    for rehearsal in rehearsals {
        // What a cup throws out under no lid falls back: nothing happens.
        let is_cup = rehearsal["name"].as_str().is_some_and(|name| name.starts_with("cup of"));
        assert!(is_cup || list(&rehearsal["script"]["acts"]) > 0, "{}", rehearsal["name"]);
        assert_eq!(list(&rehearsal["script"]["open_scale"]), elements);
        assert_eq!(list(&rehearsal["end_levels_m"]), tanks);
        let samples = rehearsal["samples"].as_array().expect("a list");
        assert!(samples.len() > 5, "{}: {} samples", rehearsal["name"], samples.len());
        assert!(samples.iter().all(|sample| list(&sample["levels_m"]) == tanks));
    }
}

#[test]
fn a_sump_without_display_says_that_its_water_is_at_rest() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let whole = include_str!("water/small.toml");
    let is_kept = |part: &&str| {
        !["[display", "[[return_line", "[[drain"].iter().any(|head| part.starts_with(head))
    };
    let text = whole.split("\n\n").filter(is_kept).collect::<Vec<_>>().join("\n\n");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    let output = run(dir.path(), &["make", "sump.toml", "--no-pictures"]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let files = contents(&dir.path().join("out/sump"));
    let index = String::from_utf8(files["index.txt"].clone()).expect("text");
    assert!(index.contains("as it stands with nothing flowing"));
    assert!(index.contains("the file has no `[display]`"));
    assert!(!files.keys().any(|path| path.starts_with("water/")));
}

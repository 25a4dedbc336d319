//! What `strength` prints and writes, and what it says of a sump that cannot hold.

mod common;

use std::fs;

use common::{all_of, run};

/// A small sump below a display: two chambers, one weir, a door.
const SMALL: &str = include_str!("water/small.toml");

fn folder(text: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    dir
}

#[track_caller]
fn check(name: &str, text: &str) {
    let dir = folder(text);
    insta::assert_snapshot!(name, all_of(&run(dir.path(), &["strength", "sump.toml"])));
}

#[test]
fn strength_of_a_small_sump() {
    check("strength", SMALL);
    check("strength_us", &SMALL.replace("report = \"metric\"", "report = \"us\""));
}

#[test]
fn a_design_that_fails_is_not_loaded() {
    check(
        "strength_wrong",
        &SMALL.replacen("crest = { height = 270 }", "crest = { height = 470 }", 1),
    );
}

#[test]
fn json_has_panels_seams_weight_and_fits_with_their_factors() {
    let dir = folder(SMALL);
    let told = run(dir.path(), &["strength", "sump.toml", "--json", "--drawings", "drawn"]);
    let value: serde_json::Value = serde_json::from_slice(&told.stdout).expect("JSON");
    let strength = &value["strength"];
    let panels = strength["panels"].as_array().expect("panels");
    let walls: Vec<&serde_json::Value> =
        panels.iter().filter(|panel| panel["is_outer"] == true).collect();
    assert_eq!(walls.len(), 4, "four walls on a flat board");
    for panel in panels {
        // The factor is what may be carried over the greatest share of it, of panel, corners and rim.
        let number = |value: &serde_json::Value| value.as_f64().expect("a number");
        let own = panel["loads"].as_array().expect("loads").iter();
        let own = own.map(|load| number(&load["allowable_mpa"]) / number(&load["stress_mpa"]));
        let own = own.fold(f64::INFINITY, f64::min);
        let factor = panel["factor"].as_f64().unwrap_or(f64::INFINITY);
        assert!(factor <= own * (1.0 + 1e-9), "{}", panel["name"]);
        let load = panel["stress"]["load"].as_u64().expect("an index");
        let load = usize::try_from(load).expect("small");
        assert!(load < panel["loads"].as_array().expect("loads").len());
    }
    let seams = strength["seams"].as_array().expect("seams");
    let factors: Vec<f64> = seams.iter().filter_map(|seam| seam["factor"].as_f64()).collect();
    assert!(!factors.is_empty() && factors.is_sorted(), "the weakest first: {factors:?}");
    let full = &strength["weight"]["full"];
    let corners: f64 =
        full["corners_kg"].as_array().expect("four").iter().filter_map(|kg| kg.as_f64()).sum();
    let total = full["parts_kg"].as_f64().expect("kg") + full["water_kg"].as_f64().expect("kg");
    assert!((corners - total).abs() < 1e-6 * total, "four feet carry it all");
    assert!(!strength["stacks"].as_array().expect("fits").is_empty());
    assert!(strength["waters"]["density_kg_m3"].as_f64().is_some_and(|kg| 990.0 < kg));
    let files = value["files"].as_array().expect("files");
    assert_eq!(files.len(), panels.len() + 1, "a drawing of each, and the tables");
    for file in files {
        let text =
            fs::read_to_string(dir.path().join(file.as_str().expect("a path"))).expect("written");
        let is_drawing = file.as_str().is_some_and(|path| path.ends_with(".svg"));
        assert!(!is_drawing || text.contains("greatest deflection"), "{file}");
    }
}

#[test]
fn a_wall_far_too_thin_fails() {
    let thin = SMALL.replacen("thickness = 8\nmeasured = 8\n", "thickness = 2\nmeasured = 2\n", 1);
    let dir = folder(&thin);
    let told = run(dir.path(), &["strength", "sump.toml"]);
    let said = all_of(&told);
    assert_eq!(told.status.code(), Some(1), "{said}");
    assert!(said.contains("fails[panel-"), "{said}");
}

//! Guards the commissioning sheet: its numbers are those of the study, and what is not known is said.

use study::{Reading, Source};

use super::*;
use crate::guide::tests::text;

fn reading(name: &str) -> Reading {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    Reading::of(Source { name: format!("{name}.toml"), text })
}

#[test]
fn levels_doors_and_failures_are_told() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let told = text(&commissioning(reading.file.as_ref().unwrap(), &wet.design, Some(&wet), &[]));
    let in_flow = wet.known.in_flow.as_ref().unwrap();
    let figures = Figures(wet.design.report);
    for basin in in_flow.report.basins.iter().filter(|basin| basin.is_chamber) {
        let row = format!("{} | {} |", basin.name, figures.length_band(basin.level_m));
        assert!(told.contains(&row), "{row}");
    }
    for outcome in &wet.known.outcomes {
        assert!(told.contains(&capital_of(&outcome.name)), "{}", outcome.name);
    }
    let safe = in_flow.report.reserve.highest_safe_m.unwrap();
    assert!(told.contains(&format!("Never top up above {}", figures.length(safe))));
    for said in ["drip loop", "RCD", "licensed electrician", "pull the plugs", "common practice"] {
        assert!(told.contains(said), "{said}");
    }
}

#[test]
fn the_first_run_sets_the_doors_before_the_pump_and_says_to_what() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let told = text(&commissioning(reading.file.as_ref().unwrap(), &wet.design, Some(&wet), &[]));
    let in_flow = wet.known.in_flow.as_ref().unwrap();
    let figures = Figures(wet.design.report);
    for door in &in_flow.report.doors {
        let set = format!("door of {} at {}", door.leaf, figures.length(door.settings_m[1]));
        let [at, pump] = [set.as_str(), "Pump on"].map(|said| told.find(said).expect(said));
        assert!(at < pump, "{told}");
    }
}

#[test]
fn a_wanted_level_names_its_own_setting_beside_that_of_the_file() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let mut door = wet.known.in_flow.as_ref().unwrap().report.doors[0].clone();
    let figures = Figures(wet.design.report);
    let [_, as_set, highest] = door.settings_m;
    let wish = |setting_m| water::Wish {
        level_m: door.levels_m[2].mid,
        whose: "skimmer".to_owned(),
        setting_m: Some(setting_m),
        range_settings_m: None,
        flows_m3_s: None,
    };
    let [same, other] = [as_set, highest].map(wish);
    door.wish = Some(same);
    let alike = first_run::set(std::slice::from_ref(&door), figures);
    assert!(!alike.contains("instead"), "{alike}");
    door.wish = Some(other);
    let told = first_run::set(&[door], figures);
    assert!(told.contains(&format!("needs {} instead", figures.length(highest))), "{told}");
    assert!(told.contains(&format!("at {}", figures.length(as_set))), "{told}");
}

#[test]
fn the_level_after_a_power_cut_is_that_of_the_rehearsal() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let in_flow = wet.known.in_flow.as_ref().unwrap();
    let outcomes = &wet.known.outcomes;
    let reserve = &in_flow.report.reserve;
    let highest = after_power_cut_m(outcomes, reserve.basin).unwrap();
    let cut = outcomes.iter().find(|outcome| outcome.name == "power cut").unwrap();
    let reach = cut.reaches.iter().find(|reach| reach.tank == reserve.basin).unwrap();
    assert!((highest - reach.highest_m.high).abs() < 1e-12);
    // What comes down stands above the level that is kept.
    assert!(highest > reserve.kept_m);
    let told = text(&commissioning(reading.file.as_ref().unwrap(), &wet.design, Some(&wet), &[]));
    let row = told.lines().find(|line| line.starts_with(&format!("{} | ", reserve.chamber)));
    let shown = Figures(wet.design.report).length(highest);
    assert!(row.unwrap().contains(&shown), "{row:?} {shown}");
    assert!(told.contains("highest level from which a power cut leaves the freeboard"));
}

fn capital_of(name: &str) -> String {
    crate::prose::capital(name)
}

#[test]
fn the_level_rises_with_door_and_flow() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let in_flow = wet.known.in_flow.as_ref().unwrap();
    let blocks = doors::blocks(&wet.design, in_flow);
    let tables = blocks.iter().filter_map(|block| match block {
        Block::Table(table) if table.columns[0].head == "door at" => Some(table),
        _ => None,
    });
    let mut seen = 0;
    let number = |cell: &String| cell.split(' ').next().unwrap().parse::<f64>().unwrap();
    for table in tables {
        seen += 1;
        for pair in table.rows.windows(2) {
            for (lower, higher) in pair[0].iter().zip(&pair[1]) {
                assert!(number(lower) <= number(higher), "{table:?}");
            }
        }
        for row in &table.rows {
            let levels: Vec<f64> = row[1..].iter().map(number).collect();
            assert!(levels.windows(2).all(|pair| pair[0] <= pair[1]), "{row:?}");
        }
    }
    assert_eq!(seen, in_flow.report.doors.iter().filter(|door| door.has_effect).count());
    assert!(seen > 0);
    // At the door's lowest place and the whole flow it is the level that the study tells.
    let door = &in_flow.report.doors[0];
    let told = text(&blocks);
    let level = Figures(wet.design.report).length(door.levels_m[0].mid);
    let lowest = Figures(wet.design.report).length(door.settings_m[0]);
    let row = told.lines().find(|line| line.starts_with(&format!("{lowest} |"))).unwrap();
    assert!(row.ends_with(&level), "{row}: {level}");
}

#[test]
fn what_is_not_known_is_said() {
    let reading = reading("stuck-leaf");
    let design = reading.design.as_ref().unwrap();
    let told = text(&commissioning(reading.file.as_ref().unwrap(), design, None, &[]));
    assert!(told.contains("Levels and flows are not known"));
    assert!(told.contains("drip loop") && told.contains("First run"));
}

/// Whatever is done with a hand in the water, the plug is pulled before.
#[test]
fn no_hand_goes_into_water_that_a_pump_moves() {
    let mut seen = 0;
    for name in ["seahorse", "brook"] {
        let reading = reading(name);
        let wet = reading.wet().unwrap();
        let told =
            text(&commissioning(reading.file.as_ref().unwrap(), &wet.design, Some(&wet), &[]));
        assert!(!told.contains("blocked by hand") && !told.contains("Pump off."), "{name}");
        if told.contains("blocked for a minute") {
            assert!(told.contains("by its valve or by a plug on a stick"), "{told}");
        }
        let advice = told.split("And you (common practice)").nth(1).unwrap_or_default();
        let advice = advice.split("## ").next().unwrap_or_default();
        for line in advice.lines() {
            for deed in [
                "Clear the",
                "Set the door",
                "Change the socks",
                "put it back",
                "Lower it to",
                "Empty the cup",
            ] {
                let Some(at) = line.find(deed) else { continue };
                let plug = line.find("plug first, with dry hands");
                assert!(plug.is_some_and(|plug| plug < at), "{name}: {line}");
                seen += 1;
            }
        }
    }
    assert!(seen > 2, "{seen}");
}

#[test]
fn fresh_water_ends_at_half_a_gram() {
    let reading = reading("seahorse");
    let mut works = reading.design.as_ref().unwrap().waterworks.clone();
    let mut is_fresh = |g_per_kg| {
        works.water.salinity = units::Salinity::g_per_kg(g_per_kg);
        crate::fresh::is_fresh(&works)
    };
    assert!(is_fresh(0.4) && !is_fresh(0.5) && !is_fresh(35.0));
}

#[test]
fn leaves_that_need_water_on_both_sides_are_named_where_there_are_any() {
    let reading = reading("seahorse");
    let wet = reading.wet().unwrap();
    let told = |names: &[String]| {
        text(&commissioning(reading.file.as_ref().unwrap(), &wet.design, Some(&wet), names))
    };
    let sentence = "Fill and drain both sides of leaf comb together";
    assert!(told(&["leaf comb".to_owned()]).contains(sentence));
    assert!(!told(&[]).contains("Fill and drain both sides"));
}

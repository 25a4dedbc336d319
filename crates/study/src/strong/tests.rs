//! Guards what strength is told of the water: no level lower than in flow, heads from all moments that press harder than flow.

use super::*;
use crate::{Reading, Source};

fn reading(name: &str) -> Reading {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    Reading::of(Source { name: name.into(), text: std::fs::read_to_string(path).expect("a demo") })
}

#[test]
fn levels_are_those_of_the_report_and_of_the_rehearsals() {
    for name in ["seahorse", "fragfarm", "mangrove", "brook"] {
        let reading = reading(name);
        let wet = reading.wet().expect("a sound demo");
        let known = &wet.known;
        let in_flow = known.in_flow.as_ref().expect("levels in flow");
        let waters = waters(&wet.design, Some(known));
        assert_eq!(waters.basins.len(), wet.design.waterworks.basins.len(), "{name}");
        for (told, levels) in in_flow.report.basins.iter().zip(&waters.basins) {
            assert!((levels.running_mm - 1e3 * told.level_m.high).abs() < 1e-9, "{name}");
            assert!(levels.running_mm <= levels.highest_mm, "{name}");
            let is_named = !levels.highest_in.is_empty();
            assert_eq!(is_named, levels.running_mm < levels.highest_mm, "{name}");
        }
        // Every moment of every rehearsal is outdone by what is told of its two basins: by a head, or by the levels in flow.
        let levels = &waters.basins;
        for outcome in &known.outcomes {
            for sample in outcome.samples.iter().step_by(7) {
                let mm = |basin: usize| 1e3 * sample.levels_m[basin].max(0.0);
                for a in 0..levels.len() {
                    for b in (0..levels.len()).filter(|&b| b != a && mm(a) > mm(b)) {
                        let outdoes = |[high, low]: [f64; 2]| {
                            high >= mm(a) - SAME_MM && low <= mm(b) + SAME_MM
                        };
                        let of_pair = waters.heads.iter().filter(|head| head.basins == [a, b]);
                        let is_outdone = outdoes([levels[a].running_mm, levels[b].running_low_mm])
                            || of_pair.map(|head| head.levels_mm).any(outdoes);
                        assert!(is_outdone, "{name}: {a} to {b} at {} s", sample.t_s);
                    }
                }
            }
        }
        // Nowhere above what walls reckon with.
        for head in &waters.heads {
            assert!(head.levels_mm[0] <= levels[head.basins[0]].highest_mm + SAME_MM, "{head:?}");
        }
        assert!(waters.heads.iter().all(|head| !head.name.is_empty()), "{name}");
        assert!(!waters.heads.is_empty(), "{name}: a power cut drains a chamber");
        println!("{name}: {} heads of {} basins", waters.heads.len(), levels.len());
    }
}

#[test]
fn without_levels_the_water_is_as_heavy_as_its_salt_makes_it() {
    let mut reading = reading("brook");
    let design = reading.design.as_mut().expect("a design");
    let told = waters(design, None);
    assert!(told.basins.is_empty() && told.heads.is_empty());
    assert!((990.0..1000.0).contains(&told.density_kg_m3), "fresh: {}", told.density_kg_m3);
    design.waterworks.water.salinity = units::Salinity::g_per_kg(35.0);
    design.waterworks.water.temperature = units::Temperature::celsius(25.0);
    // UNESCO EOS-80 gives 1023.3 kg/m³ at 25 °C and a practical salinity of 35 (Technical papers in marine science 44).
    let salt = waters(design, None).density_kg_m3;
    assert!((1023.0..1023.7).contains(&salt), "{salt}");
    design.waterworks.water.salinity = units::Salinity::g_per_kg(90.0);
    assert!((waters(design, None).density_kg_m3 - HEAVIEST_KG_M3).abs() < 1e-9);
}

#[test]
fn a_design_that_fails_is_not_judged_and_that_is_said() {
    let sound = reading("brook");
    let wet = sound.wet();
    let strong = sound.strong(wet.as_ref()).expect("a sound demo");
    assert!(!strong.strength.panels.is_empty());
    assert_eq!(sound.of_strength(Some(&strong)), strong.findings);
    let text = sound.source.text.replacen("[box]", "[bx]", 1);
    let broken = Reading::of(Source { name: "b".into(), text });
    assert!(
        broken.strong(None).is_none() && broken.of_strength(None).is_empty(),
        "there is no file"
    );
    let mut failing = sound;
    failing.findings.push(Finding::fails("a", "", "a"));
    assert!(failing.strong(None).is_none());
    let said = failing.of_strength(None);
    assert_eq!(said.iter().map(|finding| finding.code).collect::<Vec<_>>(), ["strength"]);
}

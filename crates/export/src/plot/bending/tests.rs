//! Guards that drawings of panels are whole: every word clear of every other and on the paper, marks at their places.

use paper::Mark;
use strength::{Levels, Strength, Waters};

use super::*;

fn drawn(name: &str, is_us: bool) -> Vec<(String, Figure)> {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("a demo");
    let text = if is_us { text.replace("report = \"metric\"", "report = \"us\"") } else { text };
    let file = params::read(&text).file.expect("a demo can be read");
    let design = design::resolve(&file).design.expect("a demo has a design");
    let levels = design.waterworks.basins.iter().map(|basin| Levels {
        running_low_mm: basin.rest_mm,
        running_mm: basin.rest_mm,
        highest_mm: basin.rest_mm,
        highest_in: String::new(),
    });
    let waters = Waters { density_kg_m3: 1025.0, basins: levels.collect(), heads: Vec::new() };
    let strength = Strength::of(&file, &design, &waters);
    let title = |panel: &Panel| format!("{name}, {}", panel.name);
    let all = strength.panels.iter();
    all.map(|panel| (title(panel), figure(&design, panel, &panel.name))).collect()
}

#[test]
fn no_word_touches_another_and_all_are_on_the_paper() {
    let demos = [("seahorse", false), ("fragfarm", false), ("mangrove", false), ("brook", true)];
    for (name, is_us) in demos {
        let drawn = drawn(name, is_us);
        assert!(4 <= drawn.len(), "{name}: four walls at least");
        for (title, figure) in drawn {
            let words: Vec<(&String, [DVec2; 2])> = figure
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Words { text, .. } => Some((text, mark.bounds())),
                    _ => None,
                })
                .collect();
            for (i, (a, [lo, hi])) in words.iter().enumerate() {
                let is_on_paper = lo.cmpge(DVec2::ZERO).all() && hi.cmple(figure.size).all();
                assert!(is_on_paper, "{title}: `{a}` is not on the paper");
                for (b, [from, to]) in &words[..i] {
                    let overlap = (hi.min(*to) - lo.max(*from)).min_element();
                    assert!(overlap < 0.35, "{title}: `{a}` lies over `{b}`");
                }
            }
        }
    }
}

#[test]
fn every_drawing_tells_its_values() {
    for (title, figure) in drawn("seahorse", false) {
        let words = figure.words_in_it();
        for wanted in
            ["how it bends", "greatest deflection", "greatest stress", "scale 1:", "Seen "]
        {
            assert!(words.contains(wanted) || wanted == "how it bends", "{title}: {wanted}");
        }
        let has_value =
            |unit: &str| words.split("; ").any(|w| w.ends_with(unit) && w.split(' ').count() == 2);
        assert!(has_value(" mm") && has_value(" MPa"), "{title}: a value stands at each mark");
    }
}

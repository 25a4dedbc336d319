//! Guards what is said where nothing of a floor is reached: the line that is to be changed.

mod sump;

use design::Design;
use findings::{Finding, Grade};
use fit::{Fit, HindranceKind};

/// A deep box on the floor of a cabinet; what it says of its cabinet is left to the test.
const BOX: &str = r#"
[box]
outside = { length = 500, width = 350, height = 350 }
sheet = "clear"
[[along]]
chamber = "all"
"#;

fn design(more: &str) -> Design {
    sump::sump(&format!("{BOX}{more}"))
}

fn cabinet(height: u32, top: u32, more: &str) -> String {
    format!(
        "[cabinet]\ninside = {{ length = 600, width = 400, height = {height} }}\nopening = [{{ side = \"front\", top = {top} }}]\n{more}"
    )
}

fn reach(design: &Design) -> (Fit, Finding) {
    let fit = Fit::of(design);
    let findings = fit::grade(&fit, design);
    let of_floor = findings.iter().find(|finding| finding.code == "reach-floor");
    let finding = of_floor.unwrap_or_else(|| panic!("{findings:#?}")).clone();
    (fit, finding)
}

#[test]
fn a_low_opening_is_named_with_how_much_higher_it_must_be() {
    let design = design(&cabinet(800, 380, ""));
    let (fit, finding) = reach(&design);
    assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::Tight, "cabinet.opening[0]"));
    let text = finding.to_string();
    assert!(text.contains("ends 30 mm above the sump's rim"), "{text}");
    assert!(text.contains("make `top` of `cabinet.opening[0]` at least about"), "{text}");
    let HindranceKind::LowOpening { by_mm, .. } = fit.report.reach[0].hindrances[0].kind else {
        panic!("{text}");
    };
    // What it says is so: as much higher in the file, something is reached, and 25 mm less far nothing.
    let share = |top: u32| {
        let fit = Fit::of(&self::design(&cabinet(800, top, "")));
        fit.report.reach[0].tools.iter().map(|tool| tool.best_share).fold(0.0, f64::max)
    };
    let higher = [50, 100, 150, 200, 300].into_iter().find(|by| f64::from(*by) + 1.0 > by_mm);
    assert!(0.0 < share(380 + higher.expect("one of those tried")), "{text}");
    assert!(share(380) <= 0.0);
}

#[test]
fn a_low_ceiling_is_named() {
    let (_, finding) = reach(&design(&cabinet(390, 390, "")));
    let text = finding.to_string();
    assert_eq!(
        (finding.grade, finding.parameter.as_str()),
        (Grade::Tight, "cabinet.inside.height")
    );
    assert!(text.contains("the cabinet's ceiling, 40 mm above the sump's rim"), "{text}");
}

#[test]
fn what_lies_on_the_rim_is_named() {
    let shelf =
        "shelf = [{ name = \"filter board\", at = [0, 0], size = [600, 400], height = 360 }]";
    let (_, finding) = reach(&design(&cabinet(900, 900, shelf)));
    let text = finding.to_string();
    assert_eq!(finding.parameter, "cabinet.shelf[0]", "{text}");
    assert!(text.contains("`shelf filter board`"), "{text}");
}

#[test]
fn a_rim_that_lets_no_hand_through_is_named() {
    let text = BOX.replace("sheet = \"clear\"\n", "sheet = \"clear\"\nrim = { width = 150 }\n");
    let design = sump::sump(&text);
    let (_, finding) = reach(&design);
    let text = finding.to_string();
    assert!(finding.parameter.starts_with("box.rim"), "{text}");
}

#[test]
fn a_narrow_chamber_and_a_short_arm_are_told_apart() {
    let reach_with = |change: &str| reach(&design(change)).1;
    let thick = "[reach]\nhand = [200, 200]\narm = 300\ntool = []\n";
    let narrow = BOX.replace("width = 350", "width = 190");
    let design = sump::sump(&format!("{narrow}{thick}"));
    let text = reach(&design).1.to_string();
    assert!(text.contains("the chamber is 174 mm wide"), "{text}");
    let short = reach_with("[reach]\nlength = [150, 150]\ntool = []\n");
    assert_eq!(short.parameter, "reach.length", "{short}");
}

/// Where anything is reached nothing is looked for.
#[test]
fn what_is_reached_has_no_hindrance() {
    let (fit, finding) = reach(&design(&cabinet(900, 900, "")));
    assert!(fit.report.reach.iter().all(|chamber| chamber.hindrances.is_empty()));
    assert_ne!(finding.code, "share-room");
    assert!(!finding.message.contains("in the way"), "{finding}");
}

use crate::sample::changed;
use crate::{Panel, Strength, Waters};

fn panel(changes: &[(&str, &str)], name: &str) -> Panel {
    let (file, design) = changed(changes);
    let waters = Waters { density_kg_m3: 1025.0, ..Waters::default() };
    let strength = Strength::of(&file, &design, &waters);
    let found = strength.panels.into_iter().find(|panel| panel.name.contains(name));
    found.expect("the panel")
}

/// What is advised is what would be found of it: the same file with the sheet that was found holds, and with the next thinner
/// one not.
#[test]
fn the_sheet_that_is_advised_holds() {
    let of = |mm: f64| {
        let [thick, measured] = ["thickness", "measured"].map(|key| format!("{key} = {mm}"));
        panel(&[("thickness = 8", &thick), ("measured = 8", &measured)], "front wall")
    };
    let thin = of(4.0);
    assert!(thin.remedies.with_its_rim, "the rim is of the same sheet");
    let least = thin.remedies.thinnest_least_mm.expect("some sheet holds");
    let holds = |panel: &Panel| {
        panel.factor() >= 1.0 && panel.deflection.value <= panel.deflection_limit_mm
    };
    assert!(!holds(&thin), "4 mm are too little");
    assert!(holds(&of(least)), "{least}");
}

/// Of a leaf of thin sheet not even guides over all of it help; of a stiffer one they do.
#[test]
fn longer_guides_are_tried_over_the_full_height() {
    let slot = "slot = [\"loose\"]";
    let with = |mm: &str, guides: &str| {
        let [thick, measured] = ["thickness", "measured"].map(|key| format!("{key} = {mm}"));
        let guided = format!("{slot}\n{guides}");
        let changes = [("thickness = 8", &*thick), ("measured = 8", &*measured), (slot, &*guided)];
        panel(&changes, "leaf loose").remedies.longer_guides
    };
    assert_eq!(with("4", "guide_height = 60"), Some(false));
    assert_eq!(with("20", "guide_height = 60"), Some(true));
    assert_eq!(with("8", "guide_height = 235"), None, "they hold nearly all of it");
}

#[test]
fn of_a_door_on_screws_it_is_said_that_they_are_left_out() {
    assert!(panel(&[], "pushed off").remedies.without_screws);
    assert!(!panel(&[], "front wall").remedies.without_screws);
}

use super::*;
use crate::panel::{Duration, NotAssessed, Panel, Theory};
use crate::sample::changed;
use crate::{Levels, Strength, Waters};

struct Case {
    file: File,
    design: Design,
    strength: Strength,
}

impl Case {
    /// The plain sump of thick sheet, which holds.
    fn new() -> Self {
        let (file, design) =
            changed(&[("thickness = 8", "thickness = 25"), ("measured = 8", "measured = 25")]);
        let level = Levels {
            running_mm: 100.0,
            running_low_mm: 100.0,
            highest_mm: 100.0,
            highest_in: String::new(),
        };
        let basins = vec![level; design.waterworks.basins.len()];
        let waters = Waters { density_kg_m3: 1025.0, basins, heads: Vec::new() };
        let mut strength = Strength::of(&file, &design, &waters);
        // Its door hangs loosely: nothing pulls at the screws.
        let screws = strength.panels.iter_mut().filter_map(|panel| panel.screws.as_mut());
        for load in screws.flat_map(|screws| &mut screws.loads) {
            load.pulls_n.fill(0.0);
        }
        Self { file, design, strength }
    }

    /// After a change of one panel.
    fn with(&self, name: &str, change: impl Fn(&mut Panel)) -> Verdict {
        let mut strength = self.strength.clone();
        change(strength.panels.iter_mut().find(|p| p.name == name).expect("the panel"));
        verdict(&strength, &self.file, &self.design)
    }
}

/// Stresses loads that last and others so much of what is allowed for years.
fn stressed(years: f64, hours: f64) -> impl Fn(&mut Panel) {
    move |panel| {
        for load in &mut panel.loads {
            load.stress_mpa = load.allowable_mpa * if load.is_lasting { years } else { hours };
        }
        let hardest = |a: &usize, b: &usize| {
            panel.loads[*a].stress_mpa.total_cmp(&panel.loads[*b].stress_mpa)
        };
        panel.stress.load = (0..panel.loads.len()).max_by(hardest).expect("a load");
        panel.stress.value = panel.loads[panel.stress.load].stress_mpa;
    }
}

#[test]
fn what_holds_is_told_to_hold() {
    let case = Case::new();
    let told = case.with("front wall", |_| ());
    assert_eq!(told.grade, Grade::Holds, "{told:?}");
    assert!(told.answer.starts_with("Yes, by these estimates"), "{told:?}");
    assert_eq!(told.first, "Nothing.");
    let if_flat = "if the bottom lies flat all over";
    assert!(told.answer.contains(if_flat), "the file does not say what it lies on: {told:?}");
    let (mut file, design) = (case.file.clone(), &case.design);
    file.strength.bottom = Some(params::BottomSupport::Flat);
    assert!(!verdict(&case.strength, &file, design).answer.contains(if_flat));
}

#[test]
fn the_panel_that_fails_is_named_with_its_load() {
    let told = Case::new().with("far end wall", stressed(1.2, 0.9));
    assert_eq!(told.grade, Grade::Fails);
    assert!(
        told.answer.starts_with("No: far end wall carries more than it may for years"),
        "{told:?}"
    );
    assert!(
        told.decides.starts_with("Far end wall") || told.decides.starts_with("far end wall"),
        "{told:?}"
    );
    assert!(told.decides.contains("the level in flow (for years)"), "{told:?}");
}

#[test]
fn less_than_wanted_for_years_comes_before_what_bears_for_hours() {
    let case = Case::new();
    let mut strength = case.strength.clone();
    for panel in &mut strength.panels {
        match panel.name.as_str() {
            "front wall" => stressed(0.9, 0.95)(panel),
            "back wall" => stressed(0.1, 2.0)(panel),
            _ => (),
        }
    }
    let told = verdict(&strength, &case.file, &case.design);
    assert_eq!(told.grade, Grade::Tight);
    assert!(told.answer.starts_with("Just so: front wall"), "{told:?}");
}

#[test]
fn a_leaf_that_is_overloaded_by_one_side_alone_needs_no_change_while_both_are_filled() {
    let case = Case::new();
    let told = case.with("leaf gate", stressed(0.1, 1.5));
    assert_eq!(told.grade, Grade::Tight);
    assert!(
        told.answer.contains("But leaf gate bears filling, draining or water to the rim for hours"),
        "{told:?}"
    );
    assert!(
        told.first.contains("both sides of leaf gate are filled and drained together"),
        "{told:?}"
    );
    let loose = case.with("leaf loose", stressed(0.1, 5.0));
    assert!(loose.answer.contains("leaf loose may break"), "{loose:?}");
    // Its guides end below the teeth.
    let wall = case.with("back wall", stressed(0.1, 1.5));
    assert!(
        wall.first.starts_with("Nothing, while such a load is taken off within hours"),
        "{wall:?}"
    );
}

#[test]
fn seams_decide_where_all_panels_hold() {
    let case = Case::new();
    let weaken = |peel: f64, certain: f64| {
        let mut strength = case.strength.clone();
        let seam = &mut strength.seams[0];
        seam.most.peel_mpa = peel * seam.allowable_mpa;
        seam.most.shared_peel_mpa = seam.most.peel_mpa;
        seam.years = None;
        seam.certain_mpa = certain * seam.allowable_mpa;
        verdict(&strength, &case.file, &case.design)
    };
    let open = weaken(2.0, 0.1);
    assert_eq!(open.grade, Grade::Tight);
    assert!(open.answer.contains("1 cannot be shown to hold"), "{open:?}");
    assert!(open.first.starts_with("Bond more width"), "{open:?}");
    let fails = weaken(2.0, 1.1);
    assert_eq!(fails.grade, Grade::Fails);
    assert!(fails.answer.starts_with("No: pull and shear alone"), "{fails:?}");
}

/// Changes the loads that bear so long.
fn loads(panel: &mut Panel, duration: Duration, change: impl Fn(&mut crate::Load)) {
    let loads = panel.loads.iter_mut().filter(|load| load.duration == duration);
    loads.for_each(change);
}

#[test]
fn what_is_too_much_for_years_is_told_whatever_the_theory_says_of_a_load_of_hours() {
    let told = Case::new().with("leaf loose", |panel| {
        stressed(1.5, 1.0)(panel);
        loads(panel, Duration::Hours, |load| load.theory = Theory::Refused);
        // A loose leaf of which the levels in flow differ.
        panel.loads[0].duration = Duration::Years;
        panel.loads[0].is_lasting = true;
        panel.loads[0].theory = Theory::Holds;
        panel.loads[0].stress_mpa = 1.5 * panel.loads[0].allowable_mpa;
    });
    assert_eq!(told.grade, Grade::Fails);
    assert!(
        told.answer.starts_with("No: leaf loose carries more than it may for years"),
        "{told:?}"
    );
}

#[test]
fn a_stress_past_its_limit_counts_also_where_it_is_only_a_bound() {
    let case = Case::new();
    let bound = |much: f64| {
        move |panel: &mut Panel| {
            stressed(0.1, much)(panel);
            loads(panel, Duration::Hours, |load| load.theory = Theory::Refused);
        }
    };
    let wall = case.with("front wall", bound(5.0));
    assert!(wall.answer.starts_with("No: front wall may give way within hours"), "{wall:?}");
    let below = case.with("front wall", bound(0.5));
    assert!(below.answer.starts_with("No: front wall bends more than twice"), "{below:?}");
    let loose = case.with("leaf loose", bound(5.0));
    assert_eq!(loose.grade, Grade::Tight, "{loose:?}");
    assert!(!loose.first.starts_with("Nothing"), "{loose:?}");
}

#[test]
fn days_have_a_limit_of_their_own() {
    let case = Case::new();
    let for_days = |much: f64| {
        case.with("front wall", |panel| {
            stressed(0.1, 0.1)(panel);
            panel.loads[0].duration = Duration::Days;
            panel.loads[0].stress_mpa = much * panel.loads[0].allowable_mpa;
        })
    };
    let some = for_days(1.9);
    assert_eq!(some.grade, Grade::Tight);
    assert!(some.answer.contains("front wall bears a failure for some days only"), "{some:?}");
    assert!(some.first.starts_with("Nothing, while somebody mends"), "{some:?}");
    let most = for_days(2.1);
    assert!(most.answer.starts_with("No: front wall may give way within days"), "{most:?}");
}

#[test]
fn years_decide_before_hours_and_walls_before_loose_leaves() {
    let case = Case::new();
    let told = |change: &dyn Fn(&mut Panel)| {
        let mut strength = case.strength.clone();
        strength.panels.iter_mut().for_each(change);
        verdict(&strength, &case.file, &case.design)
    };
    let years = told(&|panel| match panel.name.as_str() {
        "leaf loose" => {
            loads(panel, Duration::Hours, |load| {
                load.theory = Theory::Refused;
                load.duration = Duration::Years;
            });
        }
        "front wall" => stressed(1.1, 1.1)(panel),
        "back wall" => stressed(0.1, 9.0)(panel),
        _ => (),
    });
    assert!(years.decides.starts_with("Front wall") || years.decides.starts_with("front wall"));
    assert!(years.answer.contains("and 2 more of"), "{years:?}");
    let hours = told(&|panel| match panel.name.as_str() {
        "leaf loose" => stressed(0.1, 2.9)(panel),
        "front wall" => stressed(0.1, 1.5)(panel),
        _ => (),
    });
    assert!(hours.decides.starts_with("front wall"), "{hours:?}");
}

#[test]
fn what_bends_in_flow_further_than_wanted_is_named() {
    let told = Case::new().with("front wall", |panel| {
        panel.deflection_limit_mm = 2.0;
        loads(panel, Duration::Years, |load| load.deflection_mm = 5.7);
    });
    assert_eq!(told.grade, Grade::Tight);
    assert!(
        told.answer.contains("In flow, after years, front wall bends 5.7 mm where 2 mm is wanted."),
        "{told:?}"
    );
}

#[test]
fn a_part_that_keeps_the_water_in_and_is_not_assessed_is_named() {
    let case = Case::new();
    let told = |keeps_water_in: bool| {
        let mut strength = case.strength.clone();
        strength.panels.retain(|panel| panel.name != "back wall");
        strength.not_assessed.push(NotAssessed {
            name: "back wall".to_owned(),
            parameter: "box".to_owned(),
            why: "it is no plate".to_owned(),
            keeps_water_in,
        });
        verdict(&strength, &case.file, &case.design)
    };
    let outer = told(true);
    assert_eq!(outer.grade, Grade::NotChecked);
    assert!(outer.answer.starts_with("As far as it could be worked out"), "{outer:?}");
    assert!(outer.answer.contains("Not assessed is back wall, which keeps the water in."));
    assert_eq!(told(false).grade, Grade::Holds);
}

#[test]
fn a_door_that_holds_for_a_while_only_is_told() {
    let case = Case::new();
    let mut strength = case.strength.clone();
    let screws = strength.panels.iter_mut().find_map(|panel| panel.screws.as_mut());
    let screws = screws.expect("a door");
    let (much, brief) = (2.0 * screws.lasting_n, Duration::Hours);
    for load in &mut screws.loads {
        (load.pulls_n, load.duration) = (vec![much], brief);
    }
    // Its knob and head press on enough.
    (screws.head_mm2, screws.knob_mm2) = (1e4, 1e4);
    let told = verdict(&strength, &case.file, &case.design);
    assert_eq!(told.grade, Grade::Tight);
    assert!(told.answer.contains("One door holds just so on its screws"), "{told:?}");
}

#[test]
fn a_bottom_on_a_frame_is_laid_flat_first() {
    let (mut file, design) = changed(&[]);
    file.strength.bottom = Some(params::BottomSupport::Frame);
    let waters = Waters { density_kg_m3: 1025.0, ..Waters::default() };
    let mut strength = Strength::of(&file, &design, &waters);
    strength.panels.retain(|panel| panel.name == "bottom");
    let told = verdict(&strength, &file, &design);
    assert_eq!(told.grade, Grade::Fails, "8 mm on a frame");
    assert!(told.first.starts_with("Lay it on a flat board all over"), "{told:?}");
}

#[test]
fn what_was_tried_and_is_not_enough_is_said_so() {
    let case = Case::new();
    let mut panel =
        case.strength.panels.iter().find(|p| p.name == "front wall").expect("it").clone();
    panel.remedies.wider_rim = Some([0.98, 1.0]);
    panel.remedies.one_more_brace = Some([1.2, 1.0]);
    let told = crate::checks::remedies::words(&panel, &case.design, units::System::Metric);
    assert!(
        told.contains(
            "a rim half as wide again gives factor 0.98 and 1 mm of bulge, not enough alone"
        ),
        "{told}"
    );
    assert!(
        told.contains("factor 1.20 and 1 mm of bulge") && told.matches("not enough").count() == 1,
        "{told}"
    );
    let first = case.with("front wall", |panel| {
        stressed(1.1, 1.1)(panel);
        panel.remedies.wider_rim = Some([0.98, 1.0]);
        panel.remedies.one_more_brace = Some([1.2, 1.0]);
    });
    assert!(first.first.starts_with("One more brace"), "{first:?}");
}

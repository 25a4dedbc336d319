use super::*;
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
        let strength = Strength::of(&file, &design, &waters);
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
    assert!(told.answer.contains("But leaf gate bears a failure"), "{told:?}");
    assert!(
        told.first.contains("both sides of leaf gate are filled and drained together"),
        "{told:?}"
    );
    let loose = case.with("leaf loose", stressed(0.1, 5.0));
    assert!(loose.answer.contains("leaf loose bears it not even for hours"), "{loose:?}");
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
        seam.peel_mpa = peel * seam.allowable_mpa;
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

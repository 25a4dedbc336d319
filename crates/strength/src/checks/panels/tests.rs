use findings::Grade;

use super::*;
use crate::panel::{Corner, Peak};
use crate::{Levels, Waters};

const BOX: &str = r#"
format = 1
title = "A box"

[sheet.thick]
material = "cast acrylic"
thickness = 20
measured = 20.0

[box]
outside = { length = 820, width = 420, height = 420 }
sheet = "thick"

[[along]]
chamber = "all"
"#;

struct Case {
    file: File,
    design: Design,
    strength: Strength,
}

impl Case {
    fn of(text: &str) -> Self {
        let file = params::read(text).file.expect("it reads");
        let design = design::resolve(&file).design.expect("it resolves");
        let level = Levels {
            running_mm: 200.0,
            running_low_mm: 200.0,
            highest_mm: 260.0,
            highest_in: "power cut".to_owned(),
        };
        let waters = Waters { density_kg_m3: 1025.0, basins: vec![level], heads: Vec::new() };
        let strength = Strength::of(&file, &design, &waters);
        Self { file, design, strength }
    }

    /// The grade of a check of the front wall, after `change`.
    fn grade(&self, code: &str, change: impl Fn(&mut Panel)) -> Grade {
        let mut strength = self.strength.clone();
        let wall = strength.panels.iter_mut().find(|p| p.name == "front wall").expect("a wall");
        change(wall);
        strength.panels.retain(|p| p.name == "front wall");
        let found = check(&strength, &self.file, &self.design);
        found.into_iter().find(|f| f.code == code).expect("it is checked").grade
    }
}

/// Stresses the load of years so much of what is allowed, the others as `brief` says.
fn stressed(years: f64, brief: f64) -> impl Fn(&mut Panel) {
    move |panel: &mut Panel| {
        for load in &mut panel.loads {
            load.stress_mpa = load.allowable_mpa * if load.is_lasting { years } else { brief };
        }
        panel.stress = Peak {
            value: panel.allowable_mpa * years.max(brief),
            load: usize::from(years > brief) * (panel.loads.len() - 1),
            ..panel.stress.clone()
        };
    }
}

#[test]
fn loads_of_years_need_a_margin_and_those_of_hours_a_limit() {
    let case = Case::of(BOX);
    let grade = |years: f64, brief: f64| case.grade("panel-strength", stressed(years, brief));
    assert_eq!(grade(0.79, 0.99), Grade::Holds);
    assert_eq!(grade(0.81, 0.5), Grade::Tight, "less than 1.25 for years");
    assert_eq!(grade(1.01, 0.5), Grade::Fails, "too much for years");
    assert_eq!(grade(0.5, 1.01), Grade::Tight, "for hours only");
    assert_eq!(grade(0.5, 2.9), Grade::Tight);
    assert_eq!(grade(0.5, 3.1), Grade::Fails, "too much for hours");
}

#[test]
fn a_corner_counts_as_the_panel_does() {
    let case = Case::of(BOX);
    let with = |share: f64| {
        move |panel: &mut Panel| {
            stressed(0.5, 0.5)(panel);
            panel.corners.push(Corner {
                of: crate::panel::CornerOf::Opening,
                words: "opening".to_owned(),
                at_mm: panel.rectangle_mm[0],
                radius_mm: 20.0,
                stress_mpa: Some(share * panel.allowable_mpa),
                lasting_mpa: Some(share * panel.allowable_mpa),
                why_not: String::new(),
            });
        }
    };
    assert_eq!(case.grade("panel-strength", with(0.7)), Grade::Holds);
    assert_eq!(case.grade("panel-strength", with(1.1)), Grade::Fails);
}

#[test]
fn what_the_theory_refuses_is_no_panel_that_holds() {
    let case = Case::of(BOX);
    let refused = |panel: &mut Panel| {
        stressed(0.1, 0.1)(panel);
        panel.loads[0].theory = Theory::Refused;
    };
    assert_eq!(case.grade("panel-strength", refused), Grade::NotChecked);
    assert_eq!(case.grade("panel-bends", refused), Grade::Fails);
}

#[test]
fn a_limit_of_the_keepers_own_is_kept() {
    let grade = |limit: &str| {
        let case = Case::of(&format!("{BOX}[strength]\n{limit}"));
        // Only the load of years is left.
        case.grade("panel-bends", |panel| {
            panel.loads.retain(|load| load.is_lasting);
            panel.deflection.load = 0;
            panel.deflection.value = 2.0;
        })
    };
    assert_eq!(grade("bulge = 1"), Grade::Fails);
    assert_eq!(grade("bulge = 3"), Grade::Holds);
}

#[test]
fn it_is_said_what_the_bottom_is_taken_to_lie_on() {
    let grade = |strength: &str| {
        let case = Case::of(&format!("{BOX}{strength}"));
        let found = check(&case.strength, &case.file, &case.design);
        found.into_iter().find(|f| f.code == "bottom-support").map(|f| f.grade)
    };
    assert_eq!(grade(""), Some(Grade::NotChecked));
    assert_eq!(grade("[strength]\nbottom = \"flat\"\n"), Some(Grade::Holds));
    assert_eq!(grade("[strength]\nbottom = \"frame\"\n"), None, "then it is a panel");
}

use findings::Grade;

use super::*;
use crate::panel::{Corner, Duration, Theory};
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

/// Stresses loads of years, days and hours so much of what is allowed for years.
fn stressed(years: f64, days: f64, hours: f64) -> impl Fn(&mut Panel) {
    move |panel: &mut Panel| {
        for load in &mut panel.loads {
            let much = match load.duration {
                Duration::Years => years,
                Duration::Days => days,
                Duration::Hours => hours,
            };
            load.stress_mpa = load.allowable_mpa * much;
        }
        // The rim is none of it.
        panel.rim = None;
    }
}

#[test]
fn loads_of_years_need_a_margin_and_those_of_hours_a_limit() {
    let case = Case::of(BOX);
    let grade = |years: f64, days: f64, hours: f64| {
        case.grade("panel-strength", stressed(years, days, hours))
    };
    assert_eq!(grade(0.79, 0.99, 0.99), Grade::Holds);
    assert_eq!(grade(0.81, 0.5, 0.5), Grade::Tight, "less than 1.25 for years");
    assert_eq!(grade(1.01, 0.5, 0.5), Grade::Fails, "too much for years");
    assert_eq!(grade(0.5, 0.5, 1.01), Grade::Tight, "for hours only");
    assert_eq!(grade(0.5, 0.5, 2.9), Grade::Tight);
    assert_eq!(grade(0.5, 0.5, 3.1), Grade::Fails, "too much for hours");
    assert_eq!(grade(0.5, 1.01, 0.5), Grade::Tight, "for days only");
    assert_eq!(grade(0.5, 1.99, 0.5), Grade::Tight);
    assert_eq!(grade(0.5, 2.01, 0.5), Grade::Fails, "too much for days");
}

#[test]
fn it_is_said_how_long_a_load_may_bear() {
    let case = Case::of(BOX);
    let told = |days: f64, hours: f64| {
        let mut strength = case.strength.clone();
        let wall = strength.panels.iter_mut().find(|p| p.name == "front wall").expect("a wall");
        stressed(0.1, days, hours)(wall);
        Teller::new(&case.file, &case.design).stress(wall).message
    };
    let brief = told(0.1, 1.5);
    assert!(brief.contains("for hours, a day at most, never for longer"), "{brief}");
    let longer = told(1.5, 1.5);
    assert!(longer.contains("for some days, until somebody mends what failed"), "{longer}");
    assert!(!longer.contains("a day at most"), "{longer}");
    assert!(told(2.5, 0.1).contains("too much even for some days"));
}

#[test]
fn a_corner_counts_as_the_panel_does() {
    let case = Case::of(BOX);
    let with = |share: f64| {
        move |panel: &mut Panel| {
            stressed(0.5, 0.5, 0.5)(panel);
            panel.corners.push(Corner {
                of: crate::panel::CornerOf::Opening,
                words: "opening".to_owned(),
                at_mm: panel.rectangle_mm[0],
                radius_mm: 20.0,
                stress_mpa: Some(share * panel.wet_mpa),
                lasting_mpa: Some(share * panel.wet_mpa),
                loads_mpa: vec![share * panel.wet_mpa; panel.loads.len()],
                why_not: String::new(),
            });
        }
    };
    assert_eq!(case.grade("panel-strength", with(0.7)), Grade::Holds);
    assert_eq!(case.grade("panel-strength", with(1.1)), Grade::Fails);
    // Water comes to its edge: that the wall itself is hardest where it is dry does not help it.
    let dry = |panel: &mut Panel| {
        with(1.1)(panel);
        panel.allowable_mpa = 2.0 * panel.wet_mpa;
    };
    assert_eq!(case.grade("panel-strength", dry), Grade::Fails);
    let mut wall = case.strength.panels.iter().find(|p| p.name == "front wall").cloned();
    let wall = wall.as_mut().expect("a wall");
    dry(wall);
    assert!((wall.factor() - 1.0 / 1.1).abs() < 1e-9);
}

#[test]
fn what_the_theory_refuses_is_no_panel_that_holds() {
    let case = Case::of(BOX);
    let refused = |panel: &mut Panel| {
        stressed(0.1, 0.1, 0.1)(panel);
        panel.loads[0].theory = Theory::Refused;
    };
    assert_eq!(case.grade("panel-strength", refused), Grade::NotChecked);
    assert_eq!(case.grade("panel-bends", refused), Grade::Fails);
    let past = |panel: &mut Panel| {
        stressed(0.1, 0.1, 3.1)(panel);
        panel.loads[0].theory = Theory::Refused;
    };
    assert_eq!(case.grade("panel-strength", past), Grade::Fails, "a bound excuses nothing");
    let years = |panel: &mut Panel| {
        stressed(1.1, 0.1, 0.1)(panel);
        panel.loads[0].theory = Theory::Refused;
    };
    assert_eq!(
        case.grade("panel-strength", years),
        Grade::Fails,
        "the load of years is not refused"
    );
}

#[test]
fn a_limit_of_the_keepers_own_is_kept() {
    let grade = |limit: &str| {
        let case = Case::of(&format!("{BOX}[strength]\n{limit}"));
        // A load of hours bends it further; that is not what the limit is for.
        case.grade("panel-bends", |panel| {
            for load in &mut panel.loads {
                load.deflection_mm = if load.is_lasting { 2.0 } else { 2.9 };
            }
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

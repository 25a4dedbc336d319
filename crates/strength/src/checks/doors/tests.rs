use findings::Grade;

use super::*;
use crate::Waters;
use crate::sample::changed;

/// The plain sump with its door pushed off, its screws pulled with so much for years and for something shorter, as shares of what they may
/// carry for years.
fn grade(years: f64, brief: f64, duration: Duration) -> Grade {
    let (file, design) = changed(&[]);
    let waters = Waters { density_kg_m3: 1025.0, ..Waters::default() };
    let mut strength = Strength::of(&file, &design, &waters);
    let screws = strength.panels.iter_mut().find_map(|panel| panel.screws.as_mut());
    let screws = screws.expect("a door");
    let load = |share: f64, duration| ScrewLoad {
        thrust_n: share * screws.lasting_n,
        pulls_n: vec![share * screws.lasting_n],
        soft_n: 0.0,
        prying_n: 0.0,
        duration,
    };
    screws.loads = vec![load(years, Duration::Years), load(brief, duration)];
    let found = check(&strength, &file, &design);
    found.into_iter().find(|f| f.code == "door-pushed-off").expect("it is checked").grade
}

#[test]
fn screws_are_graded_as_panels_are() {
    let days = |much: f64| grade(0.5, much, Duration::Days);
    assert_eq!(
        [0.99, 1.01, 1.99, 2.01].map(days),
        [Grade::Holds, Grade::Tight, Grade::Tight, Grade::Fails]
    );
    let grade = |years: f64, hours: f64| grade(years, hours, Duration::Hours);
    assert_eq!(grade(0.79, 0.99), Grade::Holds);
    assert_eq!(grade(0.81, 0.5), Grade::Tight, "less than 1.25 for years");
    assert_eq!(grade(1.01, 0.5), Grade::Fails, "too much for years");
    assert_eq!(grade(0.5, 1.01), Grade::Tight, "for hours only");
    assert_eq!(grade(0.5, 3.1), Grade::Fails, "too much for hours");
}

#[test]
fn a_door_is_told_of_in_both_systems_with_what_is_not_assessed() {
    let (file, design) = changed(&[("title = \"Plain\"", "title = \"Plain\"\nreport = \"us\"")]);
    let waters = Waters { density_kg_m3: 1025.0, ..Waters::default() };
    let strength = Strength::of(&file, &design, &waters);
    let found = check(&strength, &file, &design);
    let codes: Vec<&str> = found.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["door-pushed-off", "door-not-assessed"]);
    assert!(
        found[0].message.contains("lbf") && !found[0].message.contains(" N"),
        "{}",
        found[0].message
    );
    assert_eq!(found[1].grade, Grade::NotChecked);
}

//! Guards that nothing that differs is passed over, and nothing else is told.

use super::*;
use crate::changed::{Wanted, changed};
use crate::source::Source;

const TEXT: &str = include_str!("../../../../params/brook.toml");

fn reading(text: &str) -> Reading {
    Reading::of(Source { name: "a.toml".into(), text: text.to_owned() })
}

fn compared(wanted: &[(&str, &str)]) -> Vec<Table> {
    let before = reading(TEXT);
    let wanted: Vec<Wanted> = wanted
        .iter()
        .map(|(parameter, value)| Wanted { parameter: (*parameter).into(), value: (*value).into() })
        .collect();
    let (text, changes) = changed(&before, &wanted).expect("changed");
    let after = reading(&text);
    tables([&Side::of(&before), &Side::of(&after)], &changes)
}

#[track_caller]
fn table<'a>(tables: &'a [Table], title: &str) -> &'a Table {
    tables.iter().find(|table| table.title == title).expect("there is such a table")
}

#[test]
fn a_file_against_itself_differs_in_nothing() {
    let one = reading(TEXT);
    let tables = tables([&Side::of(&one), &Side::of(&one)], &[]);
    for table in &tables {
        assert_eq!(table.rows, Vec::<Vec<String>>::new(), "{}", table.title);
    }
    assert_eq!(tables.len(), 6);
}

#[test]
fn a_longer_box_has_other_long_walls_and_other_water() {
    let tables = compared(&[("box.outside.length", "40 in")]);
    assert_eq!(
        table(&tables, "Changed").rows,
        [["box.outside.length", "\"36 1/4 in\"", "\"40 in\""].map(str::to_owned)]
    );
    let parts = table(&tables, "Parts");
    let told: Vec<&str> = parts.rows.iter().map(|row| row[0].as_str()).collect();
    assert!(told.contains(&"the box, outside") && told.contains(&"front wall"), "{told:?}");
    assert!(!told.contains(&"inlet end wall"), "an end wall stays as it was: {told:?}");
    let levels = table(&tables, "Levels and flows");
    assert!(levels.rows.iter().any(|row| row[0] == "all water"), "{levels:?}");
}

#[test]
fn a_mistake_shows_as_a_finding_that_came() {
    let tables = compared(&[("box.outside.length", "12 in")]);
    let findings = table(&tables, "Findings");
    assert!(findings.rows.iter().any(|row| row[2].starts_with("FAILS: ")), "{findings:?}");
    assert!(findings.notes.iter().any(|note| note.contains("were not looked at")), "{findings:?}");
    assert!(tables.iter().all(|table| table.title != "Parts"), "there is nothing sound to compare");
}

#[test]
fn two_files_differ_in_what_one_of_them_sets() {
    let one = reading(TEXT);
    let other = reading(&TEXT.replace("report = \"us\"", "report = \"metric\"\nformat_ = 2"));
    let settings = settings::of_files([&one, &other]);
    let told: Vec<&str> = settings.rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(told, ["format_", "report"]);
    assert_eq!(settings.rows[0][1..], ["–".to_owned(), "2".to_owned()]);
}

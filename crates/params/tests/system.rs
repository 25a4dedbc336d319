//! Guards what the file says of the system around the sump: what is left out, and that the
//! demonstrations leave nothing out that the water needs.

use std::fs;
use std::path::Path;

use params::{DrainDuty, EquipmentKind, File, Starter};
use units::{Flow, Length};

/// The least that a sump can be.
const LEAST: &str = r#"
format = 1
title = "Least"

[sheet.clear]
material = "cast acrylic"
thickness = 8

[box]
outside = { length = 600, width = 300, height = 350 }
sheet = "clear"

[[along]]
chamber = "return"
"#;

#[track_caller]
fn read(text: &str) -> File {
    let read = params::read(text);
    assert_eq!(read.findings, [], "{}", read.findings[0]);
    read.file.expect("a file without a finding")
}

/// The starters, and the files that the tool is shown with.
fn shown() -> Vec<(String, File)> {
    let starters =
        [false, true].map(|us| (format!("starter, us: {us}"), params::starter(Starter { us })));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params");
    let demos = ["seahorse", "mangrove", "brook", "fragfarm"].map(|name| {
        let path = folder.join(name).with_extension("toml");
        (name.to_owned(), fs::read_to_string(path).expect("a demonstration"))
    });
    starters.into_iter().chain(demos).map(|(name, text)| (name, read(&text))).collect()
}

#[test]
fn what_is_left_out_is_as_the_schema_says() {
    let file = read(LEAST);
    assert_eq!((&file.display, &file.top_up), (&None, &None));
    assert!(file.return_line.is_empty());
    let limits = file.limits;
    assert_eq!(limits.freeboard, Length::mm(30.0));
    assert_eq!(limits.trickle.map(|share| share.to_string()), ["0.03", "0.1"]);
    assert_eq!((limits.submergence, limits.sock_overflow), (None, false));
    assert_eq!((file.room.evaporation, file.rehearsals.seam_gap), (None, Length::mm(0.1)));

    let more = "[[drain]]\nname = \"a\"\nduty = \"main\"\nchamber = \"return\"\ndiameter = 32\nend = 100\n\
         [[equipment]]\nname = \"p\"\nkind = \"pump\"\nchamber = \"return\"\nbox = [90, 80, 70]\nflow = 900\nhead = 900\n\
         [[return_line]]\npump = \"p\"\nto = \"return\"\nbore = 20\nlength = 900\noutlet = 200\n";
    let file = read(&format!("{LEAST}{more}"));
    let drain = &file.drain[0];
    assert_eq!((drain.intake, drain.run, drain.elbows, drain.valve), (None, None, 0, None));
    let line = &file.return_line[0];
    assert_eq!(
        (line.elbows, line.nozzle, line.break_hole, line.check_valve),
        (2, None, None, false)
    );
}

#[test]
fn a_part_of_a_table_leaves_the_rest_as_it_was() {
    let file = read(&format!(
        "{LEAST}[limits]\nfreeboard = \"2 in\"\n[room]\nevaporation = \"6 L/day\"\n[rehearsals]\nhours = 48\n"
    ));
    assert_eq!(file.limits.freeboard, Length::mm(50.8));
    assert_eq!(file.limits.bubble, Length::mm(0.5));
    assert_eq!(file.room.evaporation, Some(Flow::l_per_h(0.25)));
    assert!((file.room.humidity - 0.5).abs() < 1e-12);
    assert!((file.rehearsals.hours - 48.0).abs() < 1e-12);
    assert!((file.rehearsals.days_without_top_up - 7.0).abs() < 1e-12);
}

#[test]
fn the_demonstrations_say_all_that_the_water_needs() {
    for (name, file) in shown() {
        assert!(file.display.is_some(), "{name} has no display");
        assert!(
            file.drain.iter().all(|drain| drain.intake.is_some()),
            "{name}: a drain from nowhere"
        );
        assert!(file.return_line.iter().any(|line| line.to.is_none()), "{name}: no way up");
        for line in &file.return_line {
            let pump = file.equipment.iter().find(|thing| thing.name == line.pump);
            let pump = pump.expect("its pump is there");
            assert_eq!(pump.kind, EquipmentKind::Pump, "{name}");
            assert!(
                !pump.curve.is_empty() || pump.head.is_some(),
                "{name}: {} has no curve",
                pump.name
            );
        }
    }
}

/// The greatest head must exceed the height from the kept level to the crest, else nothing flows.
#[test]
fn the_pumps_of_the_demonstrations_are_strong_enough() {
    for (name, file) in shown() {
        let display = file.display.as_ref().expect("asserted elsewhere");
        let crest = display.stands + display.overflow.crest.height;
        for line in file.return_line.iter().filter(|line| line.to.is_none()) {
            let pump = file.equipment.iter().find(|thing| thing.name == line.pump).expect("a pump");
            let most = pump.curve.first().map(|point| point.head).or(pump.head).expect("a head");
            assert!(
                most.to_mm() > 1.3 * crest.to_mm(),
                "{name}: {} of {}",
                most.to_mm(),
                crest.to_mm()
            );
        }
    }
}

/// Mouths lie in the order of their duties: the siphon drowns, the emergency drain stays dry.
#[test]
fn the_emergency_drains_of_the_demonstrations_lie_highest() {
    for (name, file) in shown() {
        let mouths = |duty| {
            let drains = file.drain.iter().filter(move |drain| drain.duty == duty);
            drains.map(|drain| drain.intake.expect("asserted elsewhere").to_mm())
        };
        let lowest = mouths(DrainDuty::Emergency).fold(f64::INFINITY, f64::min);
        assert!(lowest.is_finite(), "{name} has no emergency drain");
        assert!(
            mouths(DrainDuty::Main).chain(mouths(DrainDuty::Secondary)).all(|m| m < lowest),
            "{name}"
        );
    }
}

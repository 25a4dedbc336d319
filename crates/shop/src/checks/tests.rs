//! Guards what a process is said not to do.

use super::*;
use crate::work::works;
use findings::Grade;
use params::{Material, Relief};

/// Grades and codes for a demo whose file was changed, worst first.
fn codes(demo: &str, change: impl Fn(&mut params::File)) -> Vec<(Grade, &'static str)> {
    let path = format!("{}/../../params/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let mut file = read.file.expect("it reads");
    change(&mut file);
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = works(&file, &design);
    let mut findings = check_process(&file, &design, &works);
    findings.sort_by(Finding::reading_order);
    let mut codes: Vec<_> = findings.iter().map(|f| (f.grade, f.code)).collect();
    codes.dedup();
    codes
}

fn laser(file: &mut params::File) {
    file.cutting.process = Process::Laser;
}

#[test]
fn a_laser_makes_no_grooves_and_leaves_stress_in_edges_that_are_glued() {
    let codes = codes("mangrove", laser);
    assert!(codes.contains(&(Grade::Fails, "pocket-under-laser")), "{codes:?}");
    assert!(codes.contains(&(Grade::Tight, "glued-edge-under-stress")), "{codes:?}");
    assert!(!codes.iter().any(|(_, code)| *code == "poisonous-under-laser"), "{codes:?}");
}

#[test]
fn pvc_and_polycarbonate_never_go_under_a_laser() {
    for material in [Material::Pvc, Material::Polycarbonate] {
        let codes = codes("brook", |file| {
            laser(file);
            file.sheet.values_mut().for_each(|sheet| sheet.material = material);
        });
        assert!(codes.contains(&(Grade::Fails, "poisonous-under-laser")), "{codes:?}");
    }
}

#[test]
fn a_saw_is_told_which_parts_it_cannot_make() {
    let codes = codes("seahorse", |file| file.cutting.process = Process::Saw);
    assert_eq!(codes, [(Grade::Fails, "not-for-a-saw")]);
}

#[test]
fn grooves_that_run_on_or_have_bites_take_square_leaves() {
    for relief in [Relief::Beyond, Relief::Dogbone, Relief::Tbone] {
        let codes = codes("mangrove", |file| file.cutting.relief = relief);
        assert!(
            !codes.iter().any(|(_, code)| *code == "square-end-in-round-groove"),
            "{relief:?} {codes:?}"
        );
    }
}

#[test]
fn a_thin_cutter_does_not_reach_through_thick_sheet() {
    let codes = codes("seahorse", |file| file.cutting.tool = units::Length::mm(1.0));
    assert!(codes.contains(&(Grade::Tight, "sheet-thick-for-process")), "{codes:?}");
}

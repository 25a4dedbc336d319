//! Guards what a process is said not to do.

use super::*;
use crate::work::{CutPath, works};
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
fn edges_that_lean_too_far_are_told() {
    for (taper, is_told) in [(0.1, false), (0.39, false), (0.5, true)] {
        let codes = codes("brook", |file| {
            laser(file);
            file.cutting.taper = Some(units::Length::mm(taper));
        });
        assert_eq!(codes.contains(&(Grade::Fails, "edge-leans")), is_told, "{taper}: {codes:?}");
    }
}

/// Sheets of 12, 13 and 20 mm: what 100 W cut is not told.
#[test]
fn sheet_that_a_common_laser_does_not_cut_is_told() {
    for (thickness, is_told) in [(8.0, false), (12.0, false), (12.5, true), (19.0, true)] {
        let findings = findings_of("brook", |file| {
            laser(file);
            for sheet in file.sheet.values_mut() {
                sheet.thickness = units::Length::mm(thickness);
                sheet.measured = Some(params::Measured::One(units::Length::mm(thickness)));
            }
        });
        let told = findings.iter().find(|f| f.code == "sheet-thick-for-process");
        assert_eq!(told.is_some(), is_told, "{thickness}");
        if let Some(told) = told {
            assert_eq!(told.grade, Grade::Tight);
            assert!(told.hint.as_ref().is_some_and(|hint| hint.contains("ask the shop")));
        }
    }
}

#[test]
fn annealing_is_by_the_makers_schedule() {
    let findings = findings_of("brook", laser);
    let told = findings.iter().find(|f| f.code == "glued-edge-under-stress").expect("it is told");
    let hint = told.hint.as_deref().expect("it has one");
    assert!(hint.contains("sheet maker's schedule") && hint.contains("film off"), "{hint}");
    assert!(!hint.contains("an hour for each"), "{hint}");
    assert!(told.source.as_ref().is_some_and(|source| source.contains("common practice")));
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

#[test]
fn the_demos_can_be_routed_as_they_are() {
    for demo in ["brook", "fragfarm", "mangrove", "seahorse"] {
        let path = format!("{}/../../params/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
        let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
        let file = read.file.expect("it reads");
        let design = design::resolve(&file).design.expect("it resolves");
        let (works, mut findings) = works(&file, &design);
        findings.extend(check_process(&file, &design, &works));
        let bad: Vec<_> = findings
            .iter()
            .filter(|f| matches!(f.grade, Grade::Fails | Grade::NotChecked))
            .collect();
        assert!(bad.is_empty(), "{demo}: {bad:#?}");
    }
}

fn findings_of(demo: &str, change: impl Fn(&mut params::File)) -> Vec<Finding> {
    let path = format!("{}/../../params/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let mut file = read.file.expect("it reads");
    change(&mut file);
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = works(&file, &design);
    check_process(&file, &design, &works)
}

#[test]
fn a_sheet_with_a_process_of_its_own_is_told_with_its_own_parameter() {
    let findings = findings_of("seahorse", |file| {
        file.sheet.get_mut("clear8").expect("it has one").process = Some(Process::Saw);
    });
    let told: Vec<&Finding> = findings.iter().filter(|f| f.code == "not-for-a-saw").collect();
    assert!(!told.is_empty());
    assert!(told.iter().all(|f| f.parameter == "sheet.clear8.process"), "{told:#?}");
}

/// By two ways: what `works` places, and what the checks say of it.
#[test]
fn a_demo_that_is_held_by_bridges_has_them_on_every_outline_or_says_so() {
    let path = format!("{}/../../params/fragfarm.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let file = read.file.expect("it reads");
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = works(&file, &design);
    let findings = check_process(&file, &design, &works);
    let is_told = |code: &str, piece: usize| {
        let piece = &design.pieces[piece];
        let name = format!("{} {}", piece.number, piece.name);
        findings.iter().any(|f| f.code == code && f.message.contains(&name))
    };
    for work in &works {
        let outline = work.operations.last().expect("it is cut out");
        assert_eq!(outline.kind, OperationKind::Outline);
        let CutPath::Closed(edge) = &outline.edge else { panic!("outlines are closed") };
        let unheld = crate::work::longest_unheld_mm(edge, &outline.bridges);
        let is_long = unheld > 500.0 && !outline.bridges.is_empty();
        assert_eq!(is_long, is_told("edge-unheld-for-long", work.piece), "{}", work.piece);
        if outline.bridges.iter().any(|bridge| bridge.is_on_glued_edge) {
            assert_eq!(outline.bridges.len(), 2, "the fewest, {}", work.piece);
        }
        let bare = outline.bridges.len() < 2;
        assert_eq!(bare, is_told("no-room-for-bridges", work.piece), "{}", work.piece);
        let stained = outline.bridges.iter().any(|bridge| bridge.is_on_glued_edge);
        assert_eq!(stained, is_told("bridge-in-glued-edge", work.piece), "{}", work.piece);
        for bridge in &outline.bridges {
            let CutPath::Closed(edge) = &outline.edge else { panic!("outlines are closed") };
            let on = edge.0.iter().find(|piece| piece.distance(bridge.at) < 1e-6).expect("on it");
            assert!(on.arc.is_none());
            for end in [on.start, on.end] {
                assert!(end.distance(bridge.at) > 0.5 * bridge.length_mm + 5.0);
            }
        }
    }
    assert!(works.iter().any(|work| work.operations.last().is_some_and(|o| o.bridges.len() > 4)));
}

/// The ends of a groove that was made too short for a square leaf.
#[test]
fn a_round_end_that_a_square_leaf_stands_into_is_told() {
    let path = format!("{}/../../params/mangrove.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let file = read.file.expect("it reads");
    let mut design = design::resolve(&file).design.expect("it resolves");
    for piece in &mut design.pieces {
        let plate::Shape::Sheet(plate) = &mut piece.shape else { continue };
        for cut in plate.cuts.iter_mut().filter(|cut| cut.depth.is_finite()) {
            // Round upper ends now begin below the leaf's own end.
            cut.contour = cut.contour.moved(|p| p - glam::DVec2::Y * 2.5, false);
        }
    }
    let (works, _) = works(&file, &design);
    let findings = check_process(&file, &design, &works);
    assert!(findings.iter().any(|f| f.code == "square-end-in-round-groove"), "{findings:#?}");
}

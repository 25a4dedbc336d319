//! Guards the demo files: each resolves into a complete design without a failing finding.

use design::{Design, Role};
use findings::Grade;

/// Reads and resolves a demo; fails with all failing findings.
#[track_caller]
fn check(name: &str) -> Design {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let read = params::read(&text);
    let resolved = read.file.as_ref().map(design::resolve);
    let found = resolved.iter().flat_map(|r| &r.findings).chain(&read.findings);
    let failing: Vec<_> = found.filter(|f| f.grade == Grade::Fails).collect();
    assert!(failing.is_empty(), "{name}: {failing:#?}");
    resolved.and_then(|r| r.design).expect("nothing failed")
}

fn count(design: &Design, role: Role) -> usize {
    design.pieces.iter().filter(|p| p.role == role).map(|p| p.quantity).sum()
}

fn level(design: &Design, chamber: &str) -> f64 {
    design.chambers.iter().find(|c| c.name == chamber).expect("it has this chamber").level_mm
}

#[test]
fn seahorse() {
    let d = check("seahorse");
    assert_eq!(d.chambers.len(), 5);
    assert_eq!(
        [count(&d, Role::Door), count(&d, Role::SockHolder), count(&d, Role::SockRing)],
        [1, 1, 2]
    );
    // The letterbox is a spare for the comb's slot.
    assert_eq!(d.pieces.iter().filter(|p| p.is_spare).count(), 1);
    // Comb 265 with slots of 30; door set at 210; weir, first and last leaf of the trap; the kept level.
    let levels = ["inlet", "planted", "skimmer", "media", "return"].map(|name| level(&d, name));
    for (level, expected) in levels.into_iter().zip([235.0, 210.0, 195.0, 180.0, 155.0]) {
        assert!((level - expected).abs() < 1e-9, "{level} is not {expected}");
    }
}

#[test]
fn mangrove() {
    let d = check("mangrove");
    assert_eq!(count(&d, Role::GuideChannel), 2);
    // The planted chamber in front shares its length with the return at the back.
    let [planted, back] =
        ["planted", "return"].map(|n| d.chambers.iter().find(|c| c.name == n).expect("it has it"));
    assert_eq!(planted.min.x.to_bits(), back.min.x.to_bits());
    assert!(planted.max.y < back.min.y);
}

#[test]
fn brook() {
    let d = check("brook");
    assert_eq!([count(&d, Role::Sock), count(&d, Role::WallFitting)], [0, 4]);
}

#[test]
fn fragfarm() {
    let d = check("fragfarm");
    assert_eq!(
        [count(&d, Role::Door), count(&d, Role::SockHolder), count(&d, Role::Lid)],
        [2, 2, 1]
    );
    assert!((level(&d, "inlet front") - level(&d, "inlet back")).abs() < 1e-9);
}

//! Guards what is said of a leaf's ends above its guides, past which water leaks.

mod common;
mod plain;

use common::resolved;
use design::FreeEnds;
use plain::{PLAIN, check};

/// The free ends of the plain sump's lift-out leaf with this said of its guides.
fn free_ends(guide: &str) -> Option<FreeEnds> {
    let text = PLAIN.replacen("slot = [\"loose\"]", &format!("slot = [\"loose\"]\n{guide}"), 1);
    let design = resolved(&text);
    let mut ways = design.waterworks.ways.iter().filter(|way| way.leaf == "loose");
    let first = ways.next().expect("it has a comb").free_ends;
    assert!(ways.all(|way| way.free_ends == first));
    assert!(design.waterworks.ways.iter().all(|w| w.lifts_out || w.free_ends.is_none()));
    first
}

#[track_caller]
fn check_ends(guide: &str, from_mm: f64, gap_mm: f64) {
    let free = free_ends(guide).expect("its ends are free");
    assert!((free.from_mm - from_mm).abs() < 1e-9, "{free:?}");
    assert!((free.gap_mm - gap_mm).abs() < 1e-9, "{free:?}");
}

#[test]
fn ends_are_free_above_low_guides() {
    // 384 mm between the walls take 1.54 mm by water, 0.15 mm by 10 K more than walls do, 0.4 mm by two cuts and 0.5 mm by the
    // walls' distance: 2.59 mm, half of it at either end.
    check_ends("guide_height = 100", 100.0, 1.3);
    // A printed channel has six nozzles of 0.4 mm behind the leaf; its back may be off by 0.2 mm. 379.2 mm take 2.97 mm.
    check_ends("guide_height = 100\nguide = \"printed\"", 100.0, 1.5 + 2.4);
}

#[test]
fn low_guides_are_no_fault() {
    check("slot = [\"loose\"]", "slot = [\"loose\"]\nguide_height = 100", &[]);
}

#[test]
fn no_ends_are_free_where_guides_reach_the_crest() {
    assert_eq!(free_ends("guide_height = 240"), None);
    assert_eq!(free_ends("guide = \"groove\"\nguide_depth = 3"), None);
}

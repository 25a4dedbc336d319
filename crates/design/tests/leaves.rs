//! Guards that a leaf is one sound sheet, whatever its crest, openings, door and handles are, or that
//! the maker is told which field to change.

mod common;
mod plain;

use common::found_in;
use plain::{PLAIN, check, found};

const LOOSE: &str =
    "mount = \"lift-out\"\ncrest = { height = 240, teeth = { width = 8, gap = 8, depth = 30 } }";
const GATE: &str = "crest = { height = 280 }\n[leaf.gate.door]\nbottom = 120";

#[test]
fn a_comb_with_openings_below_has_its_finger_holes_in_ears() {
    let openings = "openings = [{ letterbox = { bottom = 120, width = 150, height = 30 } }]";
    check(LOOSE, &format!("{LOOSE}\n{openings}"), &[]);
}

#[test]
fn eased_corners_take_no_more_than_there_is_room_for() {
    check("[box]", "[cutting]\nouter_corner = 50\n[box]", &[]);
    let plain = "mount = \"lift-out\"\nfinger_holes = false\ncrest = { height = 240 }";
    let text = found(LOOSE, &format!("{plain}\n[cutting]\nouter_corner = 50"));
    assert_eq!(text, "");
    let comb = format!("finger_holes = false\n{LOOSE}\n[cutting]\nouter_corner = 50");
    assert_eq!(found(LOOSE, &comb), "");
}

#[test]
fn ears_and_feet_need_a_leaf_that_is_long_enough() {
    let narrow = |leaf: &str| format!("{leaf}\n[leaf.short]\nmount = \"lift-out\"\n");
    let ears = narrow(LOOSE) + "crest = { height = 200 }";
    let feet = narrow(LOOSE) + "finger_holes = false\nunderflow = 30\ncrest = { height = 200 }";
    for (leaf, expected) in [
        (ears, ("no-room-for-ears", "leaf.short.finger_holes")),
        (feet, ("no-room-for-feet", "leaf.short.underflow")),
    ] {
        let text = found_in_narrow_row(&leaf);
        assert!(text.contains(&format!("{} {}", expected.0, expected.1)), "{text}");
        assert!(!text.contains("part-not-cuttable"), "{text}");
    }
}

/// The plain sump, its return chamber split by the leaf `short` across a section 50 mm long.
fn found_in_narrow_row(leaf: &str) -> String {
    let section = "[[along]]\nsection = \"narrow\"\nlength = 50\n[[along.across]]\nchamber = \"side\"\nwidth = 180\n[[along.across]]\ndivider = \"third\"\nleaf = \"short\"\n[[along.across]]\nchamber = \"return\"\nlevel = 120\n";
    let text = PLAIN.replacen(LOOSE, leaf, 1).replacen(
        "[[along]]\nchamber = \"return\"\nlength = 220\nlevel = 120\n",
        section,
        1,
    );
    assert!(text.contains("narrow"));
    found_in(&text)
}

#[test]
fn finger_holes_under_the_edge_of_a_low_leaf() {
    let low = "mount = \"lift-out\"\ncrest = { height = 35 }\nopenings = [{ holes = { bottom = 8, diameter = 5, spacing = 10 } }]";
    let text = found(LOOSE, low);
    assert!(text.contains("no-room-for-finger-holes leaf.loose.finger_holes"), "{text}");
}

#[test]
fn slots_off_the_middle_are_as_many_as_fit() {
    let slots = "crest = { height = 280 }\nopenings = [{ slots = { bottom = 235, height = 30, width = 8, gap = 8, offset = 120 } }]\n[leaf.gate.door]\nbottom = 120";
    check(GATE, slots, &[]);
}

#[test]
fn an_opening_where_the_door_moves() {
    let holes = "crest = { height = 280 }\nopenings = [{ holes = { bottom = 70, diameter = 12, spacing = 30, columns = 3 } }]\n[leaf.gate.door]\nbottom = 120";
    check(GATE, holes, &[("openings-too-close", "leaf.gate.door")]);
}

#[test]
fn the_holes_of_a_doors_screws_beside_a_gap_under_the_leaf() {
    let gap = "underflow = 90\ncrest = { height = 280 }\n[leaf.gate.door]\nlap = 60\nbottom = 120";
    check(GATE, gap, &[("door-screw-near-edge", "leaf.gate.door.bottom")]);
}

#[test]
fn knobs_one_above_the_other_have_room() {
    // Two screws at each side would fit by their slots, not by their knobs.
    let door = "lowest = 134\nhighest = 136";
    check("lowest = 160\nhighest = 210", door, &[]);
}

#[test]
fn a_leaf_in_two_dividers_is_two_parts_of_one_piece() {
    let again = "[[along]]\nchamber = \"spare\"\nlength = 60\n[[along]]\ndivider = \"third\"\nleaves = [\"gate\", \"gate\", \"gate\"]\nspacing = 90\n[[along]]\nchamber = \"return\"\nlength = 120";
    let text = PLAIN.replacen("[[along]]\nchamber = \"return\"\nlength = 220", again, 1);
    let text = text.replacen("length = 800", "length = 1200", 1);
    let file = params::read(&text).file.expect("it reads");
    let design = design::resolve(&file).design.expect("it resolves");
    let mut names: Vec<&str> = design.placed.iter().map(|p| p.name.as_str()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count, "{names:?}");
    for role in [design::Role::Leaf, design::Role::Door, design::Role::Screw, design::Role::Knob] {
        let of_gate = |p: &&design::Piece| p.role == role && p.parameter.starts_with("leaf.gate");
        let pieces: Vec<_> = design.pieces.iter().filter(of_gate).collect();
        assert_eq!(pieces.len(), 1, "{pieces:#?}");
    }
}

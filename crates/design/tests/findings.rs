//! Guards what a maker is told when a sump cannot be put together: each case names the field to change.

mod common;
mod plain;

use common::found_in;
use plain::{PLAIN, check, found};

#[test]
fn the_plain_sump_has_no_findings() {
    check("", "", &[]);
}

#[test]
fn chambers_that_do_not_add_up() {
    check("length = 240", "length = 700", &[("row-too-full", "along[2]")]);
}

#[test]
fn a_box_that_the_sheets_fill() {
    check(
        "thickness = 8\nmeasured = 8\n[box]\noutside = { length = 800, width = 400, height = 380 }",
        "thickness = 25\nmeasured = 25\n[box]\noutside = { length = 800, width = 400, height = 105 }",
        &[("box-too-small", "box.outside.height")],
    );
}

#[test]
fn a_leaf_higher_than_the_walls() {
    let change = "crest = { height = 400 }";
    check("crest = { height = 280 }", change, &[("leaf-too-high", "leaf.gate.crest.height")]);
}

#[test]
fn a_leaf_that_slips_out_of_its_guide() {
    let change = "slot = [\"loose\"]\nguide = \"printed\"\nguide_depth = 1.5";
    check("slot = [\"loose\"]", change, &[("guide-too-shallow", "along[1].guide")]);
}

#[test]
fn a_groove_that_weakens_both_walls_is_said_once() {
    let change = "slot = [\"loose\"]\nguide = \"groove\"\nguide_depth = 6";
    let text = found("slot = [\"loose\"]", change);
    assert_eq!(text.matches("groove-too-deep along[1].guide_depth").count(), 1, "{text}");
}

#[test]
fn a_hole_near_the_edge() {
    let place = "at = 200\nheight = 250";
    check(place, "at = 200\nheight = 340", &[("hole-near-edge", "wall_fitting[0].height")]);
    check(place, "at = 35\nheight = 250", &[("hole-near-edge", "wall_fitting[0].at")]);
}

#[test]
fn an_opening_outside_its_leaf() {
    let side = ("opening-outside-leaf", "leaf.gate.door.width");
    check("width = 140", "width = 420", &[side, side, ("door-too-wide", "leaf.gate.door.width")]);
}

#[test]
fn a_pump_that_stands_in_a_wall() {
    check("at = [110, 100]", "at = [20, 100]", &[("outside-chamber", "equipment[0].at")]);
}

#[test]
fn a_pump_that_is_too_high_for_the_rim() {
    let change = "box = [100, 80, 365]\nat = [110, 60]";
    let expected = [("partly-dry", "equipment[0].stand"), ("parts-overlap", "equipment[0]")];
    check("box = [100, 80, 100]\nat = [110, 100]", change, &expected);
}

#[test]
fn slots_narrower_than_the_cutter() {
    check("gap = 8", "gap = 4", &[("slot-too-narrow", "leaf.loose.crest.teeth.gap")]);
}

#[test]
fn a_brace_that_does_not_fit() {
    check(
        "at = 400, width = 60",
        "at = 60, width = 60",
        &[("brace-does-not-fit", "box.rim.braces[0].at")],
    );
}

#[test]
fn socks_that_do_not_fit() {
    check("socks = 1", "socks = 4", &[("socks-do-not-fit", "sock_holder[0].socks")]);
}

#[test]
fn marks_above_the_wall() {
    check("to = 250", "to = 390", &[("marks-above-wall", "level_marks[0].to")]);
}

#[test]
fn a_door_that_hits_the_bottom() {
    let opening = "bottom = 20\nwidth = 140\nheight = 200";
    check(
        "bottom = 120\nwidth = 140\nheight = 100",
        opening,
        &[("door-hits-bottom", "leaf.gate.door.lowest")],
    );
}

#[test]
fn a_door_without_room_for_its_slots() {
    check(
        "highest = 210",
        "highest = 210\nlap = 11",
        &[("door-lap-too-narrow", "leaf.gate.door.lap")],
    );
    check("lowest = 160", "lowest = 121\nlap = 13", &[("door-too-low", "leaf.gate.door.lap")]);
}

#[test]
fn two_openings_that_run_into_each_other() {
    let letterbox = "crest = { height = 280 }\nopenings = [{ letterbox = { bottom = 200, width = 100, height = 30 } }]";
    check("crest = { height = 280 }", letterbox, &[("openings-too-close", "leaf.gate.door")]);
}

#[test]
fn a_pipe_through_shelf_ledge_and_rim() {
    let drain = "[[drain]]\nname = \"main\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 32\nat = [20, 20]\nend = 100\n";
    let clash = ("parts-overlap", "drain[0]");
    check("[[wall_fitting]]", &format!("{drain}[[wall_fitting]]"), &[clash, clash, clash]);
}

/// The one sock hangs in the middle of the shelf: its flange is 14 mm wider than the bag of 100 mm, at 300 mm and a little.
#[test]
fn a_pipe_in_the_way_is_told_where_the_other_thing_is() {
    let text = PLAIN.replacen(
        "[[wall_fitting]]",
        "[[drain]]\nname = \"main\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 32\nat = [50, 192]\nend = 250\n[[wall_fitting]]",
        1,
    );
    let file = params::read(&text).file.expect("it reads");
    let resolved = design::resolve(&file);
    let design = resolved.design.expect("it resolves");
    let sock = design
        .placed
        .iter()
        .find(|p| design.pieces[p.piece].role == design::Role::Sock)
        .expect("a sock");
    let [lo, hi] = design.pieces[sock.piece].shape.bounds().map(|p| sock.pose.transform_point3(p));
    let (lo, hi) = (lo.min(hi), lo.max(hi));
    let inlet = &design.chambers[0];
    let along = format!(
        "{} to {} from the inlet side of chamber `inlet`",
        units::Length::mm(lo.x - inlet.min.x).show(design.report),
        units::Length::mm(hi.x - inlet.min.x).show(design.report)
    );
    let told = resolved.findings.iter().filter(|f| f.code == "parts-overlap");
    let hints: Vec<&str> = told.filter_map(|f| f.hint.as_deref()).collect();
    assert!(
        hints
            .iter()
            .any(|hint| hint.contains(&format!("{} takes", sock.name)) && hint.contains(&along)),
        "{along}: {hints:#?}"
    );
}

#[test]
fn a_scale_beside_its_chamber() {
    check("from = 50", "at = 400\nfrom = 50", &[("marks-outside-chamber", "level_marks[0].at")]);
}

#[test]
fn a_slot_of_a_door_that_its_screw_cannot_hold() {
    let cutter = "[cutting]\ntool = 10\n[box]";
    let gap = ("slot-too-narrow", "leaf.loose.crest.teeth.gap");
    check("[box]", cutter, &[gap, ("door-slot-too-wide", "leaf.gate.door.screw")]);
}

#[test]
fn a_ring_larger_than_the_print_bed() {
    let small = "[printing]\nbed = 110\n[box]";
    check("[box]", small, &[("ring-larger-than-bed", "sock_holder[0].ring")]);
}

#[test]
fn levels_that_cannot_be_kept() {
    let drowned = ("crest-drowned", "along[4].level");
    let expected = [("level-above-walls", "along[4].level"), drowned, drowned];
    check(
        "level = 120",
        "level = 370",
        &[expected.as_slice(), &[("shelf-under-water", "sock_holder[0].height")]].concat(),
    );
}

#[test]
fn a_level_kept_elsewhere_than_in_the_return() {
    check(
        "length = 220\nlevel = 120",
        "length = 220\nlevel = 120\n[[along]]\ndivider = \"third\"\nleaf = \"gate\"\n[[along]]\nchamber = \"spare\"\nlength = 60\nlevel = 90",
        &[("level-without-pump", "along[6].level"), ("two-levels", "along[6].level")],
    );
}

#[test]
fn a_pump_that_stands_dry_or_half_dry() {
    let place = "at = [110, 100]";
    check(place, "at = [110, 100]\nstand = 110", &[("stands-dry", "equipment[0].stand")]);
    check(place, "at = [110, 100]\nstand = 40", &[("partly-dry", "equipment[0].stand")]);
}

#[test]
fn sheet_that_should_be_measured_before_steps_are_cut() {
    check(
        "measured = 8\n[box]",
        "[box]\njoint = \"rabbet\"",
        &[("sheet-not-measured", "sheet.clear.thickness")],
    );
}

#[test]
fn marks_that_run_into_the_bottom_or_over_a_hole() {
    check(
        "from = 50\nto = 250",
        "from = 0\nto = 100",
        &[("marks-in-bottom", "level_marks[0].from")],
    );
    check("from = 50\nto = 250", "from = 51\nto = 53", &[("marks-too-few", "level_marks[0].to")]);
    let over_hole = "chamber = \"return\"\nwall = \"far-end\"\nat = 210\nfrom = 50";
    check(
        "chamber = \"return\"\nfrom = 50",
        over_hole,
        &[("engraving-off-face", "level_marks[0]")],
    );
}

#[test]
fn a_spare_leaf_that_does_not_fit_its_slot() {
    // A tap stands in the slot's plane above the low leaf, where the high spare would be.
    let spare = "[leaf.high]\nmount = \"lift-out\"\nfinger_holes = false\ncrest = { height = 355 }\n[[along]]\nchamber = \"inlet\"";
    let slot = "slot = [\"loose\", \"high\"]";
    let changes = [
        ("[[along]]\nchamber = \"inlet\"", spare),
        ("slot = [\"loose\"]", slot),
        (
            "[[level_marks]]",
            "[[wall_fitting]]\nname = \"tap\"\nwall = \"front\"\nat = 245\nheight = 325\nhole = 20\nflange = 30\n[[level_marks]]",
        ),
    ];
    let changed = changes.iter().fold(PLAIN.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the plain sump has no `{from}`");
        text.replacen(from, to, 1)
    });
    let text = found_in(&changed);
    assert!(text.contains("parts-overlap") && text.contains("leaf high"), "{text}");
    assert!(!text.contains("leaf loose"), "the leaf that is in is clear of it: {text}");
}

#[test]
fn an_opening_through_the_lower_edge() {
    let holes = "crest = { height = 240 }\nopenings = [{ holes = { bottom = 5, diameter = 20, spacing = 40, columns = 3 } }]";
    check(
        "crest = { height = 240, teeth = { width = 8, gap = 8, depth = 30 } }",
        holes,
        &[("opening-outside-leaf", "leaf.loose.openings[0].holes.bottom")],
    );
}

#[test]
fn a_spare_leaf_stands_in_printed_guides_as_the_one_that_is_in_does() {
    // Its notches clear the stops of the channels, whatever a box around it would say.
    let spare = "[leaf.high]\nmount = \"lift-out\"\ncrest = { height = 250 }\n[[along]]\nchamber = \"inlet\"";
    let changed = PLAIN.replacen("[[along]]\nchamber = \"inlet\"", spare, 1).replacen(
        "slot = [\"loose\"]",
        "slot = [\"loose\", \"high\"]\nguide = \"printed\"",
        1,
    );
    assert_eq!(found_in(&changed), "");
}

#[test]
fn round_parts_that_only_their_boxes_share() {
    // The end of the barrel reaches 2 mm into the box around the pipe, where the pipe is round.
    let drain = "[[drain]]\nname = \"main\"\nduty = \"main\"\nchamber = \"return\"\ndiameter = 40\nat = [165, 200]\nend = 100\n[[wall_fitting]]";
    let beside = PLAIN.replacen("[[wall_fitting]]", drain, 1).replacen(
        "at = 200\nheight = 250",
        "at = 230\ninside = 37\nheight = 250",
        1,
    );
    assert_eq!(found_in(&beside), "");
    let through = beside.replacen("at = 230", "at = 215", 1);
    assert!(found_in(&through).contains("parts-overlap drain[0]"), "{}", found_in(&through));
}

#[test]
fn two_holes_that_leave_too_little_sheet_between_them() {
    let second = "[[wall_fitting]]\nname = \"in\"\nwall = \"far-end\"\nat = 125\nheight = 250\nhole = 40\nflange = 60\n[[equipment]]";
    check("[[equipment]]", second, &[("holes-too-close", "wall_fitting[1].at")]);
}

#[test]
fn a_flange_over_the_groove_of_a_guide() {
    let groove = "slot = [\"loose\"]\nguide = \"groove\"";
    let on_front = "wall = \"front\"\nat = 225";
    let text = PLAIN.replacen("slot = [\"loose\"]", groove, 1).replacen(
        "wall = \"far-end\"\nat = 200",
        on_front,
        1,
    );
    assert!(
        found_in(&text).contains("flange-over-groove wall_fitting[0].at"),
        "{}",
        found_in(&text)
    );
}

//! Guards printed fittings in a sump: their measures, their places, what touches them, and what a maker is told.

mod common;
mod plain;

use common::resolved;
use design::{Design, JointKind, Placed, Role};
use glam::DVec3;
use plain::{PLAIN, check, found};
use plate::Shape;

/// What is found in the plain sump with this at its end.
fn with(fitting: &str) -> String {
    found("[[level_marks]]", &format!("{fitting}\n[[level_marks]]"))
}

fn sump(fitting: &str) -> Design {
    resolved(&format!("{PLAIN}{fitting}"))
}

fn placed<'a>(design: &'a Design, name: &str) -> &'a Placed {
    design.placed.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("no {name}"))
}

fn bounds(design: &Design, name: &str) -> [DVec3; 2] {
    let placed = placed(design, name);
    let [lo, hi] = design.pieces[placed.piece].shape.bounds();
    let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
    [p.min(q), p.max(q)]
}

/// The corners around a fitting as it is printed.
fn own(design: &Design, name: &str) -> [DVec3; 2] {
    design.pieces[placed(design, name).piece].shape.bounds()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

#[test]
fn a_clip_is_glued_by_its_foot_at_its_place() {
    let clip = "[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\nat = 600\nheight = 150\nmeasures = { pipe = 20, width = \"1 cm\" }\n";
    assert_eq!(with(clip), "");
    let d = sump(clip);
    let [lo, hi] = bounds(&d, "pipe-clip");
    near(hi.y, 392.0); // 400 wide, a wall of 8 mm
    near(0.5 * (lo.x + hi.x), 8.0 + 600.0);
    near(0.5 * (lo.z + hi.z), 8.0 + 150.0);
    near(hi.z - lo.z, 10.0);
    let id = d.placed.iter().position(|p| p.name == "pipe-clip").unwrap();
    let joint = d.joints.iter().find(|j| j.a == id).expect("it is joined");
    assert_eq!((joint.kind, joint.b == id), (JointKind::Stuck, false));
    assert_eq!(d.placed[joint.b].name, "back wall");
    // The foot is as wide as the pipe and its clearance of 0.25 mm each side, and as long as the clip is wide.
    near(joint.length_mm, 20.5);
    near(joint.width_mm, 10.0);
    let piece = &d.pieces[d.placed[id].piece];
    assert!(piece.role == Role::Fitting && piece.role.is_printed() && piece.quantity == 1);
    let measures = |n: &String| n.contains("pipe 20 mm, width 10 mm, mouth ");
    assert!(piece.notes.iter().any(|n| measures(n) && n.contains("° (as usual)")));
    assert!(d.removables.iter().all(|r| r.name != "pipe-clip"), "it is glued in");
}

#[test]
fn a_wall_of_every_side_takes_a_fitting() {
    for (wall, at) in [("front", 600.0), ("back", 600.0), ("inlet-end", 60.0), ("far-end", 60.0)] {
        let clip = format!(
            "[[fitting]]\nkind = \"pipe-clip\"\nwall = \"{wall}\"\nat = {at}\nheight = 60\nmeasures = {{ pipe = 16 }}\n"
        );
        assert_eq!(with(&clip), "", "{wall}");
        let d = sump(&clip);
        let [lo, hi] = bounds(&d, "pipe-clip");
        let middle = 0.5 * (lo + hi);
        match wall {
            "front" => near(lo.y, 8.0),
            "back" => near(hi.y, 392.0),
            "inlet-end" => near(lo.x, 8.0),
            _ => near(hi.x, 792.0),
        }
        near(if wall.ends_with("end") { middle.y } else { middle.x }, 8.0 + at);
        // Whatever way it is turned, it is not mirrored.
        near(placed(&d, "pipe-clip").pose.matrix3.determinant(), 1.0);
    }
}

#[test]
fn a_ledge_carries_at_its_height() {
    let ledge = "[[fitting]]\nkind = \"egg-crate-ledge\"\nwall = \"front\"\nat = 350\nheight = 100\nmeasures = { grid = 12 }\n";
    assert_eq!(with(ledge), "");
    let [_, hi] = bounds(&sump(ledge), "egg-crate-ledge");
    near(hi.z, 8.0 + 100.0 + 12.0);
}

#[test]
fn a_holder_sits_on_a_leaf_and_holds_the_probe() {
    // The leaf's upper edge is 280 mm above the bottom; the probe hangs where the holder's hole is.
    let holder = "[[fitting]]\nkind = \"probe-holder\"\nleaf = \"gate\"\nchamber = \"return\"\nat = 300\nmeasures = { count = 1, probe = 12 }\n";
    assert_eq!(with(holder), "");
    let d = sump(holder);
    let [lo, hi] = bounds(&d, "probe-holder");
    near(hi.z, 8.0 + 280.0 + 3.0); // the floor of its groove is 3 mm
    near(0.5 * (lo.y + hi.y), 8.0 + 300.0);
    let leaf = bounds(&d, "leaf gate");
    assert!(lo.x < leaf[0].x && leaf[1].x < hi.x, "the leaf stands in its groove");
    assert!(hi.x - leaf[1].x > leaf[0].x - lo.x, "what it holds is in the return");
    let out = d.removables.iter().find(|r| r.name == "probe-holder").expect("it is taken off");
    assert_eq!(out.kind, design::RemovableKind::Fitting);
    assert_eq!(out.chamber.as_deref(), Some("return"));

    let [lo, hi] = [lo.x, hi.x].map(|x| x - leaf[1].x);
    // Its wall of 3.2 mm, then half the hole: 12 mm, its loss of 0.2 mm and twice the clearance.
    let x = hi - 3.2 - 0.5 * 12.7;
    assert!(lo < 0.0 && x > 8.0);
    let probe = format!(
        "{holder}[[equipment]]\nname = \"pH\"\nkind = \"probe\"\nchamber = \"return\"\ncylinder = {{ diameter = 12, height = 160 }}\nstand = 140\nat = [{x}, 300]\n"
    );
    assert_eq!(with(&probe), "");
    let d = sump(&probe);
    let id = |name: &str| d.placed.iter().position(|p| p.name == name).unwrap();
    let (probe, holder) = (id("pH"), id("probe-holder"));
    assert!(d.joints.iter().any(|j| j.a == probe && j.b == holder && j.kind == JointKind::Slides));
}

#[test]
fn what_is_glued_to_a_leaf_that_lifts_out_goes_with_it() {
    let clip = "[[fitting]]\nkind = \"pipe-clip\"\nname = \"low clip\"\nleaf = \"loose\"\nchamber = \"middle\"\nat = 150\nheight = 100\nmeasures = { pipe = 12 }\n";
    assert_eq!(with(clip), "");
    let d = sump(clip);
    let id = d.placed.iter().position(|p| p.name == "low clip").unwrap();
    let leaf = d.removables.iter().find(|r| r.name == "leaf loose").expect("it lifts out");
    assert!(leaf.parts.contains(&id));
    assert!(d.removables.iter().all(|r| r.name != "low clip"));
}

#[test]
fn feet_stack_and_carry() {
    let feet = "[[fitting]]\nkind = \"skimmer-foot\"\nquantity = 3\nchamber = \"middle\"\nat = [100, 150]\nmeasures = { height = 20 }\n";
    assert_eq!(with(feet), "");
    let d = sump(feet);
    let z: Vec<f64> = d
        .placed
        .iter()
        .filter(|p| p.parameter == "fitting[0]")
        .map(|p| p.pose.translation.z)
        .collect();
    assert_eq!(z, [8.0, 28.0, 48.0]);
    let piece = d.pieces.iter().find(|p| p.name == "skimmer-foot").unwrap();
    assert!(matches!(piece.shape, Shape::Turned(_)));
    // Two with a nose for the next, and the uppermost flat: what stands on it stands 60 mm high and no more.
    let feet: Vec<_> = d.pieces.iter().filter(|p| p.name.starts_with("skimmer-foot")).collect();
    let told = |with: &str, quantity: usize| {
        let foot = feet.iter().find(|p| p.notes.iter().any(|n| n.contains(with))).expect(with);
        assert_eq!((foot.quantity, foot.only_made), (quantity, 0), "{with}");
    };
    told("nose yes (from others stand on it)", 2);
    told("nose no (as usual)", 1);
    let tops = d.placed.iter().filter(|p| p.parameter == "fitting[0]").map(|p| {
        let [_, hi] = d.pieces[p.piece].shape.bounds();
        p.pose.transform_point3(hi).z
    });
    near(tops.fold(0.0, f64::max), 8.0 + 60.0);
}

/// A skimmer in the chamber of three feet, `at` and at the height `stand`.
fn on_feet(at: &str, stand: &str) -> Vec<findings::Finding> {
    let feet = "[[fitting]]\nkind = \"skimmer-foot\"\nquantity = 3\nchamber = \"middle\"\nat = [60, 150]\nmeasures = { height = 10 }\n";
    let skimmer = format!(
        "[[equipment]]\nname = \"skimmer\"\nkind = \"skimmer\"\nchamber = \"middle\"\nbox = [80, 80, 150]\nat = {at}\n{stand}\n"
    );
    let read = params::read(&format!("{PLAIN}{feet}{skimmer}"));
    design::resolve(&read.file.expect("it reads")).findings
}

#[test]
fn feet_say_what_makes_the_skimmer_stand_on_them() {
    let hint = |at: &str, stand: &str, code: &str| {
        let found = on_feet(at, stand);
        let told: Vec<_> = found.iter().filter(|f| f.code == code).collect();
        let hint = told.first().and_then(|f| f.hint.clone());
        hint.unwrap_or_else(|| panic!("no {code}: {found:#?}"))
    };
    // In the feet, and beside them.
    assert!(hint("[60, 150]", "", "parts-overlap").contains("give `skimmer` its `stand = 30`"));
    assert!(hint("[180, 150]", "", "feet-carry-nothing").contains("`skimmer` its `stand = 30`"));
    let stands = on_feet("[60, 150]", "stand = 30");
    let wrong = |f: &&findings::Finding| ["parts-overlap", "feet-carry-nothing"].contains(&f.code);
    assert_eq!(stands.iter().find(wrong), None);
}

#[test]
fn a_spacer_is_as_wide_as_the_channel_of_the_divider() {
    let spacer = "[[fitting]]\nkind = \"slot-spacer\"\nloose = true\n";
    let d = sump(spacer);
    let piece = d.pieces.iter().find(|p| p.name == "slot-spacer").expect("it is made");
    let words = piece.notes.join("\n");
    let channel = |words: &str| words.contains("clearance 0.8 mm (from divider `");
    assert!(channel(&words), "{words}");
}

#[test]
fn what_is_loose_is_made_and_nowhere() {
    let jigs = "[[fitting]]\nkind = \"corner-block\"\nloose = true\nquantity = 4\n[[fitting]]\nkind = \"pipe-clip\"\nquantity = 3\nwall = \"front\"\nat = 600\nheight = 100\nmeasures = { pipe = 16 }\n";
    assert_eq!(with(jigs), "");
    let d = sump(jigs);
    let piece = |name: &str| d.pieces.iter().find(|p| p.name == name).unwrap();
    let (block, clip) = (piece("corner-block"), piece("pipe-clip"));
    assert_eq!((block.role, block.quantity, block.only_made), (Role::Jig, 4, 4));
    assert_eq!((clip.quantity, clip.only_made, clip.is_spare), (3, 2, false));
    assert_eq!(d.placed.iter().filter(|p| p.parameter.starts_with("fitting")).count(), 1);
}

#[test]
fn measures_follow_from_the_sump() {
    let holder = "[[fitting]]\nkind = \"probe-holder\"\nloose = true\n[[equipment]]\nname = \"pH\"\nkind = \"probe\"\nchamber = \"return\"\ncylinder = { diameter = 16, height = 100 }\nstand = 100\nat = [200, 300]\n";
    let d = sump(holder);
    let piece = d.pieces.iter().find(|p| p.name == "probe-holder").unwrap();
    let words = piece.notes.join("\n");
    assert!(words.contains("sheet 8 mm (from sheet `clear` at its thickest, measured)"), "{words}");
    assert!(words.contains("probe 16 mm (from probe `pH`)"), "{words}");
}

#[track_caller]
fn says(fitting: &str, expected: &[&str]) {
    let text = with(&format!("[[fitting]]\n{fitting}"));
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines, expected, "\n{text}");
}

#[test]
fn what_is_wrong_is_said_at_its_line() {
    let at = "loose = true\n";
    says(
        &format!("kind = \"pipe-clipp\"\n{at}"),
        &["Fails unknown-fitting fitting[0].kind: there is no kind of fitting called `pipe-clipp`"],
    );
    says(
        &format!("kind = \"pipe-clip\"\n{at}measures = {{ pip = 32 }}"),
        &["Fails unknown-measure fitting[0].measures.pip: a `pipe-clip` has no measure `pip`"],
    );
    says(
        &format!("kind = \"pipe-clip\"\n{at}measures = {{ pipe = \"4 in\" }}"),
        &[
            "Fails out-of-range fitting[0].measures.pipe: `pipe`, outer diameter of the pipe, is 101.6 mm, but it must be from 4 mm to 75 mm",
        ],
    );
    says(
        &format!("kind = \"pipe-clip\"\n{at}measures = {{ mouth = \"9 cm\", width = true }}"),
        &[
            "Fails wrong-type fitting[0].measures.width: `width` is width along the pipe, so it must be a length",
            "Fails wrong-type fitting[0].measures.mouth: `mouth` is angle of the circle that is open, for pressing the pipe in, so it must be a number of degrees",
        ],
    );
    says(
        &format!("kind = \"probe-holder\"\n{at}measures = {{ count = 1.5, probe = \"12 gal\" }}"),
        &[
            "Fails not-a-quantity fitting[0].measures.probe: `probe`: `gal` is not a unit of length; write one of `mm`, `cm`, `m`, `in`, `ft`",
            "Fails out-of-range fitting[0].measures.count: `count`, probes side by side, is 1.5, which is no whole number",
        ],
    );
}

#[test]
fn what_cannot_stand_there_is_made_and_said() {
    says(
        "kind = \"pipe-clip\"\nwall = \"back\"\nat = 600\nheight = 2\nmeasures = { pipe = 16 }",
        &[
            "Fails fitting-off-sheet fitting[0].height: this `pipe-clip` would reach 5.5 mm below back wall",
        ],
    );
    says(
        "kind = \"probe-holder\"\nrim = \"back\"\nat = 600",
        &[
            "Tight fitting-not-placed fitting[0].rim: a `probe-holder` sits on an upper edge, and here the rim lies on those of the walls: it is made, but not shown there",
        ],
    );
    says(
        "kind = \"lid-handle\"\nwall = \"back\"\nat = 600\nheight = 100",
        &[
            "Tight fitting-not-placed fitting[0].wall: a `lid-handle` has no hold on the face of a sheet: it is made, but not shown there",
        ],
    );
    says(
        "kind = \"corner-block\"\nchamber = \"middle\"\nat = [50, 50]",
        &[
            "Tight fitting-not-placed fitting[0].chamber: a `corner-block` is a tool for the workshop and has no place in the sump: it is made, but not shown there",
        ],
    );
    says(
        "kind = \"probe-holder\"\nleaf = \"gate\"\nchamber = \"inlet\"\nat = 100",
        &[
            "Tight fitting-not-placed fitting[0].leaf: leaf `gate` does not stand at chamber `inlet`: this `probe-holder` is made, but not shown there",
        ],
    );
    let there =
        sump("[[fitting]]\nkind = \"lid-handle\"\nwall = \"back\"\nat = 600\nheight = 100\n");
    assert!(there.pieces.iter().any(|p| p.name == "lid-handle" && p.only_made == 1));
}

#[test]
fn what_is_in_the_way_is_found() {
    let clip = "[[fitting]]\nkind = \"pipe-clip\"\nwall = \"far-end\"\nat = 200\nheight = 250\nmeasures = { pipe = 32 }";
    let overlap = [("parts-overlap", "wall_fitting[0]")];
    check("[[level_marks]]", &format!("{clip}\n[[level_marks]]"), &overlap);
}

#[test]
fn a_strainer_is_pressed_into_its_opening() {
    let opening = "[leaf.gate]\nopenings = [{ holes = { bottom = 150, diameter = 50, spacing = 80, columns = 1 } }]\ncrest = { height = 280 }";
    let strainer = "[[fitting]]\nkind = \"round-strainer\"\nleaf = \"gate\"\nchamber = \"middle\"\nat = 192\nheight = 150\n[[along]]\nchamber = \"inlet\"";
    let door = PLAIN.find("[leaf.gate.door]").zip(PLAIN.find("[leaf.loose]"));
    let plain = PLAIN.replace(door.map_or("", |(from, to)| &PLAIN[from..to]), "");
    let text = plain
        .replace("[leaf.gate]\ncrest = { height = 280 }", opening)
        .replace("[[along]]\nchamber = \"inlet\"", strainer);
    assert_eq!(common::found_in(&text), "");
    let d = resolved(&text);
    let id = d.placed.iter().position(|p| p.name == "round-strainer").unwrap();
    let joint = d.joints.iter().find(|j| j.a == id).expect("it is held");
    assert_eq!((joint.kind, d.placed[joint.b].name.as_str()), (JointKind::Clamped, "leaf gate"));
    let ([lo, hi], leaf) = (bounds(&d, "round-strainer"), bounds(&d, "leaf gate"));
    near(hi.x, leaf[1].x); // the collar is as long as the sheet is thick, its flange before it
    near(leaf[0].x - lo.x, 2.4);
}

#[test]
fn a_hook_hangs_on_a_wall_without_a_rim() {
    let hook = "[[fitting]]\nkind = \"float-switch-holder\"\nrim = \"back\"\nat = 600\n[[along]]\nchamber = \"inlet\"";
    let rim = "rim = { width = 40, braces = [{ at = 400, width = 60 }] }\n";
    assert!(PLAIN.contains(rim));
    let text = PLAIN.replace(rim, "").replace("[[along]]\nchamber = \"inlet\"", hook);
    assert_eq!(common::found_in(&text), "");
    let d = resolved(&text);
    let [lo, hi] = bounds(&d, "float-switch-holder");
    near(hi.z, 380.0 + own(&d, "float-switch-holder")[1].y); // its back lies on the edge
    assert!(lo.y < 392.0 && hi.y > 400.0, "its legs are on both sides of the wall");
    assert!(400.0 - lo.y > hi.y - 392.0, "the long one inside");
    assert!(d.removables.iter().any(|r| r.name == "float-switch-holder"));
}

const LID: &str = "[[lid]]\nchamber = \"return\"\n";

fn handle(at: &str, measures: &str) -> String {
    format!("{LID}[[fitting]]\nkind = \"lid-handle\"\nlid = \"return\"\nat = {at}\n{measures}\n")
}

#[test]
fn a_handle_stands_on_a_lid_and_moves_with_it() {
    let glued = handle("[100, 200]", "");
    assert_eq!(with(&glued), "");
    let d = sump(&glued);
    let ([lo, hi], lid) = (bounds(&d, "lid-handle"), bounds(&d, "lid return"));
    near(lo.z, lid[1].z);
    near(0.5 * (lo.x + hi.x) - lid[0].x, 100.0);
    near(0.5 * (lo.y + hi.y) - lid[0].y, 200.0);
    let id = d.placed.iter().position(|p| p.name == "lid-handle").unwrap();
    let joint = d.joints.iter().find(|j| j.a == id).expect("it is joined");
    assert_eq!(joint.kind, JointKind::Stuck);
    // Its foot is 80 % of the head of 32 mm.
    near(joint.length_mm, 0.8 * 32.0);
    let out = d.removables.iter().find(|r| r.name == "lid return").expect("it lifts off");
    assert!(out.parts.contains(&id));
    assert!(d.removables.iter().all(|r| r.name != "lid-handle"));
}

#[test]
fn a_handle_that_is_screwed_has_its_hole_in_the_lid() {
    let cuts = |text: &str| {
        let d = sump(text);
        match &d.pieces.iter().find(|p| p.name == "lid return").unwrap().shape {
            Shape::Sheet(plate) => plate.cuts.clone(),
            Shape::Turned(_) => panic!("a lid is of sheet"),
        }
    };
    let screwed = handle("[100, 200]", "measures = { screwed = true, screw = \"M5\" }");
    assert_eq!(with(&screwed), "");
    let (without, one_more) = (cuts(LID), cuts(&screwed));
    assert_eq!(one_more.len(), without.len() + 1);
    let [lo, hi] = one_more.last().and_then(|cut| cut.contour.bounds()).expect("a hole");
    near(hi.x - lo.x, 5.5); // ISO 273, medium
    near(0.5 * (lo.y + hi.y), 200.0);
}

#[test]
fn a_handle_is_refused_off_the_lid_and_over_its_holes() {
    for (at, found) in [
        (
            "[5, 200]",
            "Fails fitting-off-sheet fitting[0].at: this `lid-handle` would reach 7.8 mm beyond the edge of lid return",
        ),
        // The finger hole of 25 mm is in the middle, its own radius, the lap and 10 mm from the front.
        ("[120, 40]", "Fails fitting-over-hole fitting[0].at: this `lid-handle` would reach"),
    ] {
        let text = with(&handle(at, ""));
        assert!(text.starts_with(found), "{text}");
    }
    says(
        "kind = \"lid-handle\"\nlid = \"middle\"\nat = [50, 50]",
        &[
            "Tight fitting-not-placed fitting[0].lid: chamber `middle` has no lid: this `lid-handle` is made, but not shown there",
        ],
    );
}

#[test]
fn a_cap_is_pressed_into_the_finger_hole_of_a_lid() {
    let d = sump(LID);
    let piece = d.pieces.iter().find(|p| p.name == "lid return").unwrap();
    let Shape::Sheet(plate) = &piece.shape else { panic!("a lid is of sheet") };
    let [lo, hi] = plate.cuts[0].contour.bounds().expect("a hole");
    let middle = 0.5 * (lo + hi);
    let at = |x: f64| {
        let y = middle.y;
        format!(
            "{LID}[[fitting]]\nkind = \"drain-hole-cap\"\nlid = \"return\"\nat = [{x}, {y}]\nmeasures = {{ hole = 25 }}\n"
        )
    };
    assert_eq!(with(&at(middle.x)), "");
    let d = sump(&at(middle.x));
    assert!(bounds(&d, "drain-hole-cap")[1].z > bounds(&d, "lid return")[1].z);
    let beside = with(&at(middle.x + 20.0));
    let found = "Fails fitting-off-hole fitting[0].at: here lid return has no hole of 25 mm for this `drain-hole-cap`\n";
    assert_eq!(beside, found);
}

#[test]
fn a_reducer_takes_the_place_of_a_sock() {
    let reducer = "[[fitting]]\nkind = \"reducer\"\nchamber = \"inlet\"\nsock = 1\nmeasures = { bore = 60 }\n";
    assert_eq!(with(reducer), "");
    let d = sump(reducer);
    assert!(d.placed.iter().all(|p| p.name != "sock inlet 1"));
    let sock = d.pieces.iter().find(|p| p.role == Role::Sock).expect("it is bought all the same");
    assert_eq!((sock.quantity, sock.only_made), (1, 1));
    let ([lo, hi], ring) = (bounds(&d, "reducer"), bounds(&d, "sock ring inlet 1"));
    assert!(lo.z < ring[1].z && hi.z > ring[1].z, "its flange on the ring's, its spigot in it");
    near(0.5 * (lo.x + hi.x), 0.5 * (ring[0].x + ring[1].x));
    let id = d.placed.iter().position(|p| p.name == "reducer").unwrap();
    let joint = d.joints.iter().find(|j| j.a == id).expect("it rests");
    assert_eq!(d.placed[joint.b].name, "sock ring inlet 1");
    let piece = d.pieces.iter().find(|p| p.name == "reducer").unwrap();
    let words = piece.notes.join("\n");
    assert!(words.contains("hole 102 mm (from the socks of `inlet`)"), "{words}");
    assert!(words.contains("in the place of sock inlet 1"), "{words}");
    let shelf = d.removables.iter().find(|r| r.name == "sock holder inlet").expect("it lifts out");
    assert!(shelf.parts.contains(&id), "as a ring does, it goes with the shelf");
    assert!(d.removables.iter().all(|r| r.name != "sock inlet 1"));
    says(
        "kind = \"reducer\"\nchamber = \"inlet\"\nsock = 2\nmeasures = { bore = 60 }",
        &[
            "Tight fitting-not-placed fitting[0].sock: the holder of chamber `inlet` has no sock 2: this `reducer` is made, but not shown there",
        ],
    );
}

#[test]
fn a_channel_is_glued_to_a_wall_by_its_back() {
    let channel =
        "[[fitting]]\nkind = \"guide-channel\"\nwall = \"front\"\nat = 350\nheight = 120\n";
    assert_eq!(with(channel), "");
    let d = sump(channel);
    let [lo, hi] = bounds(&d, "guide-channel");
    near(lo.y, 8.0);
    near(hi.z - lo.z, 150.0);
    let placed = placed(&d, "guide-channel");
    near(placed.pose.transform_vector3(DVec3::Y).z, 1.0); // the lead-in is up
}

#[test]
fn a_clip_that_grips_shares_room_with_its_sheet_alone() {
    let stop =
        "[[fitting]]\nkind = \"door-stop\"\nleaf = \"gate\"\nchamber = \"return\"\nat = 300\n";
    assert_eq!(with(stop), "");
    let d = sump(stop);
    let id = d.placed.iter().position(|p| p.name == "door-stop").unwrap();
    let joint = d.joints.iter().find(|j| j.a == id).expect("it is joined");
    assert_eq!((joint.kind, d.placed[joint.b].name.as_str()), (JointKind::Clamped, "leaf gate"));
    let [lo, hi] = bounds(&d, "door-stop");
    // Its legs hang down from the edge as far as they are drawn below it, the longer one in the return.
    near(hi.z - own(&d, "door-stop")[1].y, 8.0 + 280.0);
    near(lo.z - own(&d, "door-stop")[0].y, 8.0 + 280.0);
    let leaf = bounds(&d, "leaf gate");
    assert!(hi.x - leaf[1].x > leaf[0].x - lo.x);
    let door = d.removables.iter().find(|r| r.kind == design::RemovableKind::Door).expect("a door");
    assert!(door.undone.contains(&id), "it is pulled off before");
    assert!(
        door.undo.as_deref().is_some_and(|words| words.ends_with("pull the stop off its leaf"))
    );
    let pointer =
        "[[fitting]]\nkind = \"level-pointer\"\nleaf = \"gate\"\nchamber = \"return\"\nat = 300\n";
    assert_eq!(with(pointer), "");
    let d = sump(pointer);
    let piece = d.pieces.iter().find(|p| p.name == "level-pointer").unwrap();
    let tip = bounds(&d, "level-pointer")[0].z;
    near(tip - own(&d, "level-pointer")[0].y, 8.0 + 280.0);
    let words = piece.notes.join("\n");
    let mark = format!("the mark: {} mm above the inside of the bottom", tip - 8.0);
    assert!(words.contains(&mark), "{words}");
}

#[test]
fn a_kind_without_a_place_says_why() {
    for (kind, words) in [
        ("sock-ring", "rings are put into the holes of their holder by `ring = \"printed\"`"),
        ("door-knob", "knobs are put on the screws of a door"),
    ] {
        let text = with(&format!(
            "[[fitting]]\nkind = \"{kind}\"\nwall = \"back\"\nat = 600\nheight = 100"
        ));
        assert!(text.starts_with("Tight fitting-not-placed fitting[0].wall: "), "{text}");
        assert!(text.contains(words) && text.lines().count() == 1, "{text}");
    }
}

/// One place for every kind of part: none is left that is only made without a reason.
#[test]
fn every_part_has_a_place_or_a_reason() {
    let places = [
        "wall = \"back\"\nat = 600\nheight = 150",
        "leaf = \"gate\"\nchamber = \"return\"\nat = 300",
        "chamber = \"middle\"\nat = [100, 150]",
        "chamber = \"inlet\"\nsock = 1",
        "lid = \"return\"\nat = [100, 200]",
    ];
    for kind in fittings::KINDS.iter().filter(|kind| !kind.is_jig) {
        let told = places
            .map(|place| with(&format!("{LID}[[fitting]]\nkind = \"{}\"\n{place}\n", kind.name)));
        let placed = told.iter().filter(|text| !text.contains("fitting-not-placed")).count();
        let has_reason = matches!(kind.name, "sock-ring" | "door-knob");
        assert_eq!(placed == 0, has_reason, "{}: {told:?}", kind.name);
    }
}

#[test]
fn a_strainer_takes_its_size_from_the_opening() {
    let opening = "openings = [{ letterbox = { bottom = 100, width = 70, height = 45 } }]\n";
    let strainer = "[[fitting]]\nkind = \"strainer\"\nleaf = \"loose\"\nchamber = \"middle\"\nat = 192\nheight = 122.5\n";
    let text =
        format!("{PLAIN}{strainer}").replace("[leaf.loose]\n", &format!("[leaf.loose]\n{opening}"));
    let d = resolved(&text);
    let piece = d.pieces.iter().find(|p| p.name == "strainer").unwrap();
    let words = piece.notes.join("\n");
    assert!(words.contains("width 70 mm (from the opening of the leaf), height 45 mm"), "{words}");
    assert_eq!(common::found_in(&text), "");
    let beside = common::found_in(&text.replace("at = 192\nheight", "at = 180\nheight"));
    let found = "Fails fitting-off-hole fitting[0].at: here leaf loose has no opening of 70 mm × 45 mm for this `strainer`\n";
    assert_eq!(beside, found);
}

/// A strainer in the only opening of the loose leaf, with the hint of what is found.
fn strainer(opening: &str, fitting: &str) -> (String, String) {
    let fitting = format!("[[fitting]]\nleaf = \"loose\"\nchamber = \"inlet\"\n{fitting}\n");
    let text = format!("{PLAIN}{fitting}")
        .replace("[leaf.loose]\n", &format!("[leaf.loose]\nopenings = [{{ {opening} }}]\n"));
    let file = params::read(&text).file.expect("it reads");
    let all = design::resolve(&file).findings;
    let off: Vec<_> = all.iter().filter(|f| f.code == "fitting-off-hole").collect();
    assert!(off.len() <= 1, "{off:?}");
    off.first().map_or_else(Default::default, |f| {
        (format!("{}: {}", f.parameter, f.message), f.hint.clone().unwrap_or_default())
    })
}

const LETTERBOX: &str = "letterbox = { bottom = 100, width = 60, height = 60 }";

/// What is told to be written is the place.
#[test]
fn a_strainer_beside_its_opening_is_told_where_to_go() {
    let kind = "kind = \"strainer\"";
    let at = |at: f64, height: f64| {
        strainer(LETTERBOX, &format!("{kind}\nat = {at}\nheight = {height}"))
    };
    assert_eq!(at(192.0, 130.0), Default::default());
    // Within its own opening.
    assert_eq!(at(192.1, 130.4), Default::default());
    let (what, hint) = at(192.1, 125.0);
    assert!(what.starts_with("fitting[0].height: here leaf loose has no opening"), "{what}");
    assert_eq!(hint, "the nearest is an opening of 60 mm × 60 mm: write `height = 130`");
    let (what, hint) = at(180.0, 130.1);
    assert!(what.starts_with("fitting[0].at: "), "{what}");
    assert!(hint.ends_with(": write `at = 192`"), "{hint}");
    let (_, hint) = at(180.0, 125.0);
    assert!(hint.ends_with(": write `at = 192` and `height = 130`"), "{hint}");
}

/// Nothing round goes into a square as wide, nothing square into a hole, and corners are to be the opening's.
#[test]
fn an_opening_has_the_form_of_what_is_pressed_into_it() {
    let spot = "at = 192\nheight = 130";
    let (what, hint) = strainer(
        LETTERBOX,
        &format!("kind = \"round-strainer\"\n{spot}\nmeasures = {{ hole = 60 }}"),
    );
    assert!(what.contains("has no hole of 60 mm for this `round-strainer`"), "{what}");
    assert!(hint.ends_with("60 mm × 60 mm: a `round-strainer` has another form"), "{hint}");
    let hole = "holes = { bottom = 100, diameter = 60, spacing = 80, columns = 1 }";
    let (what, hint) = strainer(
        hole,
        &format!("kind = \"strainer\"\n{spot}\nmeasures = {{ width = 60, height = 60 }}"),
    );
    assert!(what.contains("has no opening of 60 mm × 60 mm for this `strainer`"), "{what}");
    assert!(hint.contains("a hole of 60 mm"), "{hint}");
    // Heights of holes are those of their middles.
    let round = "kind = \"round-strainer\"\nat = 192\nheight = 100";
    assert_eq!(strainer(hole, round), Default::default());
    let corner = |mm: f64| {
        strainer(LETTERBOX, &format!("kind = \"strainer\"\n{spot}\nmeasures = {{ corner = {mm} }}"))
    };
    // As thick as the sheet: corners of the box's 8 mm where the file says nothing else.
    assert_eq!(corner(8.0), Default::default());
    let (what, hint) = corner(3.0);
    assert_eq!(
        what,
        "fitting[0].measures: the opening of leaf loose has corners of a radius of 8 mm, and this `strainer` is made for 3 mm"
    );
    assert!(hint.starts_with("leave `corner` out of `measures`"), "{hint}");
}

#[test]
fn every_kind_can_be_wanted_in_a_sump() {
    for kind in fittings::KINDS {
        let wanted = format!("[[fitting]]\nkind = \"{}\"\nloose = true\n", kind.name);
        let text = with(&wanted);
        assert!(!text.contains("Fails"), "{}: {text}", kind.name);
        let d = sump(&wanted);
        let piece = d.pieces.iter().find(|p| p.name == kind.name).expect("it is made");
        assert_eq!(piece.role == Role::Jig, kind.is_jig);
        assert_eq!(piece.only_made, 1);
    }
}

#[test]
fn what_is_pressed_on_is_made_for_the_thinnest_sheet() {
    let at = |pressed: bool| {
        let wanted = format!(
            "[[fitting]]\nkind = \"guide-channel\"\nloose = true\nmeasures = {{ pressed = {pressed} }}\n"
        );
        let text = format!("{PLAIN}{wanted}").replace("measured = 8\n", "measured = [7.6, 8.2]\n");
        let d = resolved(&text);
        let piece = d.pieces.iter().find(|p| p.name == "guide-channel").expect("it is made");
        piece.notes.join("\n")
    };
    assert!(at(true).contains("sheet 7.6 mm (from sheet `clear` at its thinnest, measured)"));
    assert!(at(false).contains("sheet 8.2 mm (from sheet `clear` at its thickest, measured)"));
}

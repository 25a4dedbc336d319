//! Guards the cabinet around the sump: where it stands in the sump's frame, what its openings leave of it, and
//! what is said when the sump has no place in it.

mod common;
#[allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]
mod plain;

use common::{demo, found_in, resolved};
use design::{Surrounding, SurroundingKind, Surroundings};
use glam::{DVec3, dvec3};
use plate::{Shape, Tolerance, arrange};

use plain::PLAIN;

/// The plain sump, 800 × 400 × 380, in a cabinet, with a loose drain into its inlet.
const CABINET: &str = r#"
[[drain]]
name = "main"
duty = "main"
chamber = "inlet"
diameter = 32
end = 120
[cabinet]
inside = { length = 900, width = 500, height = 700 }
panel = 20
sump_at = [60, 40]
mat = 10
opening = [{ side = "front" }]
"#;

fn with(from: &str, to: &str) -> String {
    assert!(from.is_empty() || CABINET.contains(from), "the cabinet has no `{from}`");
    format!("{PLAIN}{}", CABINET.replacen(from, to, 1))
}

fn around(text: &str) -> Surroundings {
    resolved(text).surroundings.expect("the file has a cabinet")
}

fn thing<'a>(around: &'a Surroundings, name: &str) -> &'a Surrounding {
    let names: Vec<&str> = around.things.iter().map(|t| t.name.as_str()).collect();
    let found = around.things.iter().find(|t| t.name == name);
    found.unwrap_or_else(|| panic!("no `{name}` among {names:?}"))
}

fn volume(thing: &Surrounding) -> f64 {
    match &thing.shape {
        Shape::Sheet(plate) => {
            let arrangement = arrange(plate, &Tolerance::default()).expect("it can be cut");
            let defects = arrangement.defects(&arrangement.tolerance);
            assert!(!defects.iter().any(plate::Defect::is_fatal), "{}: {defects:?}", thing.name);
            arrangement.volume()
        }
        Shape::Turned(turned) => {
            assert_eq!(turned.check(), Ok(()), "{}", thing.name);
            turned.volume_mm3()
        }
    }
}

/// Least and greatest corner of a sheet in its place.
fn corners(thing: &Surrounding) -> [DVec3; 2] {
    let Shape::Sheet(plate) = &thing.shape else { panic!("{} is no sheet", thing.name) };
    let [lo, hi] = plate.outline.bounds().expect("it has an outline");
    let at = |p: DVec3| thing.pose.transform_point3(p);
    let (p, q) = (at(lo.extend(0.0)), at(hi.extend(plate.thickness)));
    [p.min(q), p.max(q)]
}

#[track_caller]
fn check_corners(thing: &Surrounding, lo: DVec3, hi: DVec3) {
    let [a, c] = corners(thing);
    assert!(a.abs_diff_eq(lo, 1e-9) && c.abs_diff_eq(hi, 1e-9), "{}: {a} {c}", thing.name);
}

#[test]
fn the_cabinet_lies_around_the_sump() {
    let around = around(&with("", ""));
    assert!(around.inside[0].abs_diff_eq(dvec3(-60.0, -40.0, -10.0), 1e-9));
    assert!(around.inside[1].abs_diff_eq(dvec3(840.0, 460.0, 690.0), 1e-9));
    assert!(around.has_ceiling && (around.floor_z + 10.0).abs() < 1e-9);
    // Walls stand outside of the inside, on the floor and under the ceiling; the front is one opening.
    let panel = |name: &str| thing(&around, &format!("cabinet {name}"));
    check_corners(panel("floor"), dvec3(-80.0, -60.0, -30.0), dvec3(860.0, 480.0, -10.0));
    check_corners(panel("ceiling"), dvec3(-80.0, -60.0, 690.0), dvec3(860.0, 480.0, 710.0));
    check_corners(panel("back wall"), dvec3(-60.0, 460.0, -10.0), dvec3(840.0, 480.0, 690.0));
    check_corners(panel("inlet end wall"), dvec3(-80.0, -60.0, -10.0), dvec3(-60.0, 480.0, 690.0));
    check_corners(panel("far end wall"), dvec3(840.0, -60.0, -10.0), dvec3(860.0, 480.0, 690.0));
    assert!(!around.things.iter().any(|t| t.name == "cabinet front wall"));
    check_corners(thing(&around, "mat"), dvec3(0.0, 0.0, -10.0), dvec3(800.0, 400.0, 0.0));
}

#[test]
fn a_sump_without_a_place_stands_in_the_middle() {
    let around = around(&with("sump_at = [60, 40]\n", ""));
    assert!(around.inside[0].abs_diff_eq(dvec3(-50.0, -50.0, -10.0), 1e-9));
}

#[test]
fn an_opening_is_cut_out_of_its_wall() {
    let window = "opening = [{ side = \"far-end\", from = 100, to = 400, bottom = 50, top = 350 }]";
    let around = around(&with("opening = [{ side = \"front\" }]", window));
    let [opening] = &around.openings[..] else { panic!("one opening: {:?}", around.openings) };
    assert_eq!(opening.out, DVec3::X);
    assert_eq!(opening.parameter, "cabinet.opening[0]");
    // From the inside of the front, 100 to 400; from the floor, 50 to 350.
    assert!(opening.gap[0].abs_diff_eq(dvec3(840.0, 60.0, 40.0), 1e-9), "{}", opening.gap[0]);
    assert!(opening.gap[1].abs_diff_eq(dvec3(860.0, 360.0, 340.0), 1e-9), "{}", opening.gap[1]);
    let wall = thing(&around, "cabinet far end wall");
    assert!((volume(wall) - 20.0 * (540.0 * 700.0 - 300.0 * 300.0)).abs() < 1e-3);
    // The cut is where the opening is: its middle is no material, and that of the wall beside it is.
    let Shape::Sheet(plate) = &wall.shape else { panic!("a wall is a sheet") };
    let local = |p: DVec3| wall.pose.inverse().transform_point3(p).truncate();
    let cut = |p: DVec3| plate.cuts.iter().any(|cut| cut.contour.winding(local(p)) != 0);
    assert!(cut(dvec3(850.0, 210.0, 190.0)) && !cut(dvec3(850.0, 400.0, 190.0)));
}

#[test]
fn an_opening_from_edge_to_edge_leaves_two_panels() {
    let door = "opening = [{ side = \"back\", from = 300, to = 600 }]";
    let around = around(&with("opening = [{ side = \"front\" }]", door));
    let first = thing(&around, "cabinet back wall");
    check_corners(first, dvec3(-60.0, 460.0, -10.0), dvec3(240.0, 480.0, 690.0));
    let second = thing(&around, "cabinet back wall 2");
    check_corners(second, dvec3(540.0, 460.0, -10.0), dvec3(840.0, 480.0, 690.0));
    assert!((volume(second) - 20.0 * 300.0 * 700.0).abs() < 1e-3);
}

#[test]
fn a_rigid_drain_comes_down_through_the_ceiling() {
    let d = resolved(&with("", ""));
    let around = d.surroundings.as_ref().expect("it has a cabinet");
    let pipe = thing(around, "pipe above drain main");
    assert_eq!(pipe.kind, SurroundingKind::PipeAbove);
    assert_eq!(pipe.parameter, "drain[0].above");
    let drain = d.placed.iter().find(|p| p.name == "drain main").expect("it has a drain");
    let Shape::Turned(below) = &d.pieces[drain.piece].shape else { panic!("a pipe is turned") };
    let Shape::Turned(above) = &pipe.shape else { panic!("a pipe is turned") };
    let lower_end = drain.pose.translation + below.extent().1[1] * DVec3::Z;
    assert!(pipe.pose.translation.abs_diff_eq(lower_end, 1e-9), "end to end");
    assert!((above.extent().0 - 16.0).abs() < 1e-12, "of the drain's diameter");
    let top = pipe.pose.translation.z + above.extent().1[1];
    assert!((top - 710.0).abs() < 1e-9, "through the ceiling: {top}");
    // A round hole with 3 mm of room.
    let hole = std::f64::consts::PI * 19.0 * 19.0;
    assert!(
        (volume(thing(around, "cabinet ceiling")) - 20.0 * (940.0 * 540.0 - hole)).abs() < 1e-3
    );
}

#[test]
fn nothing_stays_above_a_drain_on_a_hose() {
    let around = around(&with("end = 120", "end = 120\nabove = \"hose\""));
    assert!(!around.things.iter().any(|t| t.kind == SurroundingKind::PipeAbove));
    assert!((volume(thing(&around, "cabinet ceiling")) - 20.0 * 940.0 * 540.0).abs() < 1e-3);
}

/// From the pipe's upper end, 60 mm above the rim, to the ceiling; without one to where the walls end.
#[test]
fn a_hose_hangs_straight_down_to_its_drain() {
    let hose = |text: &str| {
        let all = around(text).hoses;
        let [hose] = &all[..] else { panic!("one hose: {all:?}") };
        hose.clone()
    };
    let text = with("end = 120", "end = 120\nabove = \"hose\"");
    let d = resolved(&text);
    let drain = d.placed.iter().find(|p| p.name == "drain main").expect("it has a drain");
    let below = hose(&text);
    assert_eq!((below.drain.as_str(), below.parameter.as_str()), ("drain main", "drain[0].above"));
    assert!(below.middle.abs_diff_eq(drain.pose.translation.truncate(), 1e-9));
    assert!((below.diameter_mm - 32.0).abs() < 1e-9);
    assert!((below.z[0] - (d.outside.z + 60.0)).abs() < 1e-9, "{:?}", below.z);
    assert!((below.z[1] - 690.0).abs() < 1e-9, "{:?}", below.z);
    let open = text.replace("mat = 10", "mat = 10\nceiling = false");
    assert!((hose(&open).z[1] - 690.0).abs() < 1e-9);
    assert!(around(&with("", "")).hoses.is_empty(), "a rigid pipe is none");
}

#[test]
fn without_a_ceiling_pipes_end_with_the_walls() {
    let around = around(&with("mat = 10", "mat = 10\nceiling = false"));
    assert!(!around.has_ceiling && !around.things.iter().any(|t| t.name == "cabinet ceiling"));
    let pipe = thing(&around, "pipe above drain main");
    let Shape::Turned(turned) = &pipe.shape else { panic!("a pipe is turned") };
    assert!((pipe.pose.translation.z + turned.extent().1[1] - 690.0).abs() < 1e-9);
}

#[test]
fn what_stands_in_the_cabinet() {
    let contents = r#"
post = [{ name = "left", at = [0, 0], size = [40, 30] }]
shelf = [{ name = "upper", at = [500, 300], size = [400, 200], height = 500, removable = true }]
[[cabinet.fixture]]
name = "socket"
box = [30, 60, 90]
at = [5, 100, 0]
[[cabinet.fixture]]
name = "canister"
cylinder = { diameter = 40, height = 300 }
at = [875, 20, 0]
[[cabinet.fixture]]
name = "post left"
pipe = 20
at = [100, 480, 600]
to = [400, 480, 650]
"#;
    let text = with("", "") + contents;
    let d = resolved(&text);
    let around = d.surroundings.as_ref().expect("it has a cabinet");
    check_corners(
        thing(around, "post left"),
        dvec3(-60.0, -40.0, -10.0),
        dvec3(-20.0, -10.0, 690.0),
    );
    check_corners(
        thing(around, "shelf upper"),
        dvec3(440.0, 260.0, 490.0),
        dvec3(840.0, 460.0, 508.0),
    );
    check_corners(thing(around, "socket"), dvec3(-55.0, 60.0, -10.0), dvec3(-25.0, 120.0, 80.0));
    let canister = thing(around, "canister");
    assert!(canister.pose.translation.abs_diff_eq(dvec3(815.0, -20.0, -10.0), 1e-9));
    // Names are told apart, whatever they are made of.
    let pipe = thing(around, "post left 2");
    let Shape::Turned(turned) = &pipe.shape else { panic!("a pipe is turned") };
    let end = pipe.pose.transform_point3(turned.extent().1[1] * DVec3::Z);
    assert!(end.abs_diff_eq(dvec3(340.0, 440.0, 640.0), 1e-9), "{end}");
    assert_eq!(found_in(&text), "");

    let shelf = d.removables.iter().find(|r| r.kind == design::RemovableKind::CabinetShelf);
    let shelf = shelf.expect("it lifts out");
    assert_eq!(
        (shelf.name.as_str(), shelf.parameter.as_str()),
        ("shelf upper", "cabinet.shelf[0]")
    );
    assert_eq!(around.things[shelf.shelf.expect("it is one of them")].name, "shelf upper");
}

/// The cabinet with one line changed must find exactly these.
#[track_caller]
fn check(from: &str, to: &str, expected: &[&str]) {
    let text = found_in(&with(from, to));
    let heads: Vec<&str> =
        text.lines().map(|line| line.split(':').next().expect("a head")).collect();
    assert_eq!(heads, expected, "{text}");
}

#[test]
fn a_sump_that_has_no_place_in_its_cabinet() {
    check("", "", &[]);
    check(
        "length = 900",
        "length = 790",
        &["Fails sump-larger-than-cabinet cabinet.inside.length"],
    );
    check("width = 500", "width = 399", &["Fails sump-larger-than-cabinet cabinet.inside.width"]);
    check(
        "height = 700",
        "height = 389",
        &["Fails sump-larger-than-cabinet cabinet.inside.height"],
    );
    check("height = 700", "height = 390", &[]);
    check("[60, 40]", "[101, 40]", &["Fails sump-out-of-cabinet cabinet.sump_at"]);
    check("[60, 40]", "[100, 100]", &[]);
    check("mat = 10", "mat = 10\nceiling = false", &[]);
    let low = with("height = 700", "height = 300") + "ceiling = false\n";
    assert_eq!(found_in(&low), "");
}

#[test]
fn what_stands_where_the_sump_does() {
    let post =
        |at: &str| format!("mat = 10\npost = [{{ name = \"mid\", at = {at}, size = [40, 40] }}]");
    // The sump's outer front is 40 mm from the cabinet's.
    check("mat = 10", &post("[300, 0]"), &[]);
    check("mat = 10", &post("[300, 5]"), &["Fails cabinet-in-sump cabinet.post[0].at"]);
    let shelf =
        "mat = 10\nshelf = [{ name = \"low\", at = [0, 0], size = [900, 100], height = 380 }]";
    check("mat = 10", shelf, &["Fails cabinet-in-sump cabinet.shelf[0].at"]);
    let pipe = |from: &str, to: &str| {
        format!(
            "[{{ side = \"front\" }}]\n[[cabinet.fixture]]\nname = \"line\"\npipe = 30\nat = {from}\nto = {to}"
        )
    };
    let front = "[{ side = \"front\" }]";
    // Down into the open sump through its rim; through its back wall; just beside it, and not.
    check(front, &pipe("[700, 200, 690]", "[700, 200, 300]"), &[]);
    let hit = ["Fails cabinet-in-sump cabinet.fixture[0].at"];
    check(front, &pipe("[700, 300, 150]", "[700, 495, 150]"), &hit);
    check(front, &pipe("[20, 24, 100]", "[880, 24, 100]"), &[]);
    check(front, &pipe("[20, 26, 100]", "[880, 26, 100]"), &hit);
}

#[test]
fn the_cabinets_of_all_demos_can_be_built() {
    for name in ["seahorse", "mangrove", "brook", "fragfarm"] {
        let around = demo(name).surroundings.expect("every demo has a cabinet");
        let mut names: Vec<&str> = around.things.iter().map(|t| t.name.as_str()).collect();
        for thing in &around.things {
            assert!(volume(thing) > 0.0, "{name}: {}", thing.name);
        }
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count, "{name}: {names:?}");
    }
}

/// 60 mm above the rim of a sump 380 mm high.
#[test]
fn a_rigid_drain_is_bought_with_its_union() {
    let notes = |text: &str| {
        let d = resolved(text);
        let drain = d.placed.iter().find(|p| p.name == "drain main").expect("it has a drain");
        d.pieces[drain.piece].notes.join("; ")
    };
    let rigid = notes(&with("", ""));
    assert!(rigid.contains("a union at its upper end, 4"), "{rigid}");
    let hose = notes(&with("end = 120", "end = 120\nabove = \"hose\""));
    assert!(!hose.contains("union"), "{hose}");
}

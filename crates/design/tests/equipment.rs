//! Guards where equipment stands: bodies that are one, places that are found, and what is said of them.

mod common;
mod plain;

use common::resolved;
use design::{Design, JointKind, Role};
use findings::{Finding, Grade};
use plain::{PLAIN, check};

const PUMP: &str = "box = [100, 80, 100]\nat = [110, 100]\n";

/// The plain sump with another pump and whatever follows it.
fn with_pump(pump: &str) -> String {
    assert!(PLAIN.contains(PUMP), "the plain sump has no such pump");
    PLAIN.replacen(PUMP, pump, 1)
}

fn findings(text: &str) -> Vec<Finding> {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("not read: {:#?}", read.findings));
    design::resolve(&file).findings
}

#[track_caller]
fn said(text: &str, code: &str) -> Finding {
    let all = findings(text);
    let of_it: Vec<&Finding> = all.iter().filter(|f| f.code == code).collect();
    let [one] = of_it[..] else { panic!("{code} is said {} times: {all:#?}", of_it.len()) };
    one.clone()
}

#[track_caller]
fn middle(design: &Design, name: &str) -> [f64; 2] {
    let placed = design.placed.iter().find(|p| p.name == name).expect("it is there");
    let [lo, hi] = outline(design, placed);
    [0.5 * (lo[0] + hi[0]), 0.5 * (lo[1] + hi[1])]
}

fn outline(design: &Design, placed: &design::Placed) -> [[f64; 3]; 2] {
    let (lo, hi) = match &design.pieces[placed.piece].shape {
        plate::Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds().expect("it has an outline");
            (lo.extend(0.0), hi.extend(plate.thickness))
        }
        plate::Shape::Turned(turned) => {
            let (r, [z0, z1]) = turned.extent();
            (glam::dvec3(-r, -r, z0), glam::dvec3(r, r, z1))
        }
    };
    let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
    [p.min(q).to_array(), p.max(q).to_array()]
}

const COMPOUND: &str = r#"box = [100, 80, 100]
at = [90, 130]
[[equipment.part]]
cylinder = { diameter = 40, height = 50 }
at = [20, 0, 90]
[[equipment.part]]
box = [40, 40, 30]
at = [0, 50, 0]
[[equipment.stub]]
from = [50, 0, 30]
towards = "far-end"
length = 40
diameter = 20
[[equipment.stub]]
kind = "cable"
from = [-30, 0, 100]
towards = "up"
length = 120
diameter = 8
"#;

#[test]
fn further_bodies_and_stubs_are_bodies_of_one_thing() {
    // A part that reaches 10 mm into the main body is no clash.
    let text = with_pump(COMPOUND);
    let failing: Vec<Finding> =
        findings(&text).into_iter().filter(|f| f.grade != Grade::Holds).collect();
    let heads: Vec<(&str, &str)> = failing.iter().map(|f| (f.code, f.parameter.as_str())).collect();
    assert_eq!(heads, [], "{failing:#?}");

    let design = resolved(&text);
    let main = design.pieces.iter().position(|p| p.name == "pump").expect("it is there");
    assert_eq!(design.pieces[main].body_of, None);
    let mut further: Vec<(&str, &str)> = design
        .pieces
        .iter()
        .filter(|p| p.body_of == Some(main))
        .map(|p| (p.name.as_str(), p.parameter.as_str()))
        .collect();
    further.sort_unstable();
    let expected = [
        ("pump cable", "equipment[0].stub[1]"),
        ("pump hose", "equipment[0].stub[0]"),
        ("pump part 2", "equipment[0].part[0]"),
        ("pump part 3", "equipment[0].part[1]"),
    ];
    assert_eq!(further, expected);
    assert!(design.pieces.iter().all(|p| p.body_of.is_none() || p.role == Role::Equipment));

    // What stands on the bottom rests on it: the main body and the foot behind it.
    let resting: Vec<&str> = design
        .joints
        .iter()
        .filter(|j| j.kind == JointKind::Rests)
        .map(|j| &design.placed[j.a])
        .filter(|p| design.pieces[p.piece].role == Role::Equipment)
        .map(|p| p.name.as_str())
        .collect();
    assert_eq!(resting, ["pump", "pump part 3"]);
}

#[test]
fn further_bodies_take_room_from_the_water() {
    let design = resolved(&with_pump(COMPOUND));
    let basin = design.waterworks.basins.iter().find(|b| b.name == "return").expect("it is there");
    let volume = |name: &str| {
        let body = basin.bodies.iter().find(|b| b.name == name).expect("it is there");
        body.area_mm2 * (body.z_mm[1] - body.z_mm[0])
    };
    let pi = std::f64::consts::PI;
    for (name, expected) in [
        ("pump", 100.0 * 80.0 * 100.0),
        ("pump part 2", pi * 400.0 * 50.0),
        ("pump part 3", 40.0 * 40.0 * 30.0),
        // Lying and upright bars by their volume.
        ("pump hose", pi * 100.0 * 40.0),
        ("pump cable", pi * 16.0 * 120.0),
    ] {
        assert!((volume(name) - expected).abs() < 1e-6 * expected, "{name}: {}", volume(name));
    }
}

#[test]
fn a_stub_that_reaches_into_a_wall_is_told() {
    // The chamber is 220 long, the pump's middle 90 from its near side: 130 mm to the wall.
    let long = COMPOUND.replacen("length = 40", "length = 85", 1);
    check(PUMP, &long, &[("parts-overlap", "equipment[0].stub[0]")]);
}

#[test]
fn without_a_place_it_stands_in_the_middle_if_that_is_free() {
    let text = with_pump("box = [100, 80, 100]\n");
    let found = said(&text, "place-found");
    assert_eq!(found.grade, Grade::Holds);
    // 220 long, 384 wide.
    assert!(found.message.ends_with("is at = [110, 192]"), "{}", found.message);
    let written = with_pump("box = [100, 80, 100]\nat = [110, 192]\n");
    let [a, c] = [text, written.clone()].map(|text| middle(&resolved(&text), "pump"));
    assert!((a[0] - c[0]).abs() < 1e-9 && (a[1] - c[1]).abs() < 1e-9, "{a:?}, not {c:?}");
    assert!(findings(&written).iter().all(|f| f.code != "place-found"));
}

#[test]
fn it_keeps_clear_of_what_has_a_place_and_of_its_service_room() {
    // A reactor with a place, later in the file, stands in the middle; 30 mm around it are for service.
    let reactor = "[[equipment]]\nname = \"reactor\"\nkind = \"reactor\"\nchamber = \"return\"\ncylinder = { diameter = 60, height = 100 }\nat = [110, 192]\nservice = { around = 30 }\n";
    let text = format!("{}{reactor}", with_pump("box = [100, 80, 100]\n"));
    let design = resolved(&text);
    let ([x, y], [rx, ry]) = (middle(&design, "pump"), middle(&design, "reactor"));
    assert!((x - rx).abs() < 1e-9);
    // Half the pump, half the reactor, 30 mm: 100 mm, on the grid of 5 mm.
    assert!(((y - ry).abs() - 100.0).abs() < 1e-9, "{y} beside {ry}");
}

#[test]
fn it_is_turned_if_that_is_the_only_way() {
    // The chamber is 220 long.
    let text = with_pump("box = [260, 80, 100]\n");
    let found = said(&text, "place-found");
    assert!(found.message.contains("turned by 90°"), "{}", found.message);
    let design = resolved(&text);
    let placed = design.placed.iter().find(|p| p.name == "pump").expect("it is there");
    let [lo, hi] = outline(&design, placed);
    assert!((hi[0] - lo[0] - 80.0).abs() < 1e-9 && (hi[1] - lo[1] - 260.0).abs() < 1e-9);
    assert!(design.pieces[placed.piece].notes.iter().any(|note| note.contains("turned by 90°")));
}

#[test]
fn without_room_it_is_said_what_is_in_the_way_and_by_how_much() {
    // 384 mm between front and back, 2 mm kept at either side: 380 would fit.
    let text = with_pump("box = [100, 390, 100]\n");
    let told = said(&text, "no-free-place");
    assert_eq!((told.grade, told.parameter.as_str()), (Grade::Fails, "equipment[0].chamber"));
    let limit = told.limit.expect("it says by how much");
    assert!((limit.measured + 5.0).abs() < 0.1, "{limit:?}");
    assert!(told.message.contains("sides of the chamber"), "{}", told.message);

    // A reactor as wide as the chamber leaves 80 mm on one side of it at the most: 84 are needed.
    let wall = "[[equipment]]\nname = \"reactor\"\nkind = \"reactor\"\nchamber = \"return\"\nbox = [140, 380, 100]\nat = [150, 192]\n";
    let text = format!("{}{wall}", with_pump("box = [80, 80, 100]\n"));
    let told = said(&text, "no-free-place");
    // 80 mm are left, and 84 with a gap on either side: in the middle of them it lacks 2 on each.
    let limit = told.limit.expect("it says by how much");
    assert!((limit.measured + 2.0).abs() < 0.1, "{limit:?}: {}", told.message);
    let room = format!("{}{wall}", with_pump("box = [76, 80, 100]\n"));
    assert_eq!(said(&room, "place-found").grade, Grade::Holds);
}

#[test]
fn service_room_that_hits_something_fixed_finds_another_place_or_none() {
    // Up to 380 mm are the walls' and the rim's; the brace over the middle chamber is 60 wide at 400.
    let pump = |above: f64| format!("box = [60, 60, 100]\nservice = {{ above = {above} }}\n");
    let in_middle =
        |text: String| text.replacen("chamber = \"return\"\nbox", "chamber = \"middle\"\nbox", 1);
    let low = in_middle(with_pump(&pump(100.0)));
    let high = in_middle(with_pump(&pump(400.0)));
    let (low, high) = (resolved(&low), resolved(&high));
    let [x, _] = middle(&low, "pump");
    let chamber = low.chambers.iter().find(|c| c.name == "middle").expect("it is there");
    assert!((x - 0.5 * (chamber.min.x + chamber.max.x)).abs() < 0.5);
    // Beside the brace.
    let [x, _] = middle(&high, "pump");
    assert!((x - 400.0).abs() >= 60.0 - 1e-9, "{x}");
}

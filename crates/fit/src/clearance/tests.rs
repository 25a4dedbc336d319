//! Clearances of the demos, as they are and with something moved.

use design::{Design, RemovableKind, Role};

use super::*;
use crate::world::tests::{DEMOS, demo};

fn find(world: &World, name: &str) -> ThingId {
    world.things.iter().position(|t| t.name == name).unwrap_or_else(|| panic!("no {name}"))
}

fn of_pair<'a>(all: &'a [Clearance], names: [&str; 2]) -> Option<&'a Clearance> {
    all.iter().find(|c| {
        c.when.is_none() && names.iter().all(|name| c.names.iter().any(|own| own == name))
    })
}

/// A piece of equipment that is one box along the axes.
fn a_box(design: &Design, world: &World) -> ThingId {
    let is_box = |id: &ThingId| {
        let placed = &design.placed[*id];
        let thing = &world.things[*id];
        let size = thing.bounds[1] - thing.bounds[0];
        design.pieces[placed.piece].role == Role::Equipment
            && design.pieces[placed.piece].body_of.is_none()
            && matches!(thing.fine.as_slice(), [piece] if piece.points.len() == 8)
            && size.min_element() > 10.0
    };
    (0..design.placed.len()).find(is_box).expect("a box")
}

#[test]
fn demos_are_free_of_clashes_and_joints_are_no_clearances() {
    for name in DEMOS {
        let design = demo(name);
        let world = World::of(&design);
        let all = clearances(&design, &world);
        assert!(all.len() > 10, "{name}: {}", all.len());
        for c in &all {
            assert!(c.gap_mm > -TOUCH_MM, "{name}: {:?} {} {:?}", c.names, c.gap_mm, c.when);
            assert!((c.at[0].distance(c.at[1]) - c.gap_mm).abs() < 1e-6, "{name}: {:?}", c.names);
            let is_joint = |j: &design::Joint| [j.a, j.b] == [c.a, c.b] || [j.b, j.a] == [c.a, c.b];
            assert!(!design.joints.iter().any(is_joint), "{name}: {:?}", c.names);
            let parts = design.removables.iter().filter(|r| r.kind != RemovableKind::Sump);
            let is_one = parts.map(|r| world.part(r, &design));
            assert!(!is_one.into_iter().any(|p| p.contains(&c.a) && p.contains(&c.b)), "{name}");
        }
    }
}

/// Boxes along the axes: their gap is what anyone reckons from their corners.
#[test]
fn gaps_of_boxes_are_those_of_their_corners() {
    let mut n = 0;
    for name in DEMOS {
        let design = demo(name);
        let world = World::of(&design);
        let is_box = |thing: ThingId| matches!(world.things[thing].fine.as_slice(), [piece] if piece.points.len() == 8);
        for c in clearances(&design, &world) {
            if c.when.is_none() && is_box(c.a) && is_box(c.b) {
                let exact = bounds_gap(world.things[c.a].bounds, world.things[c.b].bounds);
                assert!((c.gap_mm - exact).abs() < 1e-9, "{:?}: {} {exact}", c.names, c.gap_mm);
                n += 1;
            }
        }
    }
    assert!(n > 10, "{n}");
}

#[test]
fn equipment_in_a_wall_is_told_with_how_deep_it_is() {
    for name in DEMOS {
        let mut design = demo(name);
        let world = World::of(&design);
        let (id, wall) = (a_box(&design, &world), find(&world, "front wall"));
        let inner = world.things[wall].bounds[1].y;
        for gap in [0.5, -3.0] {
            let now = World::of(&design).things[id].bounds[0].y;
            design.placed[id].pose.translation.y += inner + gap - now;
            let world = World::of(&design);
            let all = clearances(&design, &world);
            let names = [world.things[id].name.as_str(), "front wall"];
            let told = of_pair(&all, names).unwrap_or_else(|| panic!("{name}: {names:?}"));
            assert!((told.gap_mm - gap).abs() < 1e-6, "{name}: {} for {gap}", told.gap_mm);
            let finger = design.fit.finger_gap.to_mm();
            assert!((told.limit_mm - finger).abs() < 1e-9, "{name}: {}", told.limit_mm);
        }
    }
}

/// Against the file: the gates' doors are set to 245 and 220 mm, between 220 and 285, and 195 and 245 mm.
#[test]
fn doors_go_to_their_lowest_and_highest() {
    let design = demo("fragfarm.toml");
    let doors = service::doors(&design);
    let shifts: Vec<f64> = doors.iter().map(|door| door.by.z).collect();
    assert_eq!(shifts.len(), 4, "{shifts:?}");
    for (shift, exact) in shifts.iter().zip([-25.0, 40.0, -25.0, 25.0]) {
        assert!((shift - exact).abs() < 1e-9, "{shifts:?}");
    }
    let role = |id: ThingId| design.pieces[design.placed[id].piece].role;
    assert!(doors.iter().all(|door| role(door.thing) == Role::Door));
}

#[test]
fn what_stands_in_a_service_room_is_told() {
    let mut design = demo("fragfarm.toml");
    let world = World::of(&design);
    let (pump, wall) = (find(&world, "skimmer body"), find(&world, "front wall"));
    let lid = find(&world, "lid skimmer");
    let [mut lo, mut hi] = world.things[pump].bounds;
    hi.z = world.things[lid].bounds[1].z + 50.0;
    lo.y = world.things[wall].bounds[1].y - 7.0;
    design.placed[pump].service = vec![[lo, hi]];
    let first = taken_out_first(&design, &world);
    assert!(first.iter().any(|s| s.of == pump && s.what == lid), "{first:?}");
    let all = clearances(&design, &world);
    let told = all.iter().find(|c| c.when.is_some() && c.a == pump && c.b == wall);
    let told = told.expect("the wall stands in the room");
    assert!((told.gap_mm + 7.0).abs() < 1e-6, "{}", told.gap_mm);
    assert!(told.limit_mm.abs() < 1e-9);
}

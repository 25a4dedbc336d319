//! The worlds of the demos.

use design::Design;
use glam::DVec3;

use super::*;

pub(crate) fn demo(name: &str) -> Design {
    let text = match name {
        "brook.toml" => include_str!("../../../../params/brook.toml"),
        "fragfarm.toml" => include_str!("../../../../params/fragfarm.toml"),
        "mangrove.toml" => include_str!("../../../../params/mangrove.toml"),
        "seahorse.toml" => include_str!("../../../../params/seahorse.toml"),
        _ => panic!("no demo is called {name}"),
    };
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("{name}: {:#?}", read.findings));
    let resolved = design::resolve(&file);
    resolved.design.unwrap_or_else(|| panic!("{name}: {:#?}", resolved.findings))
}

pub(crate) const DEMOS: [&str; 4] =
    ["brook.toml", "fragfarm.toml", "mangrove.toml", "seahorse.toml"];

/// Bounds on coarse pieces, cabinet and all: what the search for ways out is quick with. Most of them are the
/// rings of socks and the hole of a probe holder, whose play asks for many sides.
#[test]
fn demos_come_to_few_pieces() {
    for (name, most) in DEMOS.into_iter().zip([80, 570, 210, 380]) {
        let design = demo(name);
        let world = World::of(&design);
        let coarse: usize = world.things.iter().map(|t| t.coarse.len()).sum();
        assert!(coarse <= most, "{name}: {coarse}");
        let greatest = world.things.iter().map(|t| t.coarse.len()).max();
        assert!(greatest < Some(90), "{name}: {greatest:?}");
    }
}

#[test]
fn things_are_where_the_design_has_them() {
    for name in DEMOS {
        let design = demo(name);
        let world = World::of(&design);
        let around = design.surroundings.as_ref().map_or(0, |s| s.things.len());
        assert_eq!(world.things.len(), design.placed.len() + design.spares.len() + around);
        for (i, placed) in design.placed.iter().enumerate() {
            assert_eq!(world.things[i].origin, Origin::Placed(i));
            assert_eq!(world.things[i].name, placed.name);
        }
        for thing in &world.things {
            assert!(!thing.fine.is_empty() && !thing.coarse.is_empty(), "{}", thing.name);
            let [lo, hi] = thing.bounds;
            assert!(lo.cmplt(hi).all(), "{}", thing.name);
        }
        for removable in &design.removables {
            assert!(!world.part(removable, &design).is_empty(), "{}", removable.name);
        }
    }
}

/// Against the sizes that the parameter file gives: rim 40 mm wide, three openings between two braces.
#[test]
fn the_rim_of_the_frag_farm_has_three_openings() {
    let world = World::of(&demo("fragfarm.toml"));
    let exits = &world.exits;
    assert_eq!(exits.rim.len(), 3);
    let rim = world.things.iter().find(|t| t.name == "rim").expect("it has one");
    assert!((exits.rim_z - rim.bounds[1].z).abs() < 1e-9);
    for window in &exits.rim {
        let half = DVec3::new(window.half_u, window.half_v, 0.0);
        // Nothing of the rim stands in the middle third of an opening.
        let room = Convex::block([window.centre - half / 3.0, window.centre + half / 3.0]);
        let gap = |piece: &Convex| crate::nearest::nearest(&piece.points, &room.points).gap_mm;
        assert!(rim.fine.iter().all(|piece| gap(piece) > 1.0));
        assert!(window.half_v * 2.0 < rim.bounds[1].y - rim.bounds[0].y);
    }
    assert_eq!(exits.doors.len(), 2);
}

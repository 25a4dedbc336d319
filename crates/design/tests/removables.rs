//! Guards what is told of as removable: all that is loose, with what moves with it and what is undone before.

mod common;
#[allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]
mod plain;

use common::{demo, resolved};
use design::{Design, Removable, RemovableKind, Role};
use plain::PLAIN;

fn named<'a>(design: &'a Design, name: &str) -> &'a Removable {
    let all: Vec<_> = design.removables.iter().map(|r| r.name.as_str()).collect();
    let found = design.removables.iter().find(|r| r.name == name);
    found.unwrap_or_else(|| panic!("no `{name}` among {all:?}"))
}

fn names<'a>(design: &'a Design, ids: &[usize]) -> Vec<&'a str> {
    ids.iter().map(|&i| design.placed[i].name.as_str()).collect()
}

const DEMOS: [&str; 4] = ["seahorse", "mangrove", "brook", "fragfarm"];

/// Every placed part moves with exactly one thing: what is loose with something loose, all else with the
/// sump. Only a door on a leaf that lifts out is told of twice: alone, and with its leaf.
#[test]
fn every_part_of_every_demo_belongs_to_one_removable() {
    for name in DEMOS {
        let d = demo(name);
        for (id, placed) in d.placed.iter().enumerate() {
            let with: Vec<&Removable> =
                d.removables.iter().filter(|r| r.parts.contains(&id)).collect();
            let undone = d.removables.iter().any(|r| r.undone.contains(&id));
            let kinds: Vec<RemovableKind> = with.iter().map(|r| r.kind).collect();
            let what = format!("{name}: {} moves with {kinds:?}", placed.name);
            match d.pieces[placed.piece].role {
                Role::Screw | Role::Knob => assert!(undone, "{what}"),
                Role::Door => assert!(kinds.contains(&RemovableKind::Door), "{what}"),
                _ => assert_eq!(kinds.len(), 1, "{what}"),
            }
            assert_eq!(kinds.contains(&RemovableKind::Sump), placed.loose.is_none(), "{what}");
        }
    }
}

#[test]
fn names_of_removables_are_unique() {
    for name in DEMOS {
        let d = demo(name);
        let mut names: Vec<&str> = d.removables.iter().map(|r| r.name.as_str()).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count, "{name}: {names:?}");
    }
}

#[test]
fn a_removable_says_what_moves_and_what_is_undone() {
    let d = resolved(PLAIN);
    let all: Vec<(&str, RemovableKind)> =
        d.removables.iter().map(|r| (r.name.as_str(), r.kind)).collect();
    assert_eq!(
        all,
        [
            ("leaf loose", RemovableKind::Leaf),
            ("door of leaf gate", RemovableKind::Door),
            ("sock holder inlet", RemovableKind::SockHolder),
            ("sock inlet 1", RemovableKind::Sock),
            ("pump", RemovableKind::Equipment),
            ("sump", RemovableKind::Sump),
        ]
    );
    let holder = named(&d, "sock holder inlet");
    assert_eq!(names(&d, &holder.parts), ["sock holder inlet", "sock ring inlet 1"]);
    assert_eq!(holder.chamber.as_deref(), Some("inlet"));
    assert_eq!(named(&d, "sock inlet 1").chamber.as_deref(), Some("inlet"));
    assert_eq!(named(&d, "pump").chamber.as_deref(), Some("return"));

    let door = named(&d, "door of leaf gate");
    assert_eq!(names(&d, &door.parts), ["door of leaf gate"]);
    assert_eq!(door.undo.as_deref(), Some("take off its 2 knobs and screws"));
    let undone = names(&d, &door.undone);
    assert_eq!(undone.len(), 4, "{undone:?}");

    let sump = names(&d, &named(&d, "sump").parts);
    assert!(sump.contains(&"bottom") && sump.contains(&"fitting out"), "{sump:?}");
    assert!(!sump.contains(&"pump") && !sump.contains(&"leaf loose"), "{sump:?}");
}

#[test]
fn a_leaf_with_a_door_takes_it_along() {
    let text = PLAIN.replacen("[leaf.gate]", "[leaf.gate]\nmount = \"lift-out\"", 1);
    let d = resolved(&text);
    let leaf = names(&d, &named(&d, "leaf gate").parts);
    assert_eq!(leaf.len(), 6, "leaf, door, two screws, two knobs: {leaf:?}");
    assert_eq!(names(&d, &named(&d, "door of leaf gate").parts), ["door of leaf gate"]);
}

#[test]
fn a_leaf_that_is_not_in_names_the_one_that_is() {
    let d = demo("seahorse");
    let spare = named(&d, "leaf letterbox");
    assert!(spare.parts.is_empty() && spare.undone.is_empty());
    let other = &d.removables[spare.instead_of.expect("the comb stands there")];
    assert_eq!(other.name, "leaf comb");
    let [id] = spare.spares[..] else { panic!("one sheet: {:?}", spare.spares) };
    let (spare, stands) = (&d.spares[id], &d.placed[other.parts[0]]);
    assert_eq!(spare.name, "leaf letterbox");
    assert!(spare.pose.abs_diff_eq(stands.pose, 1e-9), "it would stand where the comb does");
    assert!(d.pieces[spare.piece].is_spare);
}

#[test]
fn a_spare_has_its_door_with_it() {
    let spare = "[leaf.other]\nmount = \"lift-out\"\ncrest = { height = 280 }\n[leaf.other.door]\nbottom = 120\nwidth = 140\nheight = 100\nlowest = 160\nhighest = 210\n[leaf.loose]";
    let text = PLAIN.replacen("[leaf.loose]", spare, 1).replacen(
        "slot = [\"loose\"]",
        "slot = [\"loose\", \"other\"]",
        1,
    );
    let d = resolved(&text);
    let other = named(&d, "leaf other");
    let with: Vec<&str> = other.spares.iter().map(|&i| d.spares[i].name.as_str()).collect();
    assert_eq!(with.len(), 6, "{with:?}");
    assert!(!d.removables.iter().any(|r| r.name == "door of leaf other"));
}

//! Guards that a proof speaks of real parts and of what never leaves.

use design::Design;

use super::*;

/// The demo of a leaf that does not come out, with one thing written otherwise.
fn stuck(from: &str, to: &str) -> Design {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/stuck-leaf.toml");
    let text = std::fs::read_to_string(path).expect("the demo is there");
    assert!(text.contains(from), "{from}");
    let read = params::read(&text.replace(from, to));
    let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
    let resolved = design::resolve(&file);
    resolved.design.unwrap_or_else(|| panic!("{:#?}", resolved.findings))
}

fn leaf(design: &Design) -> RemovableId {
    let is_leaf = |r: &design::Removable| r.kind == RemovableKind::Leaf;
    design.removables.iter().position(is_leaf).expect("it has one")
}

const SLOTS: &str = "crest = { height = 300 }
openings = [{ slots = { bottom = 60, height = 160, width = 6, gap = 10, count = 14 } }]";

/// Teeth between which the rim passes: as a whole sheet it would be shut in, as a comb nothing is proved.
const COMB: &str = "crest = { height = 300, teeth = { width = 10, gap = 38, depth = 230 } }";

#[test]
fn a_sheet_is_proved_shut_in_and_a_comb_of_the_same_size_is_not() {
    for (to, is_proved) in [(SLOTS, true), ("crest = { height = 300 }", true), (COMB, false)] {
        let design = stuck(SLOTS, to);
        let world = World::of(&design);
        let planner = Planner::new(&design, &world, Vec::new());
        let which = leaf(&design);
        let gone = vec![false; planner.count()];
        let verdict = planner.way(which, &gone, Tries::Plain);
        assert_eq!(matches!(verdict, Verdict::ProvedNone(_)), is_proved, "{to}: {verdict:?}");
    }
}

#[test]
fn a_proof_rests_on_nothing_that_can_be_taken_out() {
    let design = crate::world::tests::demo("fragfarm.toml");
    let world = World::of(&design);
    let planner = Planner::new(&design, &world, Vec::new());
    let gone = vec![false; planner.count()];
    for which in 0..planner.count() {
        let space = planner.space(&world, which, &gone);
        assert!(!space.fixed.is_empty());
        for other in (0..planner.count()).filter(|k| !planner.is_sump(*k)) {
            let is_of_other = |thing: ThingId| planner.things_of(other).contains(&thing);
            assert!(space.fixed.iter().all(|o| !is_of_other(o.thing)), "{which} {other}");
        }
    }
    // Nor on what comes off the part: a sock does not go with its holder for good.
    for part in 0..planner.count() {
        for whole in planner.wholes(part).iter().filter(|k| !planner.is_sump(**k)) {
            let of = |which: RemovableId| planner.body(which, &gone).whole.len();
            let all =
                world.moving(&design.removables[*whole], planner.things_of(*whole), &design, false);
            assert!(of(*whole) < all.len(), "{part} of {whole}");
        }
    }
}

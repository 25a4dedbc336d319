//! Guards that a proof speaks of real parts and of what never leaves.

use design::Design;

use super::*;
use crate::order::{all, before, take};
use crate::plan::holds;

/// The demo of a leaf that does not come out, with one thing written otherwise.
fn stuck(from: &str, to: &str) -> Design {
    resolved(&stuck_text(from, to))
}

fn stuck_text(from: &str, to: &str) -> String {
    let text = include_str!("../../../../../params/stuck-leaf.toml");
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

fn resolved(text: &str) -> Design {
    let read = params::read(text);
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

#[test]
fn every_way_of_every_order_passes_the_second_check_with_what_is_out_there() {
    for name in ["brook.toml", "mangrove.toml"] {
        let design = crate::world::tests::demo(name);
        let world = World::of(&design);
        let planner = Planner::new(&design, &world, Vec::new());
        let (outs, known) = all(&planner);
        let emptying = [(vec![false; planner.count()], outs)];
        let each = known.into_iter().enumerate();
        let orders = each.map(|(which, known)| (before(&planner, which), known.order));
        let mut n = 0;
        for (mut gone, order) in emptying.into_iter().chain(orders) {
            for out in order {
                let space = planner.space(&world, out.which, &gone);
                let body = planner.body(out.which, &gone);
                assert!(holds(&space, &body, &out.way), "{name}: {}", out.which);
                take(&planner, out.which, &mut gone);
                n += 1;
            }
        }
        assert!(n > 4, "{name}: {n}");
    }
}

#[test]
fn a_narrow_pump_comes_straight_out_of_a_narrow_opening() {
    // Three openings: two braces leave one of some 37 mm between them, and the pump stands below it.
    let from = "braces = [
    { at = 230, width = 120 },
    { at = 455, width = 120 },
]";
    let to = "braces = [
    { at = 480, width = 60 },
    { at = 578, width = 60 },
]";
    let text = stuck_text(from, to)
        .replace("corner = 20", "corner = 10")
        .replace("box = [90, 70, 90]", "box = [30, 70, 90]");
    let design = resolved(&text);
    let mut world = World::of(&design);
    let pump = design
        .removables
        .iter()
        .position(|r| r.kind == RemovableKind::Equipment)
        .expect("it has one");
    // Below the opening, wherever the file has put it in its chamber.
    let narrow = world.exits.rim.iter().min_by(|a, b| a.half_u.total_cmp(&b.half_u)).copied();
    let narrow = narrow.expect("three openings");
    assert!(
        (34.0..40.0).contains(&(2.0 * narrow.half_u)),
        "hardly wider than the pump: {narrow:?}"
    );
    let ids = world.part(&design.removables[pump], &design);
    let bounds = world.things[ids[0]].bounds;
    let by = (narrow.centre - (bounds[0] + bounds[1]) / 2.0).with_z(0.0);
    for id in ids {
        for piece in &mut world.things[id].coarse {
            *piece = Convex::new(piece.points.iter().map(|p| *p + by).collect());
        }
    }
    let planner = Planner::new(&design, &world, Vec::new());
    let gone = vec![false; planner.count()];
    let Verdict::Found(way) = planner.way(pump, &gone, Tries::Plain) else { panic!("no way") };
    assert!(way.len() == 1 && way[0].to.shift.truncate().length() < 1e-9, "{way:?}");
}

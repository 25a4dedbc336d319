//! Lids, sock holders, wall fittings and level marks, each in itself.

use findings::Finding;

use super::leaves::spaced;
use super::{Rules, each};

pub(super) fn check(rules: &mut Rules<'_>) {
    lids(rules);
    sock_holders(rules);
    for fitting in each("wall_fitting", &rules.file.wall_fitting) {
        let what = "the flange is no larger than the hole it covers";
        rules.larger(
            [
                (fitting.key("flange"), fitting.value.flange),
                (fitting.key("hole"), fitting.value.hole),
            ],
            what,
        );
    }
    for marks in each("level_marks", &rules.file.level_marks) {
        let what = "the highest mark is not above the lowest";
        rules.larger(
            [(marks.key("to"), marks.value.to), (marks.key("from"), marks.value.from)],
            what,
        );
    }
}

/// A lid lies on the rim.
fn lids(rules: &mut Rules<'_>) {
    for lid in each("lid", &rules.file.lid) {
        if rules.file.enclosure.rim.is_none() && rules.gaps.knows_keys("box", &["rim"]) {
            let message = "a lid lies on the rim, but the box has none";
            rules.add(
                &[],
                Finding::fails("lid-without-rim", &lid.path, message)
                    .with_hint("add `rim` to `[box]`, or delete the lid"),
            );
        }
        if let Some(holes) = lid.value.drain_holes {
            spaced(
                rules,
                &lid.key("drain_holes"),
                holes.diameter,
                holes.spacing,
                holes.rows * holes.columns,
            );
        }
    }
}

fn sock_holders(rules: &mut Rules<'_>) {
    for holder in each("sock_holder", &rules.file.sock_holder) {
        let sock = holder.key("sock");
        if let Some(flange) = holder.value.sock.flange {
            let [flange_path, diameter] =
                ["flange", "diameter"].map(|key| crate::path::key(&sock, key));
            let what = "the sock's flange is no larger than its bag, so it falls through";
            rules.larger([(flange_path, flange), (diameter, holder.value.sock.diameter)], what);
        }
    }
}

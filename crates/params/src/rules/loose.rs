//! What lies, stands and hangs in the sump, each in itself.

use findings::Finding;
use units::Length;

use super::leaves::spaced;
use super::{At, Rules, each};
use crate::Equipment;

pub(super) fn check(rules: &mut Rules<'_>) {
    lids(rules);
    sock_holders(rules);
    for fitting in each("wall_fitting", &rules.file.wall_fitting) {
        let what = "the flange is no larger than the hole it covers";
        larger(
            rules,
            [
                (fitting.key("flange"), fitting.value.flange),
                (fitting.key("hole"), fitting.value.hole),
            ],
            what,
        );
    }
    for drain in each("drain", &rules.file.drain) {
        let walls = (drain.key("wall"), drain.value.wall.unwrap_or_default() * 2.0);
        if drain.value.wall.is_some() {
            larger(
                rules,
                [(drain.key("diameter"), drain.value.diameter), walls],
                "the two walls leave no bore",
            );
        }
        if let Some(top) = drain.value.top {
            let what = "the pipe's upper end is not above its lower end";
            larger(rules, [(drain.key("top"), top), (drain.key("end"), drain.value.end)], what);
        }
    }
    for equipment in each("equipment", &rules.file.equipment) {
        one_body(rules, &equipment);
    }
    for marks in each("level_marks", &rules.file.level_marks) {
        let what = "the highest mark is not above the lowest";
        larger(
            rules,
            [(marks.key("to"), marks.value.to), (marks.key("from"), marks.value.from)],
            what,
        );
    }
}

/// Reports the first when it is not larger than the second.
fn larger(
    rules: &mut Rules<'_>,
    [(path, value), (other_path, other)]: [(String, Length); 2],
    what: &str,
) {
    if value <= other {
        let message = format!("{what}: {} against {}", rules.show(value), rules.show(other));
        let key = |path: &str| path.rsplit('.').next().unwrap_or_default().to_owned();
        let hint = format!("change `{}` or `{}`", key(&path), key(&other_path));
        rules.add(
            &[&path, &other_path],
            Finding::fails("not-larger", &path, message).with_hint(hint),
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
            larger(rules, [(flange_path, flange), (diameter, holder.value.sock.diameter)], what);
        }
    }
}

/// Equipment is a box or a cylinder.
fn one_body(rules: &mut Rules<'_>, equipment: &At<'_, Equipment>) {
    let what = match (equipment.value.block, equipment.value.cylinder) {
        (None, None) => "neither",
        (Some(_), Some(_)) => "both",
        _ => return,
    };
    if rules.gaps.knows_keys(&equipment.path, &["box", "cylinder"]) {
        let message =
            format!("this equipment has {what} of `box` and `cylinder`, but exactly one is needed");
        let hint = "write `box = [along, front to back, upwards]` or `cylinder = { diameter = …, height = … }`";
        rules.add(&[], Finding::fails("not-one", &equipment.path, message).with_hint(hint));
    }
}

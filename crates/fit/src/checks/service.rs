//! What is said of what stands where equipment is serviced, and can be taken out before.

use design::{RemovableId, RemovableKind};
use findings::Finding;

use super::Checks;
use crate::clearance::taken_out_first;
use crate::report::Way;
use crate::way::Verdict;
use crate::words::listed;
use crate::world::ThingId;

const CODE: &str = "service-room";

/// For every piece of equipment that other things must make room for: what comes out, and what is not known to.
pub(super) fn cleared(c: &Checks<'_>) -> Vec<Finding> {
    let mut of_each: Vec<(ThingId, Vec<ThingId>)> = Vec::new();
    for in_it in taken_out_first(c.design, &c.fit.world) {
        match of_each.iter_mut().find(|(of, _)| *of == in_it.of) {
            Some((_, all)) => all.push(in_it.what),
            None => of_each.push((in_it.of, vec![in_it.what])),
        }
    }
    of_each.into_iter().flat_map(|(of, all)| of_one(c, of, &all)).collect()
}

/// How what stands there can be taken out.
#[derive(Clone, Copy, PartialEq)]
enum Outcome {
    ComesOut,
    /// Only after what is serviced has come out itself.
    ComesOutAfter,
    CannotComeOut,
    NotKnown,
}

fn of_one(c: &Checks<'_>, of: ThingId, all: &[ThingId]) -> Vec<Finding> {
    let things = &c.fit.world.things;
    let serviced = &things[of].name;
    let those = |wanted: Outcome| {
        let of_it = all.iter().filter(|what| outcome(c, of, **what) == wanted);
        of_it.map(|what| format!("`{}`", things[*what].name)).collect::<Vec<_>>()
    };
    let parameter = || things[of].parameter.clone();
    let stand = |names: &[String]| {
        let stand = if names.len() == 1 { "stands" } else { "stand" };
        format!("{} {stand} in the room that the service of `{serviced}` needs", listed(names))
    };
    let tell = |wanted: Outcome| {
        let names = those(wanted);
        if names.is_empty() {
            return None;
        }
        let room = stand(&names);
        Some(match wanted {
            Outcome::ComesOut => {
                Finding::holds(CODE, parameter(), format!("{room}, and must be taken out before"))
            }
            Outcome::ComesOutAfter => Finding::tight(
                CODE,
                parameter(),
                format!("{room}, and can only be taken out after `{serviced}` itself"),
            )
            .with_hint(format!("service `{serviced}` outside the sump, or move one of them")),
            Outcome::CannotComeOut => {
                Finding::tight(CODE, parameter(), format!("{room}, and cannot be taken out"))
                    .with_hint("move one of them, or mend the way out first")
            }
            Outcome::NotKnown => Finding::not_checked(
                CODE,
                parameter(),
                format!("{room}, and no way out is known for it to be taken out before"),
            )
            .with_hint("move one of them, or see why no way out is known"),
        })
    };
    [Outcome::ComesOut, Outcome::ComesOutAfter, Outcome::CannotComeOut, Outcome::NotKnown]
        .into_iter()
        .filter_map(tell)
        .collect()
}

fn outcome(c: &Checks<'_>, of: ThingId, what: ThingId) -> Outcome {
    let all_ways = || holders(c, what).into_iter().filter_map(|which| way(c, which));
    let serviced = holders(c, of);
    let is_serviced = |way: &&Way| way.steps.iter().any(|step| serviced.contains(&step.removable));
    let (mut is_known, mut is_after) = (false, false);
    for way in all_ways().filter(|way| !way.steps.is_empty()) {
        is_known |= !is_serviced(&way);
        is_after |= is_serviced(&way);
    }
    match (is_known, is_after) {
        (true, _) => Outcome::ComesOut,
        (_, true) => Outcome::ComesOutAfter,
        _ if all_ways().any(|way| matches!(way.alone, Verdict::ProvedNone(_))) => {
            Outcome::CannotComeOut
        }
        _ => Outcome::NotKnown,
    }
}

fn way<'a>(c: &Checks<'a>, which: RemovableId) -> Option<&'a Way> {
    c.fit.report.ways.iter().find(|way| way.removable == which)
}

/// What a thing is taken out with, or undone for; not the sump itself.
fn holders(c: &Checks<'_>, thing: ThingId) -> Vec<RemovableId> {
    let holds = |which: &RemovableId| {
        let removable = &c.design.removables[*which];
        removable.kind != RemovableKind::Sump
            && (c.fit.world.part(removable, c.design).contains(&thing)
                || c.fit.world.undone(removable, c.design).contains(&thing))
    };
    (0..c.design.removables.len()).filter(holds).collect()
}

//! What is taken out for reach, and as little of it as will do.

use std::collections::BTreeSet;

use design::{Design, RemovableId, RemovableKind};

use crate::order::Emptying;
use crate::world::{ThingId, World};

/// A removable as reach sees it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Removal {
    /// What goes with it.
    pub(crate) things: Vec<ThingId>,
    /// All that comes out for it, in order, itself last. Empty when it is no help: a spare, the sump itself.
    pub(crate) order: Vec<RemovableId>,
    /// Whether a way is known of it.
    pub(crate) is_way_known: bool,
}

/// All removables as reach sees them, in the design's order.
pub(crate) fn removals(design: &Design, world: &World, emptying: &Emptying) -> Vec<Removal> {
    let removal = |(id, removable): (RemovableId, &design::Removable)| {
        let steps = emptying.ways.get(id).map_or(&[][..], |way| &way.steps);
        let things = [world.part(removable, design), world.undone(removable, design)].concat();
        let is_help = removable.kind != RemovableKind::Sump && removable.instead_of.is_none();
        let order = match steps {
            _ if !is_help => Vec::new(),
            [] => vec![id],
            steps => steps.iter().map(|step| step.removable).collect(),
        };
        Removal {
            things: if is_help { things } else { Vec::new() },
            order,
            is_way_known: !steps.is_empty(),
        }
    };
    design.removables.iter().enumerate().map(removal).collect()
}

/// Which of the removables are out when all of `wanted` are: a flag for each.
pub(crate) fn out(removals: &[Removal], wanted: &[RemovableId]) -> Vec<bool> {
    let mut out = vec![false; removals.len()];
    for id in wanted.iter().flat_map(|id| &removals[*id].order) {
        out[*id] = true;
    }
    out
}

/// As few of `candidates` as are as much worth as all of them. `worth` never falls when more is out.
///
/// First by leaving out one after another, from the last and from the first; then every smaller choice is tried, as long as
/// they are not too many. What is counted is all that comes out, not only what is wanted.
pub(crate) fn least(
    removals: &[Removal],
    candidates: &[RemovableId],
    worth: impl Fn(&[bool]) -> usize,
) -> Vec<RemovableId> {
    /// How many choices are tried at most; our judgement.
    const MOST_CHOICES: usize = 300;
    let goal = worth(&out(removals, candidates));
    let cost =
        |wanted: &[RemovableId]| out(removals, wanted).iter().filter(|is_out| **is_out).count();
    let suffices = |wanted: &[RemovableId]| worth(&out(removals, wanted)) >= goal;
    let pruned = |order: &mut dyn Iterator<Item = RemovableId>| {
        let mut kept: BTreeSet<RemovableId> = candidates.iter().copied().collect();
        for id in order {
            kept.remove(&id);
            if !suffices(&kept.iter().copied().collect::<Vec<_>>()) {
                kept.insert(id);
            }
        }
        kept.into_iter().collect::<Vec<_>>()
    };
    let last_first = pruned(&mut candidates.iter().rev().copied());
    let first_first = pruned(&mut candidates.iter().copied());
    let mut best = if cost(&first_first) < cost(&last_first) { first_first } else { last_first };
    let mut n_tried = 0;
    let mut choices = vec![Vec::new()];
    while let Some(next) = longer(&choices, candidates, cost(&best)) {
        for choice in &next {
            n_tried += 1;
            if n_tried > MOST_CHOICES {
                return best;
            }
            if cost(choice) < cost(&best) && suffices(choice) {
                best.clone_from(choice);
            }
        }
        choices = next;
    }
    best
}

/// Choices with one more candidate each, in their order; none when they would hold as many as what is
/// known already.
fn longer(
    choices: &[Vec<RemovableId>],
    candidates: &[RemovableId],
    known: usize,
) -> Option<Vec<Vec<RemovableId>>> {
    let length = choices.first()?.len() + 1;
    if length >= known {
        return None;
    }
    let with_one_more = |choice: &Vec<RemovableId>| {
        let last = choice.last().and_then(|last| candidates.iter().position(|id| id == last));
        let choice = choice.clone();
        candidates[last.map_or(0, |place| place + 1)..]
            .iter()
            .map(move |id| [&choice[..], &[*id]].concat())
    };
    Some(choices.iter().flat_map(with_one_more).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn removal(order: &[RemovableId]) -> Removal {
        Removal { things: Vec::new(), order: order.to_vec(), is_way_known: true }
    }

    #[test]
    fn what_must_come_out_before_is_counted() {
        // 0 or (1 with 2 and 3) does it, and so does 4.
        let removals = [
            removal(&[0, 5]),
            removal(&[2, 3, 1]),
            removal(&[2]),
            removal(&[3]),
            removal(&[4]),
            removal(&[5]),
        ];
        let worth = |out: &[bool]| usize::from(out[0] || out[1] || out[4]);
        assert_eq!(least(&removals, &[0, 1, 2, 3, 4, 5], worth), [4]);
        assert_eq!(out(&removals, &[1]), [false, true, true, true, false, false]);
    }

    #[test]
    fn a_smaller_choice_is_found_where_leaving_out_one_by_one_ends_early() {
        // 2 alone does it; so do 0 and 1 with 3 and 4. Leaving out from either end drops 2 last or first.
        let removals: Vec<Removal> = (0..5).map(|id| removal(&[id])).collect();
        let worth = |out: &[bool]| usize::from(out[2] || [0, 1, 3, 4].iter().all(|id| out[*id]));
        assert_eq!(least(&removals, &[2, 0, 1, 3, 4], worth), [2]);
        let nothing = |_: &[bool]| 1;
        assert!(least(&removals, &[0, 1, 2, 3, 4], nothing).is_empty());
    }
}

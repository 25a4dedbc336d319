//! From an order that works to a short one.

use design::RemovableId;

use super::{Out, Search, Tries, before, take};
use crate::way::Verdict;

/// Drops from an order, from its end backwards, whatever its target does not need. The target is the last.
///
/// What is left cannot be made shorter by leaving out one of it, as far as plain moves show; another order may
/// still be shorter.
pub(super) fn pruned(search: &impl Search, mut order: Vec<Out>) -> Vec<Out> {
    let Some(target) = order.last().map(|out| out.which) else { return order };
    let mut k = order.len() - 1;
    while k > 0 {
        k -= 1;
        let mut without = order.clone();
        without.remove(k);
        if mend(search, target, &mut without, k) {
            order = without;
        }
    }
    order
}

/// Makes an order work from its `from`-th on, with new plain moves where the old ones are no longer free.
fn mend(search: &impl Search, target: RemovableId, order: &mut [Out], from: usize) -> bool {
    let mut gone = before(search, target);
    for out in &order[..from] {
        take(search, out.which, &mut gone);
    }
    for out in &mut order[from..] {
        if !search.is_free(out.which, &gone, &out.way) {
            let Verdict::Found(way) = search.way(out.which, &gone, Tries::Plain) else {
                return false;
            };
            out.way = way;
        }
        take(search, out.which, &mut gone);
    }
    true
}

/// How many plans the search for a shorter order may take for one target: all single removals of a large sump, or
/// the pairs of a small one.
const PLANS: usize = 30;

/// Which removals of an order are needed, whatever else goes: with all the rest out but that one, its target has
/// no way by plain moves, or one that is needed itself has none. No order goes without them.
fn needed(search: &impl Search, order: &[Out]) -> Vec<bool> {
    let mut is_needed = vec![true; order.len()];
    for k in (0..order.len().saturating_sub(1)).rev() {
        let out = order[k].which;
        let later = (k + 1..order.len()).filter(|later| is_needed[*later]);
        is_needed[k] = later.map(|later| order[later].which).any(|stuck| {
            let gone = all_but(search, [out, stuck]);
            !matches!(search.way(stuck, &gone, Tries::Plain), Verdict::Found(_))
        });
    }
    is_needed
}

/// These out in whatever order it goes, the target last. As taking out only frees, whatever is free may go first.
fn in_any_order(
    search: &impl Search,
    target: RemovableId,
    mut left: Vec<RemovableId>,
) -> Option<Vec<Out>> {
    let mut gone = before(search, target);
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let may_go = |which: RemovableId| which != target || left.len() == 1;
        let freed = left.iter().enumerate().filter(|(_, which)| may_go(**which)).find_map(
            |(place, &which)| match search.way(which, &gone, Tries::Plain) {
                Verdict::Found(way) => Some((place, Out { which, way })),
                _ => None,
            },
        );
        let (place, out) = freed?;
        left.remove(place);
        take(search, out.which, &mut gone);
        order.push(out);
    }
    Some(order)
}

/// Everything out that can come out, except these two with what would take them along. Parts of them may be out.
fn all_but(search: &impl Search, stay: [RemovableId; 2]) -> Vec<bool> {
    let stays = |which: RemovableId| {
        search.is_last(which)
            || stay.iter().any(|s| *s == which || search.wholes(*s).contains(&which))
    };
    (0..search.count()).map(|which| !stays(which)).collect()
}

/// Seeks an order shorter than `order` among single removals and, while they are few, pairs. `alone` says which are
/// free with everything in place. Gives the order, and whether everything shorter was tried.
pub(super) fn shorter(
    search: &impl Search,
    order: Vec<Out>,
    alone: &[Verdict],
) -> (Vec<Out>, bool) {
    let Some(target) = order.last().map(|out| out.which) else { return (order, true) };
    let is_needed = needed(search, &order);
    match is_needed.iter().filter(|is_needed| !**is_needed).count() {
        0 => return (order, true),
        1 => {
            // Only the one that is not needed in any case can be spared, and only if the rest do without another.
            let spared = is_needed.iter().position(|is_needed| !is_needed).unwrap_or_default();
            let mut rest: Vec<RemovableId> = order.iter().map(|out| out.which).collect();
            rest.remove(spared);
            return (in_any_order(search, target, rest).unwrap_or(order), true);
        }
        _ => {}
    }
    let mut plans = PLANS;
    let firsts = firsts(search, target, alone);
    if order.len() > 2 {
        for first in &firsts {
            let Some(left) = plans.checked_sub(1) else { return (order, false) };
            plans = left;
            if let Some(way) = freed_by(search, target, std::slice::from_ref(first)) {
                return (vec![first.clone(), Out { which: target, way }], true);
            }
        }
    }
    if order.len() > 3 {
        match pair(search, target, &firsts, plans) {
            Pair::Found(order) => return (order, true),
            Pair::TooMany => return (order, false),
            Pair::None => {}
        }
    }
    // Of three and more not all were tried.
    let is_all = order.len() <= 4;
    (order, is_all)
}

/// What can come out first.
fn firsts(search: &impl Search, target: RemovableId, alone: &[Verdict]) -> Vec<Out> {
    let gone = before(search, target);
    let outs = alone.iter().enumerate().filter_map(|(which, verdict)| match verdict {
        Verdict::Found(way) => Some(Out { which, way: way.clone() }),
        _ => None,
    });
    outs.filter(|out| {
        let takes_target = search.wholes(target).contains(&out.which);
        let is_spare = search.instead_of(out.which).is_some();
        out.which != target && !takes_target && !is_spare && !gone[out.which]
    })
    .filter(|out| !search.is_last(out.which))
    .collect()
}

/// The way of the target with these out.
fn freed_by(
    search: &impl Search,
    target: RemovableId,
    out: &[Out],
) -> Option<Vec<crate::motion::Motion>> {
    let mut gone = before(search, target);
    for out in out {
        take(search, out.which, &mut gone);
    }
    match search.way(target, &gone, Tries::Plain) {
        Verdict::Found(way) => Some(way),
        _ => None,
    }
}

enum Pair {
    Found(Vec<Out>),
    TooMany,
    None,
}

/// Two out, of which the first is free with everything in place.
fn pair(search: &impl Search, target: RemovableId, firsts: &[Out], mut plans: usize) -> Pair {
    let could_be = |which: &RemovableId, first: RemovableId, gone: &[bool]| {
        let takes_target = search.wholes(target).contains(which);
        let is_known = firsts.iter().any(|out| out.which == *which);
        // Two that are both free at once are tried in one order only.
        let is_other_order = is_known && *which < first;
        *which != target
            && !gone[*which]
            && !takes_target
            && !is_other_order
            && search.instead_of(*which).is_none()
            && !search.is_last(*which)
    };
    for first in firsts {
        let mut gone = before(search, target);
        take(search, first.which, &mut gone);
        let seconds = (0..search.count()).filter(|k| could_be(k, first.which, &gone));
        for second in seconds.collect::<Vec<_>>() {
            let Some(left) = plans.checked_sub(2) else { return Pair::TooMany };
            plans = left;
            let known = firsts.iter().find(|out| out.which == second).map(|out| out.way.clone());
            let way = known.or_else(|| match search.way(second, &gone, Tries::Plain) {
                Verdict::Found(way) => Some(way),
                _ => None,
            });
            let Some(way) = way else { continue };
            let two = [first.clone(), Out { which: second, way }];
            if let Some(way) = freed_by(search, target, &two) {
                let [first, second] = two;
                return Pair::Found(vec![first, second, Out { which: target, way }]);
            }
        }
    }
    Pair::None
}

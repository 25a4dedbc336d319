//! Everything out, round by round.

use design::RemovableId;
use rayon::prelude::*;

use super::{Out, Search, Tries, take};
use crate::way::Verdict;

/// How a sump was emptied.
#[derive(Clone, Debug)]
pub(super) struct Rounds {
    /// What came out, in order.
    pub(super) outs: Vec<Out>,
    /// Where each round begins in `outs`; every way of a round was planned with what is out there.
    pub(super) begins: Vec<usize>,
    /// What did not come out, and what the last search said of it.
    pub(super) left: Vec<(RemovableId, Verdict)>,
}

impl Rounds {
    /// The round in which it came out, and its place in `outs`.
    pub(super) fn place(&self, which: RemovableId) -> Option<usize> {
        self.outs.iter().position(|out| out.which == which)
    }

    /// Where the round of the `place`-th begins.
    pub(super) fn begin_of(&self, place: usize) -> usize {
        self.begins.iter().copied().rfind(|begin| *begin <= place).unwrap_or(0)
    }
}

/// Empties the sump. `alone` is what plain moves came to with everything in place.
///
/// A round asks all that are left for plain moves; all that are freed come out. When none is, searches by chance
/// follow until the first in the order of the file comes out. A part of something larger, such as the door of
/// a leaf, comes out by itself only when nothing else does.
pub(super) fn empty(search: &impl Search, alone: &[Verdict]) -> Rounds {
    let is_spare = |which: RemovableId| search.instead_of(which).is_some();
    let mut gone = vec![false; search.count()];
    let mut verdicts = alone.to_vec();
    let mut rounds = Rounds { outs: Vec::new(), begins: Vec::new(), left: Vec::new() };
    loop {
        let left: Vec<RemovableId> = (0..search.count())
            .filter(|k| !gone[*k] && !is_spare(*k) && !search.is_last(*k))
            .filter(|k| !matches!(verdicts[*k], Verdict::ProvedNone(_)))
            .collect();
        if left.is_empty() {
            break;
        }
        if !rounds.outs.is_empty() {
            let found: Vec<Verdict> =
                left.par_iter().map(|k| search.way(*k, &gone, Tries::Plain)).collect();
            for (which, verdict) in left.iter().zip(found) {
                verdicts[*which] = verdict;
            }
        }
        let mut freed = freed(search, &left, &left, &verdicts);
        if freed.is_empty() {
            freed = by_chance(search, &left, &gone, &mut verdicts);
        }
        if freed.is_empty() {
            break;
        }
        rounds.begins.push(rounds.outs.len());
        for out in freed {
            take(search, out.which, &mut gone);
            rounds.outs.push(out);
        }
    }
    last(search, &mut gone, &mut rounds);
    let is_left = |k: &RemovableId| !gone[*k] && !is_spare(*k) && !search.is_last(*k);
    rounds.left = (0..search.count()).filter(is_left).map(|k| (k, verdicts[k].clone())).collect();
    rounds
}

/// Those among `some` of which a way is known, without parts of larger things while there are others.
fn freed(
    search: &impl Search,
    some: &[RemovableId],
    left: &[RemovableId],
    verdicts: &[Verdict],
) -> Vec<Out> {
    let found = some.iter().filter_map(|which| match &verdicts[*which] {
        Verdict::Found(way) => Some(Out { which: *which, way: way.clone() }),
        _ => None,
    });
    let (parts, wholes): (Vec<Out>, Vec<Out>) =
        found.partition(|out| search.wholes(out.which).iter().any(|whole| left.contains(whole)));
    if wholes.is_empty() { parts } else { wholes }
}

/// The first few that a search by chance frees.
fn by_chance(
    search: &impl Search,
    left: &[RemovableId],
    gone: &[bool],
    verdicts: &mut [Verdict],
) -> Vec<Out> {
    // Briefly first, all of them: one that is easy to find comes out before long is spent on one that is locked.
    for tries in [Tries::BRIEF, Tries::MIDDLE, Tries::FULL] {
        for some in left.chunks(ABREAST) {
            let found: Vec<Verdict> =
                some.par_iter().map(|k| search.way(*k, gone, tries)).collect();
            for (which, verdict) in some.iter().zip(found) {
                verdicts[*which] = verdict;
            }
            let freed = freed(search, some, left, verdicts);
            if !freed.is_empty() {
                return freed;
            }
        }
    }
    Vec::new()
}

/// How many searches by chance run before it is looked whether one has come to something. Fixed, so that
/// the result does not depend on how many cores there are.
const ABREAST: usize = 4;

/// The sump itself, when it is empty.
fn last(search: &impl Search, gone: &mut [bool], rounds: &mut Rounds) {
    let rest = |k: &RemovableId| search.instead_of(*k).is_none() && !gone[*k];
    let rest: Vec<RemovableId> = (0..search.count()).filter(rest).collect();
    let [which] = rest[..] else { return };
    if !search.is_last(which) {
        return;
    }
    let tries = [Tries::Plain, Tries::FULL];
    let way = tries.iter().find_map(|tries| match search.way(which, gone, *tries) {
        Verdict::Found(way) => Some(way),
        _ => None,
    });
    if let Some(way) = way {
        rounds.begins.push(rounds.outs.len());
        rounds.outs.push(Out { which, way });
        gone[which] = true;
    }
}

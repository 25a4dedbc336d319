//! In which order things come out, and what must come out before a thing can.
//!
//! Taking a thing out only frees room: a way that was free stays free. So emptying needs no second thoughts, and
//! what is left at its end is what no order frees.

mod known;
mod rounds;
mod search;
mod shorter;

#[cfg(test)]
mod tests;

use design::RemovableId;

pub(crate) use known::{EASY_MOVES, Known, all};
pub(crate) use search::Planner;

use crate::motion::Motion;
use crate::report::{Step, Way};
use crate::way::Verdict;

/// How hard a way is searched for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Tries {
    /// Plain moves through the openings only, nothing by chance.
    Plain,
    /// And by chance, for one in so many of the steps that the file allows; more than the file says only with all of
    /// them.
    Chance {
        /// 1: all of them.
        one_in: u64,
    },
}

impl Tries {
    /// By chance, as long as the file says.
    pub(crate) const FULL: Self = Self::Chance { one_in: 1 };
    /// By chance, but briefly: where something easier is known already, or others may come first.
    pub(crate) const BRIEF: Self = Self::Chance { one_in: 40 };
    /// Between the two.
    pub(crate) const MIDDLE: Self = Self::Chance { one_in: 6 };
}

/// What is asked of whoever plans ways. `gone[k]` says whether removable `k` is out already.
pub(crate) trait Search: Sync {
    /// How many removables there are.
    fn count(&self) -> usize;
    /// What stands in the place of a spare and is out before the spare is asked for.
    fn instead_of(&self, which: RemovableId) -> Option<RemovableId>;
    /// Those that take `which` out with them: of a door its leaf.
    fn wholes(&self, which: RemovableId) -> &[RemovableId];
    /// Whether it comes out when all else is out: the sump itself.
    fn is_last(&self, which: RemovableId) -> bool;
    /// Its way.
    fn way(&self, which: RemovableId, gone: &[bool], tries: Tries) -> Verdict;
    /// Whether a way passes the second check, from its place on.
    fn holds(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool;
    /// Whether a way is free.
    fn is_free(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool;
}

/// One removable taken out.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Out {
    pub(crate) which: RemovableId,
    pub(crate) way: Vec<Motion>,
}

/// How everything comes out: what reach is reckoned with.
#[derive(Clone, Debug)]
pub(crate) struct Emptying {
    /// For every removable its way, in the order of the design's removables.
    pub(crate) ways: Vec<Way>,
}

impl Emptying {
    /// What is taken out, in order, so that all of `wanted` are out; `None` when there is one among them of which no
    /// way is known.
    pub(crate) fn to_take_out(&self, wanted: &[RemovableId]) -> Option<Vec<Step>> {
        let mut steps: Vec<Step> = Vec::new();
        for which in wanted {
            let list = &self.ways.get(*which)?.steps;
            if list.is_empty() {
                return None;
            }
            // With more gone than a way was planned with it is free all the more.
            for step in list {
                if steps.iter().all(|known| known.removable != step.removable) {
                    steps.push(step.clone());
                }
            }
        }
        Some(steps)
    }
}

/// Marks `which` as out, and what it takes with it.
pub(crate) fn take(search: &impl Search, which: RemovableId, gone: &mut [bool]) {
    for (part, is_gone) in gone.iter_mut().enumerate() {
        *is_gone |= part == which || search.wholes(part).contains(&which);
    }
}

/// What is out before `which` is asked for at all.
pub(crate) fn before(search: &impl Search, which: RemovableId) -> Vec<bool> {
    let mut gone = vec![false; search.count()];
    if let Some(other) = search.instead_of(which) {
        take(search, other, &mut gone);
    }
    gone
}

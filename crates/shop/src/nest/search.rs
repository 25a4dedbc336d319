//! Ruin and recreate: sheets are emptied, and what lay on them is laid anew.
//!
//! The search goes from goal to goal: sheets must cost less than the cheapest set so far, and what then lies on none is to
//! become less and less until all lies (after Gardeyn and Wauters 2022, Eur. J. Oper. Res., "A goal-driven
//! ruin and recreate heuristic", doi:10.1016/j.ejor.2021.11.031; places, merits and weights are ours).

mod late;
mod merit;
mod recreate;
mod ruin;
mod shrink;

use std::cmp::Reverse;
use std::rc::Rc;

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::space::{Laid, Rule};
use super::{Item, Kind, Put, Rules, Sheet};
use late::Late;

/// How many beginnings are tried; our judgement.
const BEGINNINGS: usize = 24;
/// After so many rounds in vain a goal is sought anew, from the best so far; tried on the sets in `tests/outside/packing`.
const MOST_IN_VAIN: usize = 1000;

/// What is being laid.
struct Task<'a> {
    items: &'a [Item],
    kinds: &'a [Kind],
    /// What it counts for when an item lies nowhere.
    weights: Vec<f64>,
    is_guillotine: bool,
    has_rooms: bool,
}

/// Sheets with what lies on them, and what lies on none.
#[derive(Clone, Debug)]
struct State {
    /// Shared with the states before, as long as they are the same.
    laid: Vec<Rc<Laid>>,
    left: Vec<usize>,
    /// The sheets must cost less than this.
    below: u64,
}

/// The best set of sheets, or what was left over in the best. It stops at `bound`, below which there is none.
pub(super) fn search(
    items: &[Item],
    kinds: &[Kind],
    rules: Rules,
    bound: u64,
) -> Result<Vec<Sheet>, Vec<usize>> {
    let task = Task {
        items,
        kinds,
        weights: merit::weights(items),
        is_guillotine: rules.is_guillotine,
        has_rooms: !rules.is_guillotine && items.iter().any(|item| !item.rooms.is_empty()),
    };
    let mut dice = ChaCha8Rng::seed_from_u64(rules.seed);
    let mut best = task.begin(&mut dice);
    task.cheapen(&mut best, rules.rounds, bound, &mut dice);
    if !best.left.is_empty() {
        return Err(best.left);
    }
    task.tidy(&mut best, rules.tidying, &mut dice);
    Ok(task.sheets(&best))
}

/// A search for sheets that cost less.
struct Goal {
    now: State,
    late: Late,
    least: f64,
    /// Rounds since less was lacking than ever before.
    in_vain: usize,
}

impl Goal {
    fn new(now: State) -> Self {
        Self { now, late: Late::default(), least: f64::INFINITY, in_vain: 0 }
    }

    /// Whether nothing became better for long.
    fn is_stuck(&mut self, lack: f64) -> bool {
        self.in_vain = if lack < self.least { 0 } else { self.in_vain + 1 };
        self.least = self.least.min(lack);
        MOST_IN_VAIN < self.in_vain
    }
}

impl Task<'_> {
    /// The best of some beginnings.
    fn begin(&self, dice: &mut ChaCha8Rng) -> State {
        let mut one = |k: usize| {
            let all: Vec<usize> = (0..self.items.len()).collect();
            let mut state = State { laid: Vec::new(), left: Vec::new(), below: u64::MAX };
            self.recreate(&mut state, all, Rule::ALL[k % Rule::ALL.len()], dice);
            self.take_cheaper(&mut state, dice);
            state
        };
        let mut best = one(0);
        for k in 1..BEGINNINGS {
            let state = one(k);
            if self.price(&state) < self.price(&best) {
                best = state;
            }
        }
        best
    }

    /// Looks for cheaper sheets on which all lies; where not all lies, for some on which more does.
    fn cheapen(&self, best: &mut State, rounds: usize, bound: u64, dice: &mut ChaCha8Rng) {
        let mut goal = Goal::new(best.clone());
        let mut least = f64::INFINITY;
        for _ in 0..rounds {
            if best.left.is_empty() {
                if self.cost(best) <= bound {
                    break;
                }
                goal.now.below = goal.now.below.min(self.cost(best));
            }
            let next = self.round(&goal.now, dice);
            if next.left.is_empty() {
                *best = next;
                goal = Goal::new(best.clone());
                continue;
            }
            let lack = self.lack(&next);
            if lack < least && !best.left.is_empty() {
                least = lack;
                *best = next.clone();
            }
            if goal.late.accepts(lack) {
                goal.now = next;
            }
            if goal.is_stuck(lack) {
                goal = Goal::new(best.clone());
            }
        }
    }

    /// Looks for less sheet and a larger rest at the same price.
    fn tidy(&self, best: &mut State, rounds: usize, dice: &mut ChaCha8Rng) {
        best.below = self.cost(best).saturating_add(1);
        let mut now = best.clone();
        let mut late = Late::default();
        let mut least = self.untidiness(best);
        for _ in 0..rounds {
            let next = self.round(&now, dice);
            let untidiness = self.untidiness(&next);
            if untidiness < least {
                least = untidiness;
                *best = next.clone();
            }
            if late.accepts(untidiness) {
                now = next;
            }
        }
    }

    /// One round of ruin and recreate.
    fn round(&self, from: &State, dice: &mut ChaCha8Rng) -> State {
        let mut next = from.clone();
        let out = self.ruin(&mut next, dice);
        let rule = Rule::ALL[dice.random_range(0..Rule::ALL.len())];
        self.recreate(&mut next, out, rule, dice);
        self.take_cheaper(&mut next, dice);
        next
    }

    /// The dearest first, then the fullest.
    fn sheets(&self, state: &State) -> Vec<Sheet> {
        let mut laid: Vec<&Rc<Laid>> = state.laid.iter().collect();
        laid.sort_by_key(|laid| (Reverse((self.kinds[laid.kind].cost, laid.area)), laid.kind));
        laid.into_iter().map(|laid| Sheet { kind: laid.kind, puts: laid.puts.clone() }).collect()
    }
}

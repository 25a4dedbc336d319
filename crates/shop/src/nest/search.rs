//! Ruin and recreate: sheets are emptied, and what lay on them is laid anew.

mod merit;
mod recreate;
mod ruin;
mod shrink;

use std::cmp::Reverse;

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::space::{Laid, Rule};
use super::{Item, Kind, Put, Rules, Sheet};
use merit::Aim;

/// Length of the history against which a change is accepted; our judgement.
const HISTORY: usize = 50;
/// How many beginnings are tried; our judgement.
const BEGINNINGS: usize = 24;

/// What is being laid.
struct Task<'a> {
    items: &'a [Item],
    kinds: &'a [Kind],
    is_guillotine: bool,
    has_rooms: bool,
}

/// Sheets with what lies on them, and what lies on none.
#[derive(Clone, Debug, Default)]
struct State {
    laid: Vec<Laid>,
    left: Vec<usize>,
}

/// The best set of sheets, or what was left over in the best. It stops at `bound`, below which there is none.
pub(super) fn search(
    items: &[Item],
    kinds: &[Kind],
    rules: Rules,
    bound: u64,
) -> Result<Vec<Sheet>, Vec<usize>> {
    let is_guillotine = rules.is_guillotine;
    let has_rooms = !is_guillotine && items.iter().any(|item| !item.rooms.is_empty());
    let task = Task { items, kinds, is_guillotine, has_rooms };
    let mut dice = ChaCha8Rng::seed_from_u64(rules.seed);
    let best = task.begin(&mut dice);
    let is_proved = |state: &State| state.left.is_empty() && task.cost(state) <= bound;
    let best = task.improve(best, Aim::Price, rules.rounds, is_proved, &mut dice);
    let best = task.improve(best, Aim::Tidy, rules.tidying, |_| false, &mut dice);
    if best.left.is_empty() { Ok(task.sheets(&best)) } else { Err(best.left) }
}

impl Task<'_> {
    fn begin(&self, dice: &mut ChaCha8Rng) -> State {
        let all: Vec<usize> = (0..self.items.len()).collect();
        let mut best: Option<(f64, State)> = None;
        for k in 0..BEGINNINGS {
            let mut state = State::default();
            self.recreate(&mut state, all.clone(), Rule::ALL[k % Rule::ALL.len()], dice);
            self.take_cheaper(&mut state, dice);
            let merit = self.merit(&state, Aim::Price);
            if best.as_ref().is_none_or(|(least, _)| merit < *least) {
                best = Some((merit, state));
            }
        }
        best.map(|(_, state)| state).unwrap_or_default()
    }

    /// Rounds of ruin and recreate; a change is accepted when the state was no better so many rounds ago.
    fn improve(
        &self,
        from: State,
        aim: Aim,
        rounds: usize,
        is_done: impl Fn(&State) -> bool,
        dice: &mut ChaCha8Rng,
    ) -> State {
        let mut least = self.merit(&from, aim);
        let (mut best, mut now, mut merit_now) = (from.clone(), from, least);
        let mut history = [least; HISTORY];
        for round in 0..rounds {
            if is_done(&best) {
                break;
            }
            let mut next = now.clone();
            let out = self.ruin(&mut next, dice);
            let rule = Rule::ALL[dice.random_range(0..Rule::ALL.len())];
            self.recreate(&mut next, out, rule, dice);
            self.take_cheaper(&mut next, dice);
            let merit = self.merit(&next, aim);
            let then = &mut history[round % HISTORY];
            if merit <= *then || merit <= merit_now {
                (now, merit_now) = (next, merit);
                if merit < least {
                    (best, least) = (now.clone(), merit);
                }
            }
            *then = merit_now;
        }
        best
    }

    /// The dearest first, then the fullest.
    fn sheets(&self, state: &State) -> Vec<Sheet> {
        let mut laid: Vec<&Laid> = state.laid.iter().collect();
        laid.sort_by_key(|laid| (Reverse((self.kinds[laid.kind].cost, laid.area)), laid.kind));
        laid.into_iter().map(|laid| Sheet { kind: laid.kind, puts: laid.puts.clone() }).collect()
    }
}

//! What is taken off the sheets.

use std::rc::Rc;

use rand::Rng;
use rand_chacha::ChaCha8Rng;

use super::{Rule, State, Task};

/// Up to so many sheets are emptied in a round; tried on the sets in `tests/outside/packing`.
const MOST_EMPTIED: usize = 3;
/// Some items are taken off each other sheet as often as this; tried likewise.
const THINNED: f64 = 0.05;

impl Task<'_> {
    /// Empties some sheets, rather such as are little used, until the others cost little enough, and takes some items off
    /// others; gives what was taken.
    pub(super) fn ruin(&self, state: &mut State, dice: &mut ChaCha8Rng) -> Vec<usize> {
        let mut out = Vec::new();
        let most = state.laid.len().clamp(1, MOST_EMPTIED);
        let number = dice.random_range(0..most) + 1;
        let mut emptied = 0;
        while !state.laid.is_empty() && (emptied < number || state.below <= self.cost(state)) {
            let [a, b] = [(); 2].map(|()| dice.random_range(0..state.laid.len()));
            // Once so many are emptied, any of them: else a goal of small sheets is never reached.
            let is_first = emptied < number && self.share(state, b) <= self.share(state, a);
            let sheet = state.laid.swap_remove(if is_first { b } else { a });
            out.extend(sheet.puts.iter().map(|put| put.item));
            emptied += 1;
        }
        for k in 0..state.laid.len() {
            if dice.random::<f64>() < THINNED {
                self.thin(state, k, &mut out, dice);
            }
        }
        state.laid.retain(|laid| !laid.puts.is_empty());
        out
    }

    fn share(&self, state: &State, sheet: usize) -> f64 {
        let laid = &state.laid[sheet];
        laid.area as f64 / self.kinds[laid.kind].size.area() as f64
    }

    /// Takes up to half of the items off one sheet and lays the others anew.
    fn thin(&self, state: &mut State, k: usize, out: &mut Vec<usize>, dice: &mut ChaCha8Rng) {
        let kind = state.laid[k].kind;
        let mut items: Vec<usize> = state.laid[k].puts.iter().map(|put| put.item).collect();
        for _ in 0..dice.random_range(0..(items.len() / 2).max(1)) + 1 {
            if !items.is_empty() {
                out.push(items.swap_remove(dice.random_range(0..items.len())));
            }
        }
        self.shuffle(&mut items, dice);
        let rule = Rule::ALL[dice.random_range(0..Rule::ALL.len())];
        let laid = self.pack(kind, &items, rule).unwrap_or_else(|| {
            out.append(&mut items);
            self.empty(kind)
        });
        state.laid[k] = Rc::new(laid);
    }
}

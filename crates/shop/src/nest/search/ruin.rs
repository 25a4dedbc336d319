//! What is taken off the sheets.

use rand::Rng;
use rand_chacha::ChaCha8Rng;

use super::{Rule, State, Task};

impl Task<'_> {
    /// Empties up to three sheets, rather such as are little used, and takes some items off others; gives what was taken.
    pub(super) fn ruin(&self, state: &mut State, dice: &mut ChaCha8Rng) -> Vec<usize> {
        let mut out = Vec::new();
        let most = state.laid.len().min(3);
        for _ in 0..dice.random_range(0..most.max(1)) + 1 {
            if state.laid.is_empty() {
                break;
            }
            let [a, b] = [(); 2].map(|()| dice.random_range(0..state.laid.len()));
            let use_of = |k: usize| {
                let laid = &state.laid[k];
                laid.area as f64 / self.kinds[laid.kind].size.area() as f64
            };
            let emptied = state.laid.swap_remove(if use_of(a) < use_of(b) { a } else { b });
            out.extend(emptied.puts.iter().map(|put| put.item));
        }
        for k in 0..state.laid.len() {
            if dice.random::<f64>() < 0.35 {
                self.thin(state, k, &mut out, dice);
            }
        }
        state.laid.retain(|laid| !laid.puts.is_empty());
        out
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
        let rule = Rule::ALL[dice.random_range(0..3)];
        state.laid[k] = self.pack(kind, &items, rule).unwrap_or_else(|| {
            out.append(&mut items);
            self.empty(kind)
        });
    }
}

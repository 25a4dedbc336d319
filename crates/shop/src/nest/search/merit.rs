//! What is better.

use super::{Laid, State, Task};

/// What is sought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// The least price. At the same price, evenly full sheets are worse: one that is nearly empty is nearly saved.
    Price,
    /// At the same price, less sheet, and a larger rest in one piece.
    Tidy,
}

/// What the weights are reckoned with; all are our judgement. None changes which of two prices is lower, but that a sheet
/// all full counts for up to a hundredth of its price.
const FULLNESS: f64 = 0.01;

impl Task<'_> {
    pub(super) fn cost(&self, state: &State) -> u64 {
        state.laid.iter().map(|laid| self.kinds[laid.kind].cost).sum()
    }

    /// Less is better; what is left over counts first, then the price.
    pub(super) fn merit(&self, state: &State, aim: Aim) -> f64 {
        let left: i64 = state.left.iter().map(|item| self.items[*item].size.area()).sum();
        let dearest = self.kinds.iter().map(|kind| kind.cost).max().unwrap_or(0).max(1) as f64;
        let price = self.cost(state) as f64 + 1e3 * dearest * left as f64;
        match aim {
            Aim::Price => price - FULLNESS * self.fullness(state, dearest),
            Aim::Tidy => {
                let whole = |laid: &Laid| self.kinds[laid.kind].size.area();
                let area: i64 = state.laid.iter().map(whole).sum();
                let rest = state.laid.iter().map(Laid::largest_rest).max().unwrap_or(0);
                let most = self.kinds.iter().map(|kind| kind.size.area()).max().unwrap_or(1) as f64;
                // A cent, the least that two prices differ by, outweighs a million sheets.
                price + (area as f64 - 0.5 * rest as f64) / most * 1e-6
            }
        }
    }

    fn fullness(&self, state: &State, dearest: f64) -> f64 {
        let of = |laid: &Laid| {
            let kind = &self.kinds[laid.kind];
            let share = laid.area as f64 / kind.size.area() as f64;
            // Sheets that cost nothing are worth filling too.
            (kind.cost as f64).max(0.01 * dearest) * share * share
        };
        state.laid.iter().map(of).sum()
    }
}

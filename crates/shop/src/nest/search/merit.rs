//! What is better: less is, in all that is reckoned here.

use std::rc::Rc;

use super::super::Item;
use super::{Laid, State, Task};

/// An item that lies nowhere counts for this power of its area: one large one for more than several small ones, for it is
/// harder to lay. Tried on the sets in `tests/outside/packing`, as are the weights below.
const LEFT_POWER: f64 = 1.15;
/// A sheet all full, at the dearest price, makes up for this share of the weightiest item.
const FULLNESS: f64 = 0.01;
/// Sheets that cost nothing are worth filling too, as if they cost this share of the dearest.
const WORTH_OF_FREE: f64 = 0.01;

/// What it counts for when an item lies nowhere; 1 for the largest.
pub(super) fn weights(items: &[Item]) -> Vec<f64> {
    let weight = |item: &Item| libm::pow(item.size.area() as f64, LEFT_POWER);
    let most = items.iter().map(weight).fold(1.0, f64::max);
    items.iter().map(|item| weight(item) / most).collect()
}

impl Task<'_> {
    pub(super) fn cost(&self, state: &State) -> u64 {
        state.laid.iter().map(|laid| self.kinds[laid.kind].cost).sum()
    }

    fn left(&self, state: &State) -> f64 {
        state.left.iter().map(|item| self.weights[*item]).sum()
    }

    /// How far it is from laying all: what lies nowhere, and that sheets are evenly full; one that is nearly empty is nearly
    /// saved.
    pub(super) fn lack(&self, state: &State) -> f64 {
        self.left(state) - FULLNESS * self.fullness(state)
    }

    /// What it costs, and no set on which all lies costs as much as one on which not all does.
    pub(super) fn price(&self, state: &State) -> f64 {
        let dearest = self.dearest();
        let all = dearest * self.items.len() as f64;
        let is_lacking = if state.left.is_empty() { 0.0 } else { all };
        is_lacking + self.cost(state) as f64 + all * self.left(state)
            - FULLNESS * dearest * self.fullness(state)
    }

    /// Sheet that is used less half of the largest rest, in sheets of the largest kind; a million for what lies nowhere.
    pub(super) fn untidiness(&self, state: &State) -> f64 {
        let area: i64 = state.laid.iter().map(|laid| self.kinds[laid.kind].size.area()).sum();
        let rest = state.laid.iter().map(|laid| laid.largest_rest()).max().unwrap_or(0);
        let most = self.kinds.iter().map(|kind| kind.size.area()).max().unwrap_or(1) as f64;
        1e6 * self.left(state) + (area as f64 - 0.5 * rest as f64) / most
    }

    fn dearest(&self) -> f64 {
        self.kinds.iter().map(|kind| kind.cost).max().unwrap_or(0).max(1) as f64
    }

    /// Squares of how full sheets are, by their price; 1 for a sheet all full at the dearest price.
    fn fullness(&self, state: &State) -> f64 {
        let dearest = self.dearest();
        let of = |laid: &Rc<Laid>| {
            let kind = &self.kinds[laid.kind];
            let share = laid.area as f64 / kind.size.area() as f64;
            (kind.cost as f64 / dearest).max(WORTH_OF_FREE) * share * share
        };
        state.laid.iter().map(of).sum()
    }
}

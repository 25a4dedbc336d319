//! What lies on a sheet is moved to a cheaper one.

use std::cmp::Reverse;
use std::rc::Rc;

use rand_chacha::ChaCha8Rng;

use super::super::niche::{self, Effort};
use super::{Laid, Put, Rule, State, Task};

impl Task<'_> {
    /// Moves what lies on each sheet that is not settled to the cheapest on which it finds room; at the same price, to the smallest.
    pub(super) fn take_cheaper(&self, state: &mut State, dice: &mut ChaCha8Rng) {
        let worth = |kind: usize| (self.kinds[kind].cost, self.kinds[kind].size.area());
        for k in 0..state.laid.len() {
            if state.laid[k].is_settled {
                continue;
            }
            Rc::make_mut(&mut state.laid[k]).is_settled = true;
            let laid = &state.laid[k];
            let mut items: Vec<usize> = laid.puts.iter().map(|put| put.item).collect();
            items.sort_by_key(|item| Reverse(self.items[*item].size.area()));
            let is_cheaper = |other: &usize| {
                worth(*other) < worth(laid.kind)
                    && self.is_left(state, *other)
                    && (self.has_rooms || laid.area <= self.kinds[*other].size.area())
            };
            let mut kinds: Vec<usize> = (0..self.kinds.len()).filter(is_cheaper).collect();
            kinds.sort_by_key(|kind| worth(*kind));
            let found = kinds.into_iter().find_map(|kind| self.squeeze(kind, &items, dice));
            if let Some(cheaper) = found {
                state.laid[k] = Rc::new(cheaper);
            }
        }
    }

    /// Tries harder to lay items onto one sheet.
    fn squeeze(&self, kind: usize, items: &[usize], dice: &mut ChaCha8Rng) -> Option<Laid> {
        let by_rule = Rule::ALL.into_iter().find_map(|rule| self.pack(kind, items, rule));
        if by_rule.is_some() {
            return by_rule;
        }
        if self.is_guillotine || self.has_rooms {
            let mut items = items.to_vec();
            return (0..2).find_map(|_| {
                self.shuffle(&mut items, dice);
                self.pack(kind, &items, Rule::ShortRest)
            });
        }
        self.fill(kind, items)
    }

    /// By niches: for sheets that are nearly full.
    fn fill(&self, kind: usize, items: &[usize]) -> Option<Laid> {
        let of = &self.kinds[kind];
        let wanted: Vec<_> = items
            .iter()
            .map(|item| (self.items[*item].size, self.items[*item].turns && of.turns))
            .collect();
        let places = niche::fill(of.size, &wanted, Effort { runs: 1, niches: 200 })?;
        let mut laid = self.empty(kind);
        let put = |(item, (rect, is_turned)): (&usize, _)| Put { item: *item, rect, is_turned };
        laid.take(items.iter().zip(places).map(put).collect());
        Some(laid)
    }
}

//! What lies on no sheet is laid.

use std::rc::Rc;

use rand::Rng;
use rand_chacha::ChaCha8Rng;

use super::super::space::Place;
use super::{Item, Laid, Rule, State, Task};

/// How often a sheet is passed over: else the same places are found again and again. After the blinks of Christiaens and
/// Vanden Berghe 2020, Transp. Sci. 54, 417–433; the share is our judgement.
const BLINK: f64 = 0.05;

impl Task<'_> {
    /// Lays items, and what was left over before, on the sheets that are there and on new ones.
    pub(super) fn recreate(
        &self,
        state: &mut State,
        mut items: Vec<usize>,
        rule: Rule,
        dice: &mut ChaCha8Rng,
    ) {
        items.append(&mut state.left);
        self.shuffle(&mut items, dice);
        for which in items {
            let item = &self.items[which];
            let place = self.best_place(state, item, rule, dice).or_else(|| {
                let sheet = self.open(state, item, dice)?;
                let laid = &state.laid[sheet];
                Some((sheet, laid.place(item, &self.kinds[laid.kind], rule)?))
            });
            match place {
                Some((sheet, place)) => {
                    Rc::make_mut(&mut state.laid[sheet]).put(which, item, place);
                }
                None => state.left.push(which),
            }
        }
    }

    fn best_place(
        &self,
        state: &State,
        item: &Item,
        rule: Rule,
        dice: &mut ChaCha8Rng,
    ) -> Option<(usize, Place)> {
        let mut best: Option<(usize, Place)> = None;
        for (k, laid) in state.laid.iter().enumerate() {
            if dice.random::<f64>() < BLINK {
                continue;
            }
            let Some(place) = laid.place(item, &self.kinds[laid.kind], rule) else { continue };
            if best.is_none_or(|(_, best)| place.score < best.score) {
                best = Some((k, place));
            }
        }
        best
    }

    /// The largest first, by one measure or another and not too strictly.
    pub(super) fn shuffle(&self, items: &mut [usize], dice: &mut ChaCha8Rng) {
        let by = dice.random_range(0..4_u32);
        let key = |which: &usize, dice: &mut ChaCha8Rng| {
            let size = self.items[*which].size;
            let (w, h) = (f64::from(size.width), f64::from(size.height));
            let measure = match by {
                0 => w * h,
                1 => w.max(h),
                2 => w + h,
                _ => w.min(h),
            };
            -measure * (1.0 + 0.15 * dice.random::<f64>())
        };
        let mut keyed: Vec<(f64, usize)> = items.iter().map(|i| (key(i, dice), *i)).collect();
        keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (item, (_, which)) in items.iter_mut().zip(keyed) {
            *item = which;
        }
    }

    /// Takes a new sheet for an item, of a kind that is cheap for its size, more or less.
    fn open(&self, state: &mut State, item: &Item, dice: &mut ChaCha8Rng) -> Option<usize> {
        let cost = self.cost(state);
        let mut best: Option<(f64, usize)> = None;
        for (k, kind) in self.kinds.iter().enumerate() {
            let fits = item.lies(kind).next().is_some();
            if !fits || state.below <= cost.saturating_add(kind.cost) || !self.is_left(state, k) {
                continue;
            }
            let price =
                kind.cost as f64 / kind.size.area() as f64 * (1.0 + 0.6 * dice.random::<f64>());
            if best.is_none_or(|(least, _)| price < least) {
                best = Some((price, k));
            }
        }
        let (_, kind) = best?;
        state.laid.push(Rc::new(self.empty(kind)));
        Some(state.laid.len() - 1)
    }

    pub(super) fn empty(&self, kind: usize) -> Laid {
        Laid::empty(kind, &self.kinds[kind], self.is_guillotine)
    }

    /// Whether there is another sheet of a kind.
    pub(super) fn is_left(&self, state: &State, kind: usize) -> bool {
        let used = state.laid.iter().filter(|laid| laid.kind == kind).count();
        self.kinds[kind].quantity.is_none_or(|quantity| used < quantity)
    }

    /// Lays items onto one new sheet in their order; `None` when there is no room for all.
    pub(super) fn pack(&self, kind: usize, items: &[usize], rule: Rule) -> Option<Laid> {
        let mut laid = self.empty(kind);
        for which in items {
            let item = &self.items[*which];
            let place = laid.place(item, &self.kinds[kind], rule)?;
            laid.put(*which, item, place);
        }
        Some(laid)
    }
}

//! Ruin and recreate: sheets are emptied, and what lay on them is laid anew.

mod pool;
mod ruin;

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::bound::Bound;
use super::niche::{self, Effort};
use super::space::{Laid, Rule};
use super::{Item, Kind, Put, Rules, Sheet, deal};
pub(super) use pool::Pool;

/// Length of the history against which a change is accepted; our judgement.
const HISTORY: usize = 50;
/// How many beginnings are tried.
const BEGINNINGS: usize = 24;

/// What is being laid.
pub(super) struct Task<'a> {
    items: &'a [Item],
    kinds: &'a [Kind],
    rules: Rules,
    has_rooms: bool,
}

/// The best set of sheets, or what was left over in the best; and every full sheet that was seen.
pub(super) fn search(
    items: &[Item],
    kinds: &[Kind],
    rules: Rules,
    bound: &Bound,
) -> (Result<Vec<Sheet>, Vec<usize>>, Pool) {
    let has_rooms = items.iter().any(|item| !item.rooms.is_empty());
    let task = Task { items, kinds, rules, has_rooms };
    let mut dice = ChaCha8Rng::seed_from_u64(1);
    let mut pool = Pool::new(items);
    let all: Vec<usize> = (0..items.len()).collect();
    let mut best = State::default();
    for k in 0..BEGINNINGS {
        let mut state = State::default();
        task.recreate(&mut state, all.clone(), Rule::ALL[k % 3], &mut dice);
        task.take_smaller(&mut state, &mut dice);
        pool.keep(&state.laid);
        if k == 0 || task.merit(&state) < task.merit(&best) {
            best = state;
        }
    }
    let mut now = best.clone();
    let mut history = [task.merit(&now); HISTORY];
    for round in 0..rules.rounds {
        if best.left.is_empty() && task.cost(&best) <= bound.cost {
            break;
        }
        let mut next = now.clone();
        let out = task.ruin(&mut next, &mut dice);
        let rule = Rule::ALL[dice.random_range(0..3)];
        task.recreate(&mut next, out, rule, &mut dice);
        task.take_smaller(&mut next, &mut dice);
        pool.keep(&next.laid);
        let merit = task.merit(&next);
        let then = &mut history[round % HISTORY];
        if merit <= *then || merit <= task.merit(&now) {
            now = next;
            if merit < task.merit(&best) {
                best = now.clone();
            }
        }
        *then = task.merit(&now);
    }
    if best.left.is_empty() { (Ok(task.sheets(&best)), pool) } else { (Err(best.left), pool) }
}

/// Sheets with what lies on them, and what lies on none.
#[derive(Clone, Debug, Default)]
struct State {
    laid: Vec<Laid>,
    left: Vec<usize>,
}

impl Task<'_> {
    fn cost(&self, state: &State) -> u64 {
        state.laid.iter().map(|laid| self.kinds[laid.kind].cost).sum()
    }

    /// Less is better: what is left over first, then money, then how evenly full the sheets are; a sheet nearly empty
    /// is nearly saved.
    fn merit(&self, state: &State) -> f64 {
        let left: i64 = state.left.iter().map(|item| self.items[*item].size.area()).sum();
        let whole = |laid: &Laid| self.kinds[laid.kind].size.area() as f64;
        let dearest = self.kinds.iter().map(|kind| kind.cost).max().unwrap_or(0).max(1) as f64;
        let fullness = |laid: &Laid| {
            let (full, whole) = (laid.area as f64, whole(laid));
            // Sheets that cost nothing are worth filling too.
            (self.kinds[laid.kind].cost as f64).max(0.01 * dearest) * (full / whole).powi(2)
        };
        let fullness: f64 = state.laid.iter().map(fullness).sum();
        let largest = state.laid.iter().map(Laid::largest_rest).max().unwrap_or(0) as f64;
        self.cost(state) as f64 - 0.01 * fullness + 1e3 * dearest * left as f64
            - 1e-12 * dearest * largest
    }

    fn recreate(
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
            let mut best = None;
            for (k, laid) in state.laid.iter().enumerate() {
                // Now and then a sheet is passed over: else the same places are found again and again.
                if dice.random::<f64>() < 0.05 {
                    continue;
                }
                if let Some(place) = laid.place(item, &self.kinds[laid.kind], rule)
                    && best.is_none_or(|(_, score)| place.score < score)
                {
                    best = Some((k, place.score));
                }
            }
            let sheet = match best {
                Some((sheet, _)) => Some(sheet),
                None => self.open(state, item, dice),
            };
            let place = sheet.and_then(|sheet| {
                let laid = &state.laid[sheet];
                Some((sheet, laid.place(item, &self.kinds[laid.kind], rule)?))
            });
            match place {
                Some((sheet, place)) => state.laid[sheet].put(which, item, place),
                None => state.left.push(which),
            }
        }
    }

    /// The largest first, by one measure or another and not too strictly.
    fn shuffle(&self, items: &mut [usize], dice: &mut ChaCha8Rng) {
        let by = dice.random_range(0..4);
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
        let mut best: Option<(f64, usize)> = None;
        for (k, kind) in self.kinds.iter().enumerate() {
            if !self.is_left(state, k) || deal::lies(item, kind).next().is_none() {
                continue;
            }
            let price =
                kind.cost as f64 / kind.size.area() as f64 * (1.0 + 0.6 * dice.random::<f64>());
            if best.is_none_or(|(least, _)| price < least) {
                best = Some((price, k));
            }
        }
        let (_, kind) = best?;
        state.laid.push(self.empty(kind));
        Some(state.laid.len() - 1)
    }

    fn empty(&self, kind: usize) -> Laid {
        Laid::empty(kind, &self.kinds[kind], self.rules.is_guillotine)
    }

    /// Whether there is another sheet of a kind.
    fn is_left(&self, state: &State, kind: usize) -> bool {
        let used = state.laid.iter().filter(|laid| laid.kind == kind).count();
        self.kinds[kind].quantity.is_none_or(|quantity| used < quantity)
    }

    /// Lays items onto one new sheet in their order; `None` when there is no room for all.
    fn pack(&self, kind: usize, items: &[usize], rule: Rule) -> Option<Laid> {
        let mut laid = self.empty(kind);
        for which in items {
            let item = &self.items[*which];
            let place = laid.place(item, &self.kinds[kind], rule)?;
            laid.put(*which, item, place);
        }
        Some(laid)
    }

    /// Moves what lies on a sheet to a cheaper one where it can.
    fn take_smaller(&self, state: &mut State, dice: &mut ChaCha8Rng) {
        for k in 0..state.laid.len() {
            let laid = &state.laid[k];
            let mut items: Vec<usize> = laid.puts.iter().map(|put| put.item).collect();
            items.sort_by_key(|item| std::cmp::Reverse(self.items[*item].size.area()));
            let mut kinds: Vec<usize> = (0..self.kinds.len())
                .filter(|other| {
                    self.kinds[*other].cost < self.kinds[laid.kind].cost
                        && self.is_left(state, *other)
                        && (self.has_rooms || laid.area <= self.kinds[*other].size.area())
                })
                .collect();
            kinds.sort_by_key(|kind| self.kinds[*kind].cost);
            if let Some(smaller) =
                kinds.into_iter().find_map(|kind| self.squeeze(kind, &items, dice))
            {
                state.laid[k] = smaller;
            }
        }
    }

    /// Tries harder to lay items onto one sheet.
    fn squeeze(&self, kind: usize, items: &[usize], dice: &mut ChaCha8Rng) -> Option<Laid> {
        let by_rule = Rule::ALL.into_iter().find_map(|rule| self.pack(kind, items, rule));
        if by_rule.is_some() {
            return by_rule;
        }
        if self.rules.is_guillotine || self.has_rooms {
            let mut items = items.to_vec();
            return (0..2).find_map(|_| {
                self.shuffle(&mut items, dice);
                self.pack(kind, &items, Rule::ShortRest)
            });
        }
        self.fill(kind, items, Effort { runs: 1, niches: 200 })
    }

    /// By niches: for sheets that are nearly full.
    fn fill(&self, kind: usize, items: &[usize], effort: Effort) -> Option<Laid> {
        let of = &self.kinds[kind];
        let wanted: Vec<_> = items
            .iter()
            .map(|item| (self.items[*item].size, self.items[*item].turns && of.turns))
            .collect();
        let places = niche::fill(of.size, &wanted, effort)?;
        let mut laid = self.empty(kind);
        let put = |(item, (rect, is_turned)): (&usize, _)| Put { item: *item, rect, is_turned };
        laid.take(items.iter().zip(places).map(put).collect());
        Some(laid)
    }

    fn sheets(&self, state: &State) -> Vec<Sheet> {
        let sheet = |laid: &Laid| Sheet { kind: laid.kind, puts: laid.puts.clone() };
        state.laid.iter().map(sheet).collect()
    }
}

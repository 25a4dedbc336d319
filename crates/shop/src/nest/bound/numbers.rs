//! The cheapest numbers of sheets that satisfy all demands.

use super::Kind;

/// So much volume is to lie on sheets with so much each.
#[derive(Clone, Debug)]
pub(super) struct Demand {
    pub(super) volume: i64,
    pub(super) capacities: Vec<i64>,
}

impl Demand {
    fn met(&self, numbers: &[usize]) -> i128 {
        let all = self.capacities.iter().zip(numbers);
        all.map(|(capacity, number)| i128::from(*capacity) * *number as i128).sum()
    }

    /// Whether so many sheets are too few.
    pub(super) fn lacks(&self, numbers: &[usize]) -> bool {
        self.met(numbers) < i128::from(self.volume)
    }

    /// How much of it is met: only to choose which demand to add.
    pub(super) fn share(&self, numbers: &[usize]) -> f64 {
        self.met(numbers) as f64 / self.volume as f64
    }

    /// What sheets of the kinds that are left cost at least to meet what is lacking.
    fn price(&self, lacking: i128, kinds: &[Kind], left: &[usize]) -> Option<u64> {
        if lacking <= 0 {
            return Some(0);
        }
        let prices = left.iter().filter(|k| 0 < self.capacities[**k]).map(|k| {
            let price = lacking * i128::from(kinds[*k].cost);
            // Rounded up: whole prices only.
            (price + i128::from(self.capacities[*k]) - 1) / i128::from(self.capacities[*k])
        });
        prices.min().map(|price| u64::try_from(price).unwrap_or(u64::MAX))
    }
}

/// How many sheets of each kind, and what they cost; `None` when there are not enough.
pub(super) fn cheapest(demands: &[Demand], kinds: &[Kind]) -> Option<(Vec<usize>, u64)> {
    let mut order: Vec<usize> = (0..kinds.len()).collect();
    // Free ones first: with them taken, the rest has less to choose.
    order.sort_by_key(|k| (kinds[*k].cost, std::cmp::Reverse(kinds[*k].size.area())));
    order.reverse();
    let mut choice = Choice { demands, kinds, order, numbers: vec![0; kinds.len()], best: None };
    let lacking: Vec<i128> = demands.iter().map(|demand| i128::from(demand.volume)).collect();
    choice.choose(0, 0, &lacking);
    choice.best
}

struct Choice<'a> {
    demands: &'a [Demand],
    kinds: &'a [Kind],
    order: Vec<usize>,
    numbers: Vec<usize>,
    best: Option<(Vec<usize>, u64)>,
}

impl Choice<'_> {
    fn choose(&mut self, depth: usize, cost: u64, lacking: &[i128]) {
        if lacking.iter().all(|lacking| *lacking <= 0) {
            if self.best.as_ref().is_none_or(|(_, best)| cost < *best) {
                self.best = Some((self.numbers.clone(), cost));
            }
            return;
        }
        let left = &self.order[depth..];
        let prices = self.demands.iter().zip(lacking);
        let price = prices
            .map(|(demand, lacking)| demand.price(*lacking, self.kinds, left))
            .try_fold(0, |most: u64, price| price.map(|price| most.max(price)));
        let Some(price) = price else { return };
        if self.best.as_ref().is_some_and(|(_, best)| *best <= cost.saturating_add(price)) {
            return;
        }
        let Some(&kind) = left.first() else { return };
        // More than meets every demand alone is never needed.
        let enough =
            self.demands.iter().zip(lacking).filter(|(d, l)| 0 < d.capacities[kind] && 0 < **l);
        let enough = enough.map(|(demand, lacking)| {
            let capacity = i128::from(demand.capacities[kind]);
            usize::try_from((lacking + capacity - 1) / capacity).unwrap_or(usize::MAX)
        });
        let most = enough.max().unwrap_or(0).min(self.kinds[kind].quantity.unwrap_or(usize::MAX));
        for number in 0..=most {
            let rest: Vec<i128> = self
                .demands
                .iter()
                .zip(lacking)
                .map(|(demand, lacking)| {
                    lacking - i128::from(demand.capacities[kind]) * number as i128
                })
                .collect();
            self.numbers[kind] = number;
            let spent = self.kinds[kind].cost.saturating_mul(number as u64);
            self.choose(depth + 1, cost.saturating_add(spent), &rest);
        }
        self.numbers[kind] = 0;
    }
}

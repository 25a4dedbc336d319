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

    /// What sheets of the kinds that are left cost at least to meet what is lacking; `None` when none of them helps.
    fn price(&self, lacking: i128, kinds: &[Kind], left: &[usize]) -> Option<u64> {
        if lacking <= 0 {
            return Some(0);
        }
        let prices = left.iter().filter(|k| 0 < self.capacities[**k]).map(|k| {
            let price = lacking * i128::from(kinds[*k].cost);
            whole_times(price, i128::from(self.capacities[*k]))
        });
        prices.min().map(|price| u64::try_from(price).unwrap_or(u64::MAX))
    }

    /// How many sheets of one kind meet what is lacking.
    fn number(&self, lacking: i128, kind: usize) -> usize {
        let number = whole_times(lacking.max(0), i128::from(self.capacities[kind]).max(1));
        usize::try_from(number).unwrap_or(usize::MAX)
    }
}

/// How many times, rounded up.
fn whole_times(what: i128, by: i128) -> i128 {
    (what + by - 1) / by
}

/// Choices that are looked at before the search for the cheapest numbers is given up.
const MOST_CHOICES: usize = 50_000;

/// What sheets cost at least that meet all demands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Cheapest {
    /// So many of each kind, at this price.
    Found(Vec<usize>, u64),
    /// Not even all that there are suffice.
    None,
    /// There were too many choices.
    GivenUp,
}

/// How many sheets of each kind are the cheapest.
pub(super) fn cheapest(demands: &[Demand], kinds: &[Kind]) -> Cheapest {
    let mut order: Vec<usize> = (0..kinds.len()).collect();
    // Free ones first: all of them are taken. Then the dearest for their size, of which few are taken.
    let dearness = |k: usize| kinds[k].cost as f64 / kinds[k].size.area() as f64;
    let is_bought = |k: usize| 0 < kinds[k].cost;
    order.sort_by(|a, b| {
        let by_price = dearness(*b).total_cmp(&dearness(*a));
        is_bought(*a).cmp(&is_bought(*b)).then(by_price).then(a.cmp(b))
    });
    let numbers = vec![0; kinds.len()];
    let mut choice = Choice { demands, kinds, order, numbers, best: None, left: MOST_CHOICES };
    let lacking: Vec<i128> = demands.iter().map(|demand| i128::from(demand.volume)).collect();
    choice.choose(0, 0, &lacking);
    match choice.best {
        _ if choice.left == 0 => Cheapest::GivenUp,
        Some((numbers, cost)) => Cheapest::Found(numbers, cost),
        None => Cheapest::None,
    }
}

struct Choice<'a> {
    demands: &'a [Demand],
    kinds: &'a [Kind],
    order: Vec<usize>,
    numbers: Vec<usize>,
    best: Option<(Vec<usize>, u64)>,
    left: usize,
}

impl Choice<'_> {
    /// Chooses numbers of all kinds from this depth of the order on, by depth-first branch and bound.
    fn choose(&mut self, depth: usize, cost: u64, lacking: &[i128]) {
        if lacking.iter().all(|lacking| *lacking <= 0) {
            if self.best.as_ref().is_none_or(|(_, best)| cost < *best) {
                self.best = Some((self.numbers.clone(), cost));
            }
            return;
        }
        self.left = self.left.saturating_sub(1);
        let left = &self.order[depth..];
        let prices = self
            .demands
            .iter()
            .zip(lacking)
            .map(|(d, lacking)| d.price(*lacking, self.kinds, left));
        let price =
            prices.collect::<Option<Vec<u64>>>().map(|all| all.into_iter().max().unwrap_or(0));
        let Some(price) = price else { return };
        let is_no_cheaper = |(_, best): &(_, u64)| *best <= cost.saturating_add(price);
        if self.left == 0 || self.best.as_ref().is_some_and(is_no_cheaper) {
            return;
        }
        let Some(&kind) = left.first() else { return };
        // More than meets every demand alone is never needed.
        let helps = |(demand, _): &(&Demand, &i128)| 0 < demand.capacities[kind];
        let enough = self.demands.iter().zip(lacking).filter(helps);
        let most = enough.map(|(demand, lacking)| demand.number(*lacking, kind)).max().unwrap_or(0);
        let most = most.min(self.kinds[kind].quantity.unwrap_or(usize::MAX));
        let least = if self.kinds[kind].cost == 0 || left.len() == 1 { most } else { 0 };
        for number in least..=most {
            let rest = |(demand, lacking): (&Demand, &i128)| {
                lacking - i128::from(demand.capacities[kind]) * number as i128
            };
            let rest: Vec<i128> = self.demands.iter().zip(lacking).map(rest).collect();
            self.numbers[kind] = number;
            let spent = self.kinds[kind].cost.saturating_mul(number as u64);
            self.choose(depth + 1, cost.saturating_add(spent), &rest);
        }
        self.numbers[kind] = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::Size;
    use super::*;
    use proptest::prelude::*;

    fn kind(cost: u64, quantity: Option<usize>) -> Kind {
        Kind { size: Size { width: 1, height: 1 }, cost, quantity, turns: true }
    }

    proptest! {
        #[test]
        fn no_numbers_are_cheaper(
            costs in prop::collection::vec((0_u64..30, 1_i64..9, 1_i64..9, prop::option::of(1_usize..4)), 2..4),
            volumes in (1_i64..25, 1_i64..25),
        ) {
            let kinds: Vec<Kind> = costs.iter().map(|(cost, .., quantity)| kind(*cost, *quantity)).collect();
            let demands = [
                Demand { volume: volumes.0, capacities: costs.iter().map(|c| c.1).collect() },
                Demand { volume: volumes.1, capacities: costs.iter().map(|c| c.2).collect() },
            ];
            let found = match cheapest(&demands, &kinds) {
                Cheapest::Found(numbers, cost) => {
                    prop_assert!(demands.iter().all(|demand| !demand.lacks(&numbers)));
                    Some(cost)
                }
                Cheapest::None => None,
                Cheapest::GivenUp => panic!("so few kinds have few choices"),
            };
            let mut best: Option<u64> = None;
            let most = |k: usize| kinds.get(k).map_or(0, |kind| kind.quantity.unwrap_or(25));
            for a in 0..=most(0) {
                for b in 0..=most(1) {
                    for c in 0..=most(2) {
                        let numbers = &[a, b, c][..kinds.len()];
                        if demands.iter().all(|d| !d.lacks(numbers)) {
                            let cost = numbers.iter().zip(&kinds).map(|(n, k)| *n as u64 * k.cost).sum();
                            best = Some(best.map_or(cost, |best| best.min(cost)));
                        }
                    }
                }
            }
            prop_assert_eq!(found, best);
        }
    }
}

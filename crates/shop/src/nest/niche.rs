//! Whether rectangles fit together into another, by depth-first search with a limit to what may be wasted.
//!
//! The lowest niche of the skyline is filled from the left, or given up: what is given up is waste, and there is only as
//! much of it as the area leaves. Near a perfect fit this cuts the search so early that perfect packings of some fifty
//! rectangles are found (Lesh et al. 2004, Inf. Process. Lett. 90, 7–14, from memory, search perfect packings in this way; the dice,
//! the budget of each run and the allowance for waste are ours).

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::{Rect, Size};

/// A rectangle to be laid, and whether it may be turned.
pub(super) type Wanted = (Size, bool);

/// How much to search.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort {
    /// Runs, each with other dice.
    pub(super) runs: usize,
    /// Niches looked at in each run.
    pub(super) niches: usize,
}

/// Where each lies, with whether it is turned, when a way was found to lay all into a rectangle.
pub(super) fn fill(into: Size, wanted: &[Wanted], effort: Effort) -> Option<Vec<(Rect, bool)>> {
    let area: i64 = wanted.iter().map(|(size, _)| size.area()).sum();
    let waste = into.area() - area;
    let has_room =
        |(size, turns): &Wanted| size.lies_in(into) || *turns && size.turned().lies_in(into);
    if waste < 0 || !wanted.iter().all(has_room) {
        return None;
    }
    let mut dice = ChaCha8Rng::seed_from_u64(7);
    let mut search = Search::new(into, wanted, waste);
    for _ in 0..effort.runs {
        search.left = effort.niches;
        if search.go(&mut dice) {
            return Some(search.places(wanted));
        }
        search.clear(waste);
    }
    None
}

/// One step of the skyline: where it begins, how high it is and how wide.
#[derive(Clone, Copy, Debug)]
struct Step {
    x: i32,
    y: i32,
    width: i32,
}

/// Rectangles of one size.
#[derive(Clone, Debug)]
struct Sort {
    size: Size,
    turns: bool,
    count: usize,
}

struct Search {
    into: Size,
    sorts: Vec<Sort>,
    skyline: Vec<Step>,
    /// What was laid: sort, place, turned.
    laid: Vec<(usize, Rect, bool)>,
    /// How many are not laid yet.
    rest: usize,
    waste: i64,
    /// How many niches may still be looked at.
    left: usize,
}

/// How a rectangle could lie in a niche.
struct Try {
    merit: f64,
    sort: usize,
    size: Size,
    is_turned: bool,
}

impl Search {
    fn new(into: Size, wanted: &[Wanted], waste: i64) -> Self {
        let mut sorts: Vec<Sort> = Vec::new();
        for (size, turns) in wanted {
            match sorts.iter_mut().find(|sort| (sort.size, sort.turns) == (*size, *turns)) {
                Some(sort) => sort.count += 1,
                None => sorts.push(Sort { size: *size, turns: *turns, count: 1 }),
            }
        }
        let skyline = vec![Step { x: 0, y: 0, width: into.width }];
        Self { into, sorts, skyline, laid: Vec::new(), rest: wanted.len(), waste, left: 0 }
    }

    fn clear(&mut self, waste: i64) {
        for (sort, ..) in self.laid.drain(..) {
            self.sorts[sort].count += 1;
            self.rest += 1;
        }
        self.skyline = vec![Step { x: 0, y: 0, width: self.into.width }];
        self.waste = waste;
    }

    /// Lays all that is not laid; `false` when it found no way, or has looked at too many niches.
    fn go(&mut self, dice: &mut ChaCha8Rng) -> bool {
        if self.rest == 0 {
            return true;
        }
        let Some(left) = self.left.checked_sub(1) else { return false };
        self.left = left;
        let niche = self.lowest();
        for lie in self.tries(niche, dice) {
            let skyline = self.skyline.clone();
            self.lay(niche, &lie);
            if self.go(dice) {
                return true;
            }
            if self.left == 0 {
                return false;
            }
            self.skyline = skyline;
            self.laid.pop();
            self.sorts[lie.sort].count += 1;
            self.rest += 1;
        }
        self.give_up(niche, dice)
    }

    fn lowest(&self) -> usize {
        let heights = self.skyline.iter().map(|step| step.y).enumerate();
        heights.min_by_key(|(_, y)| *y).map_or(0, |(niche, _)| niche)
    }

    /// How high the skyline stands to the left and to the right of a niche.
    fn beside(&self, niche: usize) -> [i32; 2] {
        let height = |step: Option<&Step>| step.map_or(self.into.height, |step| step.y);
        [
            height(niche.checked_sub(1).map(|k| &self.skyline[k])),
            height(self.skyline.get(niche + 1)),
        ]
    }

    /// What could lie at the left of a niche, the most promising first: large, as wide as the niche, level with what
    /// is beside it; the weights are our judgement, tried on sets with known optima.
    fn tries(&self, niche: usize, dice: &mut ChaCha8Rng) -> Vec<Try> {
        let Step { y, width, .. } = self.skyline[niche];
        let [left, right] = self.beside(niche);
        let whole = self.into.area() as f64;
        let mut tries = Vec::new();
        for (k, sort) in self.sorts.iter().enumerate().filter(|(_, sort)| 0 < sort.count) {
            let turns = sort.turns && sort.size.width != sort.size.height;
            let both = [(sort.size, false), (sort.size.turned(), true)];
            for (size, is_turned) in both.into_iter().take(if turns { 2 } else { 1 }) {
                let top = y + size.height;
                if width < size.width || self.into.height < top {
                    continue;
                }
                let is_as_wide = size.width == width;
                let merit = 8.0 * size.area() as f64 / whole
                    + if is_as_wide { 1.5 } else { 0.0 }
                    + if top == left { 1.0 } else { 0.0 }
                    + if is_as_wide && top == right { 1.0 } else { 0.0 }
                    + 0.5 * dice.random::<f64>();
                tries.push(Try { merit, sort: k, size, is_turned });
            }
        }
        tries.sort_by(|a, b| b.merit.total_cmp(&a.merit));
        tries
    }

    fn lay(&mut self, niche: usize, lie: &Try) {
        let Step { x, y, width } = self.skyline[niche];
        self.skyline[niche] = Step { x, y: y + lie.size.height, width: lie.size.width };
        let rest = width - lie.size.width;
        if 0 < rest {
            self.skyline.insert(niche + 1, Step { x: x + lie.size.width, y, width: rest });
        }
        self.join();
        self.sorts[lie.sort].count -= 1;
        self.rest -= 1;
        self.laid.push((lie.sort, Rect { x, y, size: lie.size }, lie.is_turned));
    }

    /// Leaves a niche empty up to the lower of its sides, if so much may be wasted.
    fn give_up(&mut self, niche: usize, dice: &mut ChaCha8Rng) -> bool {
        let Step { y, width, .. } = self.skyline[niche];
        let [left, right] = self.beside(niche);
        let to = left.min(right);
        let lost = i64::from(to - y) * i64::from(width);
        if self.skyline.len() < 2 || self.waste < lost {
            return false;
        }
        let skyline = self.skyline.clone();
        self.waste -= lost;
        self.skyline[niche].y = to;
        self.join();
        if self.go(dice) {
            return true;
        }
        self.skyline = skyline;
        self.waste += lost;
        false
    }

    /// Joins steps of one height.
    fn join(&mut self) {
        self.skyline.dedup_by(|next, step| {
            let is_level = next.y == step.y;
            if is_level {
                step.width += next.width;
            }
            is_level
        });
    }

    /// Where each of what was wanted lies.
    fn places(&mut self, wanted: &[Wanted]) -> Vec<(Rect, bool)> {
        let mut of_sort: Vec<Vec<(Rect, bool)>> = vec![Vec::new(); self.sorts.len()];
        for (sort, rect, is_turned) in self.laid.drain(..) {
            of_sort[sort].push((rect, is_turned));
        }
        let sort = |(size, turns): &Wanted| {
            self.sorts.iter().position(|sort| (sort.size, sort.turns) == (*size, *turns))
        };
        wanted.iter().filter_map(|one| of_sort[sort(one)?].pop()).collect()
    }
}

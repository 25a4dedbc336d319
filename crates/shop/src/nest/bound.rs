//! What any set of sheets costs at least.
//!
//! A scale is a function of lengths under which lengths that lie side by side within a sheet never count for more together
//! than the sheet does. Widths so counted times heights so counted give every item a volume, and what lies on a sheet has
//! together no more volume than the sheet (conservative scales and dual feasible functions: Fekete and Schepers 2001, "New
//! classes of fast lower bounds for bin packing problems", Math. Program. 91, 11–31; 2004, "A general framework for bounds
//! for higher-dimensional orthogonal packing problems", Math. Methods Oper. Res. 60, 311–329; Carlier, Clautiaux and Moukrim
//! 2007, Comput. Oper. Res. 34, 2223–2250, doi:10.1016/j.cor.2005.08.012; volumes and pages of all three from memory). Each
//! pair of scales asks for sheets with so much volume together; the cheapest numbers of
//! sheets that satisfy all of them are a lower bound.
//!
//! Several kinds of sheet, turns and openings are ours: an item that may be turned counts as it counts least; what fits only
//! some kinds of sheet asks for volume on those; and what openings hold at most is taken off. All in whole numbers: nothing
//! is lost to rounding.

mod numbers;
mod scale;

use std::collections::BTreeSet;

use super::{Item, Kind, Rect, Size};
use numbers::{Cheapest, Demand, cheapest};
use scale::{Scale, scales};

/// Demands are added one after another, the one that is broken most; after so many the bound is good enough.
const MOST_DEMANDS: usize = 60;
/// At most so many different widths, and heights, of sheets have scales of their own.
const MOST_SIDES: usize = 6;
/// At most so many capacities are reckoned: where there are many kinds, fewer scales are tried.
const MOST_NUMBERS: usize = 2_000_000;
/// At most so many sets of kinds are asked for on their own.
const MOST_SETS: usize = 8;
/// Kinds after this many share a bit.
const LAST_BIT: usize = 63;

/// The least that any set of sheets costs; `None` when all that there are do not suffice.
pub(super) fn of(items: &[Item], kinds: &[Kind]) -> Option<u64> {
    let counting = Counting::new(items, kinds);
    let all = counting.demands();
    let mut chosen: Vec<Demand> = all.first().cloned().into_iter().collect();
    let mut bound = 0;
    loop {
        let numbers = match cheapest(&chosen, kinds) {
            Cheapest::Found(numbers, cost) => {
                bound = cost;
                numbers
            }
            Cheapest::None => return None,
            // What fewer demands cost holds too.
            Cheapest::GivenUp => return Some(bound),
        };
        let lacking = all.iter().filter(|demand| demand.lacks(&numbers));
        let worst = lacking.min_by(|a, b| a.share(&numbers).total_cmp(&b.share(&numbers)));
        match worst {
            Some(worst) if chosen.len() < MOST_DEMANDS => chosen.push(worst.clone()),
            _ => return Some(bound),
        }
    }
}

/// An item as it may lie, and the kinds of sheet on which it may, as bits.
struct Shape {
    sizes: Vec<Size>,
    kinds: u64,
    /// Whether it may fit into an opening.
    fits_opening: bool,
}

struct Counting<'a> {
    kinds: &'a [Kind],
    shapes: Vec<Shape>,
    /// For every item that has any, the rectangles around its openings: not its rooms, for one who looks harder might
    /// find more room in an opening.
    openings: Vec<&'a [Rect]>,
}

impl<'a> Counting<'a> {
    fn new(items: &'a [Item], kinds: &'a [Kind]) -> Self {
        let openings = items.iter().map(|item| &item.openings[..]);
        let openings: Vec<&[Rect]> = openings.filter(|openings| !openings.is_empty()).collect();
        let shapes = items.iter().map(|item| shape(item, kinds, &openings)).collect();
        Self { kinds, shapes, openings }
    }

    /// One for each pair of scales and set of kinds; the first is that of plain areas on all kinds.
    fn demands(&self) -> Vec<Demand> {
        let lengths = |along: fn(&Size) -> i32| -> Vec<i32> {
            let all = self.shapes.iter().flat_map(|shape| shape.sizes.iter().map(along));
            all.collect::<BTreeSet<i32>>().into_iter().collect()
        };
        let sides = |along: fn(&Kind) -> i32| {
            let all: BTreeSet<i32> = self.kinds.iter().map(along).collect();
            // The longest: what is dear lies on them.
            all.into_iter().rev().take(MOST_SIDES)
        };
        let across = scales(&lengths(|size| size.width), sides(|kind| kind.size.width));
        let up = scales(&lengths(|size| size.height), sides(|kind| kind.size.height));
        let sets = self.sets();
        let most = (MOST_NUMBERS / (sets.len() * self.kinds.len()).max(1)).isqrt();
        let mut demands = Vec::new();
        for f in across.iter().take(most) {
            for g in up.iter().take(most) {
                demands.extend(self.demands_of(f, g, &sets));
            }
        }
        demands
    }

    /// All kinds, and those that some items are confined to.
    fn sets(&self) -> Vec<u64> {
        let own: BTreeSet<u64> = self.shapes.iter().map(|shape| shape.kinds).collect();
        let mut sets = vec![u64::MAX];
        sets.extend(own.into_iter().take(MOST_SETS));
        sets
    }

    fn demands_of<'b>(
        &'b self,
        f: &'b Scale,
        g: &'b Scale,
        sets: &'b [u64],
    ) -> impl Iterator<Item = Demand> + 'b {
        let of_size = |size: &Size| f.of(size.width) * g.of(size.height);
        let least = |shape: &Shape| shape.sizes.iter().map(of_size).min().unwrap_or(0);
        let volumes: Vec<i64> = self.shapes.iter().map(least).collect();
        let in_openings = self.openings.iter().map(|openings| volume_of_openings(openings, f, g));
        let in_openings: i64 = in_openings.sum();
        let of_kind = |kind: &Kind| f.capacity(kind.size.width) * g.capacity(kind.size.height);
        let capacities: Vec<i64> = self.kinds.iter().map(of_kind).collect();
        sets.iter().map(move |set| {
            let within = || self.shapes.iter().zip(&volumes).filter(|(s, _)| s.kinds & !set == 0);
            let all: i64 = within().map(|(_, volume)| volume).sum();
            let outside: i64 = within().filter(|(s, _)| !s.fits_opening).map(|(_, v)| v).sum();
            let capacity = |(k, c): (usize, &i64)| if set & bit(k) == 0 { 0 } else { *c };
            Demand {
                // What lies in openings takes no volume of a sheet, but they hold no more than they can.
                volume: outside.max(all - in_openings),
                capacities: capacities.iter().enumerate().map(capacity).collect(),
            }
        })
    }
}

fn bit(kind: usize) -> u64 {
    1 << kind.min(LAST_BIT)
}

fn shape(item: &Item, kinds: &[Kind], openings: &[&[Rect]]) -> Shape {
    let mut sizes = BTreeSet::new();
    let mut bits = 0;
    for (k, kind) in kinds.iter().enumerate() {
        for (size, _) in item.lies(kind) {
            sizes.insert(size);
            bits |= bit(k);
        }
    }
    let fits = |opening: &Rect| {
        item.size.lies_in(opening.size) || item.size.lies_in(opening.size.turned())
    };
    let fits_opening = openings.iter().copied().flatten().any(fits);
    Shape { sizes: sizes.into_iter().collect(), kinds: bits, fits_opening }
}

/// What the openings of one item hold at most, as it may lie: no more than each together, nor than one that holds them
/// all. They may overlap.
fn volume_of_openings(openings: &[Rect], f: &Scale, g: &Scale) -> i64 {
    let holds = |size: Size| {
        let of = |size: Size| f.capacity(size.width) * g.capacity(size.height);
        of(size).max(of(size.turned()))
    };
    let each = openings.iter().map(|opening| holds(opening.size)).sum();
    let hull = openings.iter().copied().reduce(Rect::hull);
    hull.map_or(0, |hull| holds(hull.size).min(each))
}

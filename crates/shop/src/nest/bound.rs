//! What any set of sheets costs at least.
//!
//! A function of lengths is a scale when lengths that lie side by side within a sheet never count for more together than
//! the sheet does. Widths so counted times heights so counted give every item a volume, and what lies on a sheet has
//! together no more volume than the sheet (Fekete and Schepers 2001, Math. Program. 91, 11–31, conservative scales). Each
//! pair of scales asks for sheets with so much volume together; the cheapest numbers of sheets that satisfy all of them
//! are a lower bound. An item that may be turned counts as it counts least. All in whole numbers: nothing is lost to
//! rounding.

mod numbers;
mod scale;

use std::collections::BTreeSet;

use super::{Item, Kind, Size, deal};
use numbers::{Demand, cheapest};
use scale::{Scale, scales};

/// The least that any set of sheets costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// No set of sheets costs less.
    pub cost: u64,
}

/// Pairs of scales are added one after another, the one that is broken most; after so many the bound is good enough.
const MOST_DEMANDS: usize = 60;

/// An item's sizes as it may lie, and the kinds of sheet on which it may, as bits.
struct Shape {
    sizes: Vec<Size>,
    kinds: u64,
}

pub(super) fn of(items: &[Item], kinds: &[Kind]) -> Bound {
    let shapes: Vec<Shape> = items.iter().map(|item| shape(item, kinds)).collect();
    // Items with rooms share their area with what lies in them: they and what fits into them cannot be counted so.
    let has_rooms = items.iter().any(|item| !item.rooms.is_empty());
    let counted: Vec<&Shape> =
        if has_rooms { outside_rooms(items, &shapes) } else { shapes.iter().collect() };
    let mut sets: Vec<u64> = counted.iter().map(|shape| shape.kinds).collect();
    sets.push(u64::MAX);
    sets.sort_unstable();
    sets.dedup();
    let lengths = |along: fn(&Size) -> i32| -> Vec<i32> {
        let all = counted.iter().flat_map(|shape| shape.sizes.iter().map(along));
        all.collect::<BTreeSet<i32>>().into_iter().collect()
    };
    let across = scales(&lengths(|size| size.width), kinds.iter().map(|kind| kind.size.width));
    let up = scales(&lengths(|size| size.height), kinds.iter().map(|kind| kind.size.height));
    let demand = |(f, g): (&Scale, &Scale), set: u64| {
        let within = counted.iter().filter(|shape| shape.kinds & !set == 0);
        let volume = |shape: &&&Shape| {
            let volumes = shape.sizes.iter().map(|s| f.of(s.width) * g.of(s.height));
            volumes.min().unwrap_or(0)
        };
        let capacity = |(k, kind): (usize, &Kind)| {
            if set >> k & 1 == 1 {
                f.capacity(kind.size.width) * g.capacity(kind.size.height)
            } else {
                0
            }
        };
        Demand {
            volume: within.map(|shape| volume(&shape)).sum(),
            capacities: kinds.iter().enumerate().map(capacity).collect(),
        }
    };
    let plain = (&across[0], &up[0]);
    let mut demands: Vec<Demand> = sets.iter().map(|set| demand(plain, *set)).collect();
    loop {
        let Some((numbers, cost)) = cheapest(&demands, kinds) else {
            // Not even all sheets suffice, if they are counted.
            return Bound { cost: u64::MAX };
        };
        if MOST_DEMANDS <= demands.len() {
            return Bound { cost };
        }
        let pairs = across.iter().flat_map(|f| up.iter().map(move |g| (f, g)));
        let all = pairs.flat_map(|pair| sets.iter().map(move |set| (pair, *set)));
        let lacking = all.map(|(pair, set)| demand(pair, set)).filter(|d| d.lacks(&numbers));
        let worst =
            lacking.max_by(|a, b| a.share(&numbers).total_cmp(&b.share(&numbers)).reverse());
        match worst {
            Some(worst) => demands.push(worst),
            None => return Bound { cost },
        }
    }
}

fn shape(item: &Item, kinds: &[Kind]) -> Shape {
    let mut sizes = BTreeSet::new();
    let mut bits = 0;
    for (k, kind) in kinds.iter().enumerate() {
        for (size, _) in deal::lies(item, kind) {
            sizes.insert(size);
            bits |= 1 << k;
        }
    }
    Shape { sizes: sizes.into_iter().collect(), kinds: bits }
}

/// Items that fit into no room of another: only these surely lie beside one another.
fn outside_rooms<'a>(items: &[Item], shapes: &'a [Shape]) -> Vec<&'a Shape> {
    let rooms: Vec<Size> =
        items.iter().flat_map(|item| item.rooms.iter().map(|r| r.size)).collect();
    let fits = |item: &Item| {
        rooms.iter().any(|room| item.size.lies_in(*room) || item.size.lies_in(room.turned()))
    };
    items.iter().zip(shapes).filter(|(item, _)| !fits(item)).map(|(_, shape)| shape).collect()
}

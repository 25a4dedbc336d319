//! The order in which the box is turned least, and while it is light.
//!
//! What a step costs depends only on which units stand before it, not in which order they came. So orders are built up
//! unit by unit, all of one length at a time, and of those that lead to the same units only the best is kept; then the
//! most hopeful of all sets of units (a beam search).

use std::collections::{BTreeMap, BTreeSet};

use design::Role;
use glam::DVec3;

use super::parts::Parts;
use super::search::{Put, Search};
use super::turns::changes;

/// So many sets of units of one size are gone on with; our judgement: four times as many find nothing better in the demos.
pub(super) const WIDTH: usize = 16;

/// An order so far.
#[derive(Clone, Debug)]
struct Begun {
    /// The units in the order in which they went in, the base first.
    units: Vec<usize>,
    puts: Vec<Put>,
    /// What was turned so far, kg, as often as it was.
    turned_kg: f64,
    /// Places in common practice of the units, for a choice between orders that cost the same.
    places: Vec<usize>,
}

/// How a part that is glued to walls is held while not all of these stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Held {
    /// By the bottom, or by all its walls: by one alone it hangs by an edge.
    Well,
    /// By any one of its walls.
    Somehow,
}

/// The order after a base with the least to turn that is found; `None` where none is found that holds.
pub(super) fn fewest_turns(search: &Search<'_>, base: usize, others: &[usize]) -> Option<Vec<Put>> {
    within(search, base, others, WIDTH)
}

/// The same with that many sets of units gone on with.
pub(super) fn within(
    search: &Search<'_>,
    base: usize,
    others: &[usize],
    width: usize,
) -> Option<Vec<Put>> {
    let held = [Held::Well, Held::Somehow];
    held.into_iter().find_map(|held| beam(search, base, others, held, width))
}

fn beam(
    search: &Search<'_>,
    base: usize,
    others: &[usize],
    held: Held,
    width: usize,
) -> Option<Vec<Put>> {
    let begun = Begun { units: vec![base], puts: Vec::new(), turned_kg: 0.0, places: Vec::new() };
    let mut level = vec![begun];
    for _ in others {
        let mut found: BTreeMap<Vec<usize>, Begun> = BTreeMap::new();
        for begun in &level {
            for next in longer(search, begun, others, held) {
                let mut set = next.units.clone();
                set.sort_unstable();
                match found.get(&set) {
                    Some(known) if !is_better(&next, known) => {}
                    _ => {
                        found.insert(set, next);
                    }
                }
            }
        }
        let mut rated: Vec<(f64, Begun)> = found
            .into_values()
            .map(|begun| (begun.turned_kg + still_kg(search, &begun.units, others), begun))
            .collect();
        rated.sort_by(|(a, p), (b, q)| a.total_cmp(b).then_with(|| p.places.cmp(&q.places)));
        let hopeful = rated.into_iter().map(|(_, begun)| begun);
        let is_open = |begun: &Begun| search.is_open(&begun.units, &left(begun, others));
        level = hopeful.filter(is_open).take(width).collect();
    }
    level.into_iter().next().map(|begun| begun.puts)
}

fn is_better(new: &Begun, known: &Begun) -> bool {
    new.turned_kg.total_cmp(&known.turned_kg).then_with(|| new.places.cmp(&known.places)).is_lt()
}

fn left(begun: &Begun, others: &[usize]) -> Vec<usize> {
    others.iter().copied().filter(|unit| !begun.units.contains(unit)).collect()
}

/// All orders with one unit more.
fn longer<'a>(
    search: &'a Search<'a>,
    begun: &'a Begun,
    others: &'a [usize],
    held: Held,
) -> impl Iterator<Item = Begun> + 'a {
    let left = left(begun, others);
    let is_last = left.len() == 1;
    left.into_iter().filter_map(move |unit| {
        let has_its_turn = match search.role(unit) {
            // It shuts off the hand.
            Role::Rim => is_last,
            Role::Wall => true,
            // On the bottom alone nothing holds it square.
            _ => is_held(search, &begun.units, unit, others, held),
        };
        let put = if has_its_turn { search.sound(&begun.units, unit) } else { None }?;
        let downs: Vec<DVec3> = put.feeds.iter().map(|feed| feed.down).collect();
        let mut next = begun.clone();
        next.units.push(unit);
        #[expect(clippy::cast_precision_loss, reason = "a small count")]
        let times = changes(&downs) as f64;
        next.turned_kg += times * search.mass_kg(&next.units);
        next.places.push(search.place(unit));
        next.puts.push(put);
        Some(next)
    })
}

/// Whether enough stands of what a unit is glued to.
fn is_held(
    search: &Search<'_>,
    standing: &[usize],
    unit: usize,
    others: &[usize],
    held: Held,
) -> bool {
    let walls = others.iter().filter(|&&other| search.role(other) == Role::Wall);
    let own: Vec<usize> = walls.copied().filter(|&wall| search.is_joined(wall, unit)).collect();
    let is_there = |wall: &usize| standing.contains(wall);
    let is_on_bottom =
        standing.iter().any(|&u| search.role(u) == Role::Bottom && search.is_joined(u, unit));
    match held {
        _ if own.is_empty() => true,
        Held::Well if !is_on_bottom => own.iter().all(is_there),
        _ => own.iter().any(is_there),
    }
}

/// What must be turned at least with the units that are left, kg: every unit that has an upright joint with one that stands
/// brings two turns, and so does one of every two units that have one with each other.
fn still_kg(search: &Search<'_>, standing: &[usize], others: &[usize]) -> f64 {
    let mut left: BTreeSet<usize> =
        others.iter().copied().filter(|unit| !standing.contains(unit)).collect();
    let with_standing: Vec<usize> = left
        .iter()
        .copied()
        .filter(|&unit| standing.iter().any(|&other| search.is_upright(unit, other)))
        .collect();
    let mut brings = with_standing.len();
    left.retain(|unit| !with_standing.contains(unit));
    while let Some(unit) = left.pop_first() {
        let mate = left.iter().copied().find(|&other| search.is_upright(unit, other));
        if let Some(mate) = mate {
            left.remove(&mate);
            brings += 1;
        }
    }
    let mut masses: Vec<f64> = others
        .iter()
        .filter(|unit| !standing.contains(unit))
        .map(|&unit| search.mass_kg(&[unit]))
        .collect();
    masses.sort_by(f64::total_cmp);
    let mut kg = search.mass_kg(standing);
    let mut sum = 0.0;
    for mass in masses.into_iter().take(brings) {
        kg += mass;
        sum += 2.0 * kg;
    }
    sum
}

/// Whether a joint between some parts stands upright while the box stands on its bottom, so that it must be turned.
pub(super) fn is_upright(parts: &Parts<'_>, joint: super::JointId) -> bool {
    parts.patches[&joint].is_some_and(|patch| patch.along.z.abs() > 0.5)
}

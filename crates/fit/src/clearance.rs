//! How far apart things are that are not meant to touch, in place and in service.
//!
//! What touches by design is known from the joints and from what is taken out as one, never from a tolerance.

mod gap;
mod limits;
mod service;

use design::Design;
use glam::DVec3;
use rayon::prelude::*;

use crate::report::{Clearance, HeldTo};
use crate::world::{ThingId, World};

pub use service::{InService, taken_out_first};

use gap::{bounds_gap, least_gap};
use limits::Limits;

/// Things farther apart than this are no neighbours, mm; our judgement.
pub const NEAR_MM: f64 = 60.0;
/// Built-in parts that share room by less than this touch, mm: rounding, or a face on a face.
const TOUCH_MM: f64 = 0.005;

/// Every pair of things that are near each other and not meant to touch, by how much they miss or keep their limit: the
/// worst first. In place; then doors at their lowest and highest, lids lifted, and what stands where
/// equipment is serviced.
///
/// Parts that are built in are glued to others of their kind or stand where they were put; of these only the pairs that
/// share room are told.
pub(crate) fn clearances(design: &Design, world: &World) -> Vec<Clearance> {
    let limits = Limits::of(design, world);
    let n = world.things.len();
    let pairs: Vec<(ThingId, ThingId)> =
        (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j))).collect();
    let in_place =
        pairs.into_par_iter().filter_map(|(i, j)| measured(world, &limits, [i, j], DVec3::ZERO));
    let mut all: Vec<Clearance> = in_place.collect();
    all.extend(service::moved(design, world, &limits));
    all.extend(service::blocked(design, world));
    let margin = |c: &Clearance| c.gap_mm - c.limit_mm;
    all.sort_by(|a, b| margin(a).total_cmp(&margin(b)).then((a.a, a.b).cmp(&(b.a, b.b))));
    all
}

/// Pairs of things in place, the lower first, whose gap is not told however near they are: they touch by design or are
/// taken out as one, both are around the sump, or both are built in.
pub fn untold(design: &Design, world: &World) -> Vec<[ThingId; 2]> {
    let limits = Limits::of(design, world);
    let n = world.things.len();
    let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| [i, j]));
    pairs.filter(|[i, j]| limits.of_pair(*i, *j).is_none() || limits.are_built_in(*i, *j)).collect()
}

/// The least gap of two things, the first one moved, if they are held against a limit and near.
fn measured(
    world: &World,
    limits: &Limits,
    [i, j]: [ThingId; 2],
    moved: DVec3,
) -> Option<Clearance> {
    let limit = limits.of_pair(i, j)?;
    let (a, b) = (&world.things[i], &world.things[j]);
    let bounds = a.bounds.map(|p| p + moved);
    if bounds_gap(bounds, b.bounds) >= NEAR_MM {
        return None;
    }
    let nearest = least_gap(&a.fine, &b.fine, moved, NEAR_MM)?;
    let is_told = !limits.are_built_in(i, j) || nearest.gap_mm < -TOUCH_MM;
    is_told.then(|| told(world, [i, j], nearest, limit))
}

fn told(
    world: &World,
    [i, j]: [ThingId; 2],
    nearest: crate::nearest::Nearest,
    (limit_mm, held_to): (f64, HeldTo),
) -> Clearance {
    let things = [&world.things[i], &world.things[j]];
    Clearance {
        a: i,
        b: j,
        names: things.map(|thing| thing.name.clone()),
        parameters: things.map(|thing| thing.parameter.clone()),
        gap_mm: nearest.gap_mm,
        at: nearest.points,
        limit_mm,
        held_to,
        when: None,
    }
}

#[cfg(test)]
mod tests;

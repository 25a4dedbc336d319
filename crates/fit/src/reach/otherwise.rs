//! The same world with one thing otherwise: to see what is in an arm's way.

use design::{Design, SurroundingKind, Surroundings};
use glam::DVec3;

use crate::convex::Convex;
use crate::world::{Origin, ThingId, World};

/// Heights that are this near are the same, mm.
const SAME_MM: f64 = 0.05;

/// Without these things.
pub(super) fn without(world: &World, things: &[ThingId]) -> World {
    let mut world = world.clone();
    for thing in things {
        world.things[*thing].coarse.clear();
    }
    world
}

/// With the upper edge of one opening of the cabinet higher; `None` when its wall ends below.
pub(super) fn with_raised_opening(
    design: &Design,
    world: &World,
    opening: usize,
    by_mm: f64,
) -> Option<World> {
    let around = design.surroundings.as_ref()?;
    let [lo, hi] = around.openings.get(opening)?.gap;
    let top = hi.z + by_mm;
    if around.inside[1].z + SAME_MM < top {
        return None;
    }
    let mut world = world.clone();
    cut(&mut world, around, [lo.with_z(hi.z), hi.with_z(top)]);
    raise_window(&mut world, opening, by_mm);
    Some(world)
}

/// With one opening of the cabinet as large as its wall.
pub(super) fn with_whole_opening(design: &Design, world: &World, opening: usize) -> Option<World> {
    let around = design.surroundings.as_ref()?;
    let of = around.openings.get(opening)?;
    let along = DVec3::Z.cross(of.out).abs();
    // Through its thickness as the opening, along and upwards as the inside.
    let [lo, hi] = [0, 1].map(|end| {
        let free = along + DVec3::Z;
        of.gap[end] * (DVec3::ONE - free) + around.inside[end] * free
    });
    let mut world = world.clone();
    cut(&mut world, around, [lo, hi]);
    let window = &mut world.exits.doors.get_mut(opening)?.window;
    let (middle, half) = (0.5 * (lo + hi), 0.5 * (hi - lo));
    window.centre = middle + of.out * half.dot(of.out.abs());
    (window.half_u, window.half_v) = (half.dot(window.u.abs()), half.dot(window.v.abs()));
    Some(world)
}

/// With the ceiling of the cabinet higher, its walls up to it, and openings higher that end at it.
pub(super) fn with_higher_ceiling(design: &Design, world: &World, by_mm: f64) -> Option<World> {
    let around = design.surroundings.as_ref().filter(|around| around.has_ceiling)?;
    let top = around.inside[1].z;
    let mut world = world.clone();
    for thing in panels(&world, around) {
        let thing = &mut world.things[thing];
        let is_ceiling = top - SAME_MM <= thing.bounds[0].z;
        for piece in &mut thing.coarse {
            let up = |p: DVec3| {
                let rises = is_ceiling || top - SAME_MM <= p.z;
                if rises { p + by_mm * DVec3::Z } else { p }
            };
            *piece = Convex::new(piece.points.iter().map(|p| up(*p)).collect());
        }
    }
    for (opening, of) in around.openings.iter().enumerate() {
        if top - SAME_MM <= of.gap[1].z {
            raise_window(&mut world, opening, by_mm);
        }
    }
    Some(world)
}

/// Without the cabinet, standing free.
pub(super) fn without_cabinet(world: &World) -> World {
    let is_around = |thing: &ThingId| matches!(world.things[*thing].origin, Origin::Surrounding(_));
    let around: Vec<ThingId> = (0..world.things.len()).filter(is_around).collect();
    let mut world = without(world, &around);
    world.exits.doors.clear();
    world
}

fn raise_window(world: &mut World, opening: usize, by_mm: f64) {
    if let Some(door) = world.exits.doors.get_mut(opening) {
        door.window.centre.z += 0.5 * by_mm;
        door.window.half_v += 0.5 * by_mm;
    }
}

fn panels(world: &World, around: &Surroundings) -> Vec<ThingId> {
    let is_panel = |thing: &ThingId| match world.things[*thing].origin {
        Origin::Surrounding(k) => around.things[k].kind == SurroundingKind::Panel,
        _ => false,
    };
    (0..world.things.len()).filter(is_panel).collect()
}

/// Cuts a box out of the cabinet's panels, whose pieces are boxes where its walls are.
fn cut(world: &mut World, around: &Surroundings, hole: [DVec3; 2]) {
    for thing in panels(world, around) {
        let thing = &mut world.things[thing];
        thing.coarse = thing.coarse.iter().flat_map(|piece| rest(piece, hole)).collect();
    }
}

/// What is left of a box out of which another is cut.
fn rest(piece: &Convex, [lo, hi]: [DVec3; 2]) -> Vec<Convex> {
    if piece.max.cmple(lo).any() || hi.cmple(piece.min).any() {
        return vec![piece.clone()];
    }
    let (mut min, mut max) = (piece.min, piece.max);
    let mut left = Vec::new();
    for k in 0..3 {
        if min[k] < lo[k] {
            let mut end = max;
            end[k] = lo[k];
            left.push(Convex::block([min, end]));
            min[k] = lo[k];
        }
        if hi[k] < max[k] {
            let mut begin = min;
            begin[k] = hi[k];
            left.push(Convex::block([begin, max]));
            max[k] = hi[k];
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_of_a_box_is_as_large_as_it_less_what_was_cut() {
        let block = Convex::block([DVec3::ZERO, DVec3::new(10.0, 2.0, 10.0)]);
        let volume = |blocks: &[Convex]| {
            blocks.iter().map(|b| (b.max - b.min).element_product()).sum::<f64>()
        };
        let through = [DVec3::new(3.0, -1.0, 4.0), DVec3::new(5.0, 3.0, 20.0)];
        let left = rest(&block, through);
        assert!((volume(&left) - (200.0 - 2.0 * 2.0 * 6.0)).abs() < 1e-12);
        let beside = [DVec3::new(10.0, 0.0, 0.0), DVec3::new(12.0, 2.0, 2.0)];
        assert_eq!(rest(&block, beside), std::slice::from_ref(&block));
        assert!(rest(&block, [DVec3::splat(-1.0), DVec3::splat(11.0)]).is_empty());
    }
}

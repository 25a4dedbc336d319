//! A design taken apart into convex pieces.

use design::{Design, Removable, Role};
use glam::{DAffine3, DVec3};
use plate::Shape;
use rayon::prelude::*;

use super::moving::Moving;
use super::{Origin, Thing, World, exits};
use crate::convex::Convex;
use crate::pieces::{Openings, Source, bounds, placed};

/// Things are in an opening when they share more room with it than this, mm: a face on a face is not in it.
const IN_IT_MM: f64 = 0.01;

/// One thing before it is taken apart.
struct Raw<'a> {
    name: &'a str,
    parameter: &'a str,
    origin: Origin,
    shape: &'a Shape,
    pose: &'a DAffine3,
    role: Option<Role>,
}

impl World {
    /// Everything of a design and around it.
    pub fn of(design: &Design) -> Self {
        let raw = raw(design);
        let (shapes, of_thing) = shapes(&raw);
        let sources: Vec<Source<'_>> = shapes.par_iter().map(|shape| Source::of(shape)).collect();
        let own: Vec<Vec<Convex>> = sources.par_iter().map(Source::fine).collect();
        let fine: Vec<Vec<Convex>> =
            raw.iter().zip(&of_thing).map(|(r, &s)| placed(&own[s], r.pose)).collect();
        let boxes: Vec<[DVec3; 2]> = fine.iter().map(|pieces| bounds(pieces)).collect();
        let moving = Moving::of(design);
        let least = least_across(design, &boxes);
        let coarse = |i: usize| {
            let r: &Raw<'_> = &raw[i];
            let occupants = |own: [DVec3; 2]| {
                let room = moved(own, r.pose);
                let others =
                    (0..raw.len()).filter(|&j| overlap(room, boxes[j]) && moving.is_apart(i, j));
                let pieces = others.flat_map(|j| &fine[j]).map(|piece| [piece.min, piece.max]);
                let back = r.pose.inverse();
                let within = pieces.filter(|piece| overlap(room, *piece)).map(|piece| {
                    let [lo, hi] = moved(piece, &back);
                    [lo.max(own[0]), hi.min(own[1])]
                });
                within.collect()
            };
            placed(&sources[of_thing[i]].coarse(openings(r.role, least), &occupants), r.pose)
        };
        let coarse: Vec<Vec<Convex>> = (0..raw.len()).into_par_iter().map(coarse).collect();
        let things: Vec<Thing> = raw
            .iter()
            .zip(coarse.into_iter().zip(fine))
            .zip(&boxes)
            .map(|((r, (coarse, fine)), &bounds)| Thing {
                name: r.name.to_owned(),
                parameter: r.parameter.to_owned(),
                origin: r.origin,
                coarse,
                fine,
                bounds,
            })
            .collect();
        let exits = exits::exits(design, &things);
        Self { things, exits }
    }
}

fn raw(design: &Design) -> Vec<Raw<'_>> {
    let placed = design.placed.iter().enumerate().map(|(i, p)| (p, Origin::Placed(i)));
    let spares = design.spares.iter().enumerate().map(|(i, p)| (p, Origin::Spare(i)));
    let things = placed.chain(spares).map(|(p, origin)| Raw {
        name: &p.name,
        parameter: &p.parameter,
        origin,
        shape: &design.pieces[p.piece].shape,
        pose: &p.pose,
        role: Some(design.pieces[p.piece].role),
    });
    let around = design.surroundings.iter().flat_map(|s| s.things.iter().enumerate());
    let around = around.map(|(i, thing)| Raw {
        name: &thing.name,
        parameter: &thing.parameter,
        origin: Origin::Surrounding(i),
        shape: &thing.shape,
        pose: &thing.pose,
        role: None,
    });
    things.chain(around).collect()
}

/// Nothing is taken out through a leaf, its door, a wall or the bottom; through a rim, a lid or a shelf it is, when it
/// is small enough.
fn openings(role: Option<Role>, least_across: f64) -> Openings {
    match role {
        Some(Role::Leaf | Role::Door | Role::Wall | Role::Bottom) => Openings::Fill,
        _ => Openings::Stay(least_across),
    }
}

/// The middle one of the three sides of the box around it, of the part that comes out of which it is least, mm: through
/// an opening that is smaller both ways passes none of them straight.
fn least_across(design: &Design, boxes: &[[DVec3; 2]]) -> f64 {
    let across = |removable: &Removable| {
        let spares = removable.spares.iter().map(|spare| design.placed.len() + spare);
        let things = removable.parts.iter().copied().chain(spares);
        let [lo, hi] = things
            .filter_map(|thing| boxes.get(thing))
            .fold([DVec3::INFINITY, DVec3::NEG_INFINITY], |[lo, hi], b| {
                [lo.min(b[0]), hi.max(b[1])]
            });
        let mut sides = (hi - lo).to_array();
        sides.sort_by(f64::total_cmp);
        sides[1]
    };
    let all = design.removables.iter().map(across);
    all.filter(|across| *across > 0.0).fold(f64::INFINITY, f64::min)
}

/// Every shape once, and which one each thing has: alike things share their piece.
fn shapes<'a>(raw: &[Raw<'a>]) -> (Vec<&'a Shape>, Vec<usize>) {
    let mut shapes: Vec<&Shape> = Vec::new();
    let of_thing = raw
        .iter()
        .map(|r| {
            shapes.iter().position(|known| std::ptr::eq(*known, r.shape)).unwrap_or_else(|| {
                shapes.push(r.shape);
                shapes.len() - 1
            })
        })
        .collect();
    (shapes, of_thing)
}

/// The box around a box in a pose.
fn moved(room: [DVec3; 2], pose: &DAffine3) -> [DVec3; 2] {
    bounds(&placed(&[Convex::block(room)], pose))
}

fn overlap(a: [DVec3; 2], b: [DVec3; 2]) -> bool {
    (a[1].min(b[1]) - a[0].max(b[0])).min_element() > IN_IT_MM
}

//! A design taken apart into convex pieces.

use design::Design;
use glam::{DAffine3, DVec3};
use plate::Shape;
use rayon::prelude::*;

use super::moving::Moving;
use super::{Origin, Thing, World, exits};
use crate::convex::Convex;
use crate::pieces::{Source, bounds, placed};

/// Things are in an opening when they share more room with it than this, mm: a face on a face is not in it.
const IN_IT_MM: f64 = 0.01;

/// One thing before it is taken apart.
struct Raw<'a> {
    name: &'a str,
    parameter: &'a str,
    origin: Origin,
    shape: &'a Shape,
    pose: &'a DAffine3,
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
            placed(&sources[of_thing[i]].coarse(&occupants), r.pose)
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
    });
    let around = design.surroundings.iter().flat_map(|s| s.things.iter().enumerate());
    let around = around.map(|(i, thing)| Raw {
        name: &thing.name,
        parameter: &thing.parameter,
        origin: Origin::Surrounding(i),
        shape: &thing.shape,
        pose: &thing.pose,
    });
    things.chain(around).collect()
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

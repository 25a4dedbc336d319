//! What stands around the part that moves.

use crate::convex::Convex;
use crate::world::{Exits, Origin, ThingId, World};

/// What stands around the part that moves, and how one gets out.
#[derive(Clone, Debug)]
pub struct Space<'a> {
    /// What it must not touch.
    pub(crate) obstacles: Vec<Obstacle<'a>>,
    /// What is out of the way already, but had better stay: of two ways the one that touches less of it is
    /// preferred.
    pub(crate) spared: Vec<Obstacle<'a>>,
    /// How one gets out.
    pub(crate) exits: &'a Exits,
}

/// One convex piece of a thing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Obstacle<'a> {
    /// Whose.
    pub(crate) thing: ThingId,
    /// The piece.
    pub(crate) piece: &'a Convex,
}

impl<'a> Space<'a> {
    /// The world without the things that are gone: those taken out before, those undone, and the part itself. Spares
    /// are never in the way.
    pub fn of(world: &'a World, gone: &[bool]) -> Self {
        let is_there = |thing: ThingId| !gone.get(thing).copied().unwrap_or(false);
        let obstacles = pieces(world, is_there);
        Self { obstacles, spared: Vec::new(), exits: &world.exits }
    }

    /// The same space, where a way had better not touch these things although they are gone.
    #[must_use]
    pub fn sparing(mut self, world: &'a World, things: &[ThingId]) -> Self {
        self.spared = pieces(world, |thing| things.contains(&thing));
        self
    }

    /// Plain pieces, each a thing of its own.
    pub fn plain(pieces: &'a [Convex], exits: &'a Exits) -> Self {
        let obstacles = pieces.iter().enumerate().map(|(thing, piece)| Obstacle { thing, piece });
        Self { obstacles: obstacles.collect(), spared: Vec::new(), exits }
    }
}

fn pieces<'a>(world: &'a World, is_wanted: impl Fn(ThingId) -> bool) -> Vec<Obstacle<'a>> {
    let things = world.things.iter().enumerate();
    let wanted =
        things.filter(|(id, thing)| is_wanted(*id) && !matches!(thing.origin, Origin::Spare(_)));
    wanted
        .flat_map(|(thing, it)| it.coarse.iter().map(move |piece| Obstacle { thing, piece }))
        .collect()
}

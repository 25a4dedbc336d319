//! What stands around the part that moves.

use crate::convex::Convex;
use crate::world::{Exits, Origin, Thing, ThingId, World};

/// What stands around the part that moves, and how one gets out.
#[derive(Clone, Debug)]
pub struct Space<'a> {
    /// What it must not touch.
    pub(crate) obstacles: Vec<Obstacle<'a>>,
    /// What is out of the way already, but had better stay, and what is soft and can be bent aside: of two ways the one
    /// that touches less of it is preferred.
    pub(crate) spared: Vec<Obstacle<'a>>,
    /// Of what is in the way, as it really is, what never leaves before the part does: all that a proof may rest on.
    pub(crate) fixed: Vec<Obstacle<'a>>,
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

impl Obstacle<'_> {
    /// Least and greatest corner of the box around it.
    pub(crate) fn bounds(&self) -> [glam::DVec3; 2] {
        [self.piece.min, self.piece.max]
    }
}

impl<'a> Space<'a> {
    /// The world without the things that are gone: those taken out before, those undone, and the part itself. Spares
    /// are never in the way. Nothing is taken to be [fixed](Self::fixing) yet.
    pub fn of(world: &'a World, gone: &[bool]) -> Self {
        let is_there = |thing: ThingId| !gone.get(thing).copied().unwrap_or(false);
        let obstacles = pieces(world, is_there, |thing| &thing.coarse);
        Self { obstacles, spared: Vec::new(), fixed: Vec::new(), exits: &world.exits }
    }

    /// The same space, where a way had better not touch these things although they are gone.
    #[must_use]
    pub fn sparing(mut self, world: &'a World, things: &[ThingId]) -> Self {
        self.spared = pieces(world, |thing| things.contains(&thing), |thing| &thing.coarse);
        self
    }

    /// The same space, where a way had better not go through these pieces of things, which are bent aside if it does.
    #[must_use]
    pub(crate) fn sparing_soft(
        mut self,
        pieces: impl IntoIterator<Item = (ThingId, &'a Convex)>,
    ) -> Self {
        let pieces = pieces.into_iter().map(|(thing, piece)| Obstacle { thing, piece });
        self.spared.extend(pieces);
        self
    }

    /// Only this piece of a thing stands in it.
    pub(crate) fn around(thing: ThingId, piece: &'a Convex, exits: &'a Exits) -> Self {
        let obstacles = vec![Obstacle { thing, piece }];
        Self { obstacles, spared: Vec::new(), fixed: Vec::new(), exits }
    }

    /// The same space, where these things stay whatever is taken out. Only on them may a proof rest that there is no
    /// way, and on their fine pieces only: the coarse ones fill up what a part might pass.
    #[must_use]
    pub fn fixing(mut self, world: &'a World, is_fixed: impl Fn(ThingId) -> bool) -> Self {
        self.fixed = pieces(world, is_fixed, |thing| &thing.fine);
        self
    }

    /// The same space without one thing.
    #[must_use]
    pub fn without(mut self, thing: ThingId) -> Self {
        self.obstacles.retain(|obstacle| obstacle.thing != thing);
        self.fixed.retain(|obstacle| obstacle.thing != thing);
        self
    }

    /// Plain pieces, each a thing of its own and fixed.
    pub fn plain(pieces: &'a [Convex], exits: &'a Exits) -> Self {
        let obstacles = pieces.iter().enumerate().map(|(thing, piece)| Obstacle { thing, piece });
        let obstacles: Vec<Obstacle<'a>> = obstacles.collect();
        Self { fixed: obstacles.clone(), obstacles, spared: Vec::new(), exits }
    }
}

fn pieces<'a>(
    world: &'a World,
    is_wanted: impl Fn(ThingId) -> bool,
    of: impl Fn(&'a Thing) -> &'a [Convex],
) -> Vec<Obstacle<'a>> {
    let things = world.things.iter().enumerate();
    let wanted =
        things.filter(|(id, thing)| is_wanted(*id) && !matches!(thing.origin, Origin::Spare(_)));
    wanted
        .flat_map(|(thing, it)| of(it).iter().map(move |piece| Obstacle { thing, piece }))
        .collect()
}

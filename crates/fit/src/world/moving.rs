//! What moves with what.

use design::{Design, PlacedId, Removable, SpareId};

use super::{Origin, ThingId, World};

impl World {
    /// The things that move when this is taken out.
    pub fn part(&self, removable: &Removable, design: &Design) -> Vec<ThingId> {
        let around = design.placed.len() + design.spares.len();
        let mut things = ids(design, &removable.parts, &removable.spares);
        things.extend(removable.shelf.map(|shelf| around + shelf));
        things.retain(|thing| *thing < self.things.len());
        things
    }

    /// The small things that are undone before, and are out of the way then.
    pub fn undone(&self, removable: &Removable, design: &Design) -> Vec<ThingId> {
        let mut things = ids(design, &removable.undone, &removable.undone_spares);
        things.retain(|thing| *thing < self.things.len());
        things
    }

    /// [`World::part`] of everything that can be taken out.
    pub fn removable_things(&self, design: &Design) -> Vec<Vec<ThingId>> {
        design.removables.iter().map(|removable| self.part(removable, design)).collect()
    }

    /// Whether a thing is only there when it is asked for.
    pub fn is_spare(&self, thing: ThingId) -> bool {
        matches!(self.things[thing].origin, Origin::Spare(_))
    }
}

/// Things of the design come first, then its spares.
fn ids(design: &Design, placed: &[PlacedId], spares: &[SpareId]) -> Vec<ThingId> {
    let spares = spares.iter().map(|spare| design.placed.len() + spare);
    placed.iter().copied().chain(spares).collect()
}

/// Which things ever move against each other.
pub(super) struct Moving {
    /// For every removable, for every thing: whether it goes with it, is undone before, or stays.
    goes: Vec<Vec<Goes>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Goes {
    Stays,
    Along,
    Before,
}

impl Moving {
    pub(super) fn of(design: &Design) -> Self {
        let around = design.placed.len() + design.spares.len();
        let n = around + design.surroundings.as_ref().map_or(0, |s| s.things.len());
        let goes = design.removables.iter().map(|removable| {
            let mut goes = vec![Goes::Stays; n];
            let along = ids(design, &removable.parts, &removable.spares);
            let before = ids(design, &removable.undone, &removable.undone_spares);
            along.iter().for_each(|&thing| goes[thing] = Goes::Along);
            before.iter().for_each(|&thing| goes[thing] = Goes::Before);
            if let Some(shelf) = removable.shelf {
                goes[around + shelf] = Goes::Along;
            }
            goes
        });
        Self { goes: goes.collect() }
    }

    /// Whether one of two things is ever taken out while the other stays.
    pub(super) fn is_apart(&self, a: ThingId, b: ThingId) -> bool {
        self.goes.iter().any(|goes| {
            matches!((goes[a], goes[b]), (Goes::Along, Goes::Stays) | (Goes::Stays, Goes::Along))
        })
    }
}

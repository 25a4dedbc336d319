//! What moves with what.

use design::{Design, PlacedId, Removable, RemovableId, RemovableKind, Role, SpareId};
use glam::DVec3;

use super::{Origin, ThingId, World};
use crate::convex::Convex;

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

    /// What moves when these things of a removable do, for planning as `coarse` pieces, else as fine ones: of a
    /// sock its stiff flange and its squeezed bag, and of the sump itself, which goes empty, the box as a block with the fittings that stick out
    /// of its walls.
    pub fn moving(
        &self,
        removable: &Removable,
        things: &[ThingId],
        design: &Design,
        coarse: bool,
    ) -> Vec<Convex> {
        let pieces = |thing: &ThingId| {
            let thing = &self.things[*thing];
            if coarse { thing.coarse.iter() } else { thing.fine.iter() }
        };
        if removable.kind == RemovableKind::Sump {
            let block = Convex::block([DVec3::ZERO, design.outside]);
            let fittings = things.iter().filter(|thing| self.is_wall_fitting(**thing, design));
            return std::iter::once(block).chain(fittings.flat_map(pieces).cloned()).collect();
        }
        let pieces = things.iter().flat_map(pieces);
        match removable.stiff_from_z {
            Some(z) => drawn(pieces, z),
            None => pieces.cloned().collect(),
        }
    }

    fn is_wall_fitting(&self, thing: ThingId, design: &Design) -> bool {
        let Origin::Placed(placed) = self.things[thing].origin else { return false };
        design.pieces[design.placed[placed].piece].role == Role::WallFitting
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

/// How narrow the soft bag of a sock gets when it is drawn through something: a third of its width; our judgement.
const SQUEEZED: f64 = 1.0 / 3.0;

/// A sock as it is drawn out. Its stiff flange without its hole, for what hangs in the sock cannot stay there: the
/// bag is closed below. And under it the bag, squeezed to a third of its width, but as long as it is.
fn drawn<'a>(pieces: impl Iterator<Item = &'a Convex>, z: f64) -> Vec<Convex> {
    let pieces: Vec<&Convex> = pieces.collect();
    let corners = || pieces.iter().flat_map(|piece| &piece.points).copied();
    let bag: Vec<DVec3> = corners().filter(|p| p.z < z).collect();
    if bag.is_empty() || bag.len() == corners().count() {
        return pieces.into_iter().cloned().collect();
    }
    let all = Convex::new(corners().collect());
    let bag = Convex::new(bag);
    let axis = 0.5 * (bag.min + bag.max);
    let squeezed = bag.points.iter().map(|p| axis + (*p - axis) * SQUEEZED);
    vec![
        Convex::prism(all.points.iter().copied(), [z, all.max.z]),
        Convex::prism(squeezed, [bag.min.z, z]),
    ]
}

/// Things of the design come first, then its spares.
fn ids(design: &Design, placed: &[PlacedId], spares: &[SpareId]) -> Vec<ThingId> {
    let spares = spares.iter().map(|spare| design.placed.len() + spare);
    placed.iter().copied().chain(spares).collect()
}

/// Which things ever move against each other.
pub(crate) struct Moving {
    /// For every removable, for every thing: whether it goes with it, is undone before, or stays.
    goes: Vec<Vec<Goes>>,
    /// For every thing the slot that it is one of several leaves for, if it is: the removable that stands there.
    slot: Vec<Option<(RemovableId, RemovableId)>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Goes {
    Stays,
    Along,
    Before,
}

impl Moving {
    pub(crate) fn of(design: &Design) -> Self {
        let around = design.placed.len() + design.spares.len();
        let n = around + design.surroundings.as_ref().map_or(0, |s| s.things.len());
        let goes = design.removables.iter().map(|removable| {
            let mut goes = vec![Goes::Stays; n];
            if removable.kind == RemovableKind::Sump {
                // It is taken out empty.
                goes[..around].fill(Goes::Before);
            }
            let along = ids(design, &removable.parts, &removable.spares);
            let before = ids(design, &removable.undone, &removable.undone_spares);
            along.iter().for_each(|&thing| goes[thing] = Goes::Along);
            before.iter().for_each(|&thing| goes[thing] = Goes::Before);
            if let Some(shelf) = removable.shelf {
                goes[around + shelf] = Goes::Along;
            }
            goes
        });
        let mut slot = vec![None; n];
        let is_shared =
            |id: RemovableId| design.removables.iter().any(|other| other.instead_of == Some(id));
        for (id, removable) in design.removables.iter().enumerate() {
            let stands_there = removable.instead_of.or_else(|| is_shared(id).then_some(id));
            for thing in ids(design, &removable.parts, &removable.spares) {
                slot[thing] = slot[thing].or(stands_there.map(|there| (there, id)));
            }
        }
        Self { goes: goes.collect(), slot }
    }

    /// Whether two things are of different leaves for one slot: they are never there together.
    pub(crate) fn is_never_together(&self, a: ThingId, b: ThingId) -> bool {
        match (self.slot[a], self.slot[b]) {
            (Some((slot, one)), Some((same, other))) => slot == same && one != other,
            _ => false,
        }
    }

    /// Whether one of two things is ever taken out while the other stays.
    pub(crate) fn is_apart(&self, a: ThingId, b: ThingId) -> bool {
        !self.is_never_together(a, b)
            && self.goes.iter().any(|goes| {
                matches!(
                    (goes[a], goes[b]),
                    (Goes::Along, Goes::Stays) | (Goes::Stays, Goes::Along)
                )
            })
    }
}

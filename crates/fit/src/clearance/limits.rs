//! Which gap two things are held to.

use std::collections::BTreeSet;

use design::{Design, JointKind, RemovableKind, Role, SurroundingKind};
use params::Fit;

use crate::report::HeldTo;
use crate::world::moving::Moving;
use crate::world::{Origin, ThingId, World};

/// What is known about pairs before anything is measured.
pub(super) struct Limits {
    kinds: Vec<Kind>,
    /// Pairs, the lower first, that touch by design or are taken out as one.
    touching: BTreeSet<(ThingId, ThingId)>,
    /// Pairs that have their own play: a leaf and the wall that its guides are on, a sock and the shelf that
    /// its ring is in.
    with_play: BTreeSet<(ThingId, ThingId)>,
    moving: Moving,
    fit: Fit,
}

/// What a thing is, as far as its gaps go.
#[derive(Clone, Debug, PartialEq)]
enum Kind {
    /// Built into the sump.
    BuiltIn,
    /// Loose in the sump; whether it is equipment that is taken hold of.
    Loose { is_equipment: bool },
    /// Around the sump.
    Around,
    /// What the sump stands on.
    Under,
    /// A pipe from the display down to this drain pipe.
    Above(Option<ThingId>),
}

impl Limits {
    pub(super) fn of(design: &Design, world: &World) -> Self {
        let mut limits = Self {
            kinds: kinds(design, world),
            touching: BTreeSet::new(),
            with_play: BTreeSet::new(),
            moving: Moving::of(design),
            fit: design.fit,
        };
        limits.take_joints(design);
        limits.take_removables(design, world);
        limits.take_spares(design, world);
        limits
    }

    /// The gap that two things are held to, mm, and which limit that is; `None` when they are meant to touch, are never there together, or
    /// are both none of the sump, or when one is what the sump stands on: the bottom is between it and all else.
    pub(super) fn of_pair(&self, a: ThingId, b: ThingId) -> Option<(f64, HeldTo)> {
        use Kind::{Above, Around, BuiltIn, Loose, Under};
        let pair = ordered(a, b);
        if self.touching.contains(&pair) || self.moving.is_never_together(a, b) {
            return None;
        }
        if self.with_play.contains(&pair) {
            return Some((0.0, HeldTo::OwnPlay));
        }
        let gap = self.fit.gap.to_mm();
        let finger = self.fit.finger_gap.to_mm();
        match (&self.kinds[a], &self.kinds[b]) {
            (Around | Under | Above(_), Around | Under | Above(_)) => None,
            (Above(of), Loose { .. }) if *of == Some(b) => None,
            (Loose { .. }, Above(of)) if *of == Some(a) => None,
            (Under, _) | (_, Under) => None,
            (BuiltIn, BuiltIn) => Some((0.0, HeldTo::NoRoomShared)),
            (Around, BuiltIn) | (BuiltIn, Around) => {
                Some((self.fit.cabinet_gap.to_mm(), HeldTo::CabinetGap))
            }
            (Loose { is_equipment: true }, _) | (_, Loose { is_equipment: true })
                if gap < finger =>
            {
                Some((finger, HeldTo::FingerGap))
            }
            _ => Some((gap, HeldTo::Gap)),
        }
    }

    /// Whether both are built in.
    pub(super) fn are_built_in(&self, a: ThingId, b: ThingId) -> bool {
        self.kinds[a] == Kind::BuiltIn && self.kinds[b] == Kind::BuiltIn
    }

    /// Joints touch. What slides in guides has its own play to what these are glued to; a shelf on ledges, to all walls
    /// and leaves around it.
    fn take_joints(&mut self, design: &Design) {
        let role = |id: usize| design.pieces[design.placed[id].piece].role;
        for joint in &design.joints {
            self.touching.insert(ordered(joint.a, joint.b));
            if !matches!(joint.kind, JointKind::Slides | JointKind::Rests) {
                continue;
            }
            for (loose, seat) in [(joint.a, joint.b), (joint.b, joint.a)] {
                let is_seat =
                    matches!(role(seat), Role::GuideStrip | Role::GuideChannel | Role::Ledge);
                if !is_seat || design.placed[loose].loose.is_none() {
                    continue;
                }
                let glued = design.joints.iter().filter(|j| j.kind.is_glued());
                let hosts = glued.filter_map(|j| match (j.a == seat, j.b == seat) {
                    (true, _) => Some(j.b),
                    (_, true) => Some(j.a),
                    _ => None,
                });
                self.with_play.extend(hosts.map(|host| ordered(loose, host)));
                if role(seat) == Role::Ledge {
                    let is_wall = |id: &usize| {
                        matches!(role(*id), Role::Wall | Role::Leaf)
                            && design.placed[*id].loose.is_none()
                    };
                    let walls = (0..design.placed.len()).filter(is_wall);
                    self.with_play.extend(walls.map(|wall| ordered(loose, wall)));
                }
            }
        }
    }

    /// What is taken out as one is one. What rests on or is clamped to one part of it has its own play to the
    /// others: a sock on its ring, to the shelf around the ring.
    fn take_removables(&mut self, design: &Design, world: &World) {
        let whole: Vec<Vec<ThingId>> = design
            .removables
            .iter()
            .filter(|r| r.kind != RemovableKind::Sump)
            .map(|r| [world.part(r, design), world.undone(r, design)].concat())
            .collect();
        for one in &whole {
            self.touching.extend(all_pairs(one, one));
        }
        for joint in &design.joints {
            for one in whole.iter().filter(|one| one.contains(&joint.a)) {
                for other in whole.iter().filter(|other| other.contains(&joint.b)) {
                    self.with_play.extend(all_pairs(one, other));
                }
            }
        }
    }

    /// A leaf that is not in touches what the leaf touches that is in its place.
    fn take_spares(&mut self, design: &Design, world: &World) {
        let role = |thing: ThingId| match world.things[thing].origin {
            Origin::Placed(id) => Some(design.pieces[design.placed[id].piece].role),
            Origin::Spare(id) => Some(design.pieces[design.spares[id].piece].role),
            Origin::Surrounding(_) => None,
        };
        for removable in &design.removables {
            let Some(stands_there) = removable.instead_of.and_then(|r| design.removables.get(r))
            else {
                continue;
            };
            for spare in world.part(removable, design) {
                let alike = world.part(stands_there, design).into_iter();
                for like in alike.filter(|like| role(*like) == role(spare)) {
                    for pairs in [&mut self.touching, &mut self.with_play] {
                        let others: Vec<ThingId> = pairs
                            .iter()
                            .filter_map(|&(a, b)| match (a == like, b == like) {
                                (true, _) => Some(b),
                                (_, true) => Some(a),
                                _ => None,
                            })
                            .collect();
                        pairs.extend(others.into_iter().map(|other| ordered(spare, other)));
                    }
                }
            }
        }
    }
}

fn kinds(design: &Design, world: &World) -> Vec<Kind> {
    let kind = |thing: ThingId| match world.things[thing].origin {
        Origin::Placed(id) => {
            let role = design.pieces[design.placed[id].piece].role;
            match design.placed[id].loose {
                Some(_) => Kind::Loose { is_equipment: role == Role::Equipment },
                None => Kind::BuiltIn,
            }
        }
        Origin::Spare(_) => Kind::Loose { is_equipment: false },
        Origin::Surrounding(id) => around(design, world, id, thing),
    };
    (0..world.things.len()).map(kind).collect()
}

fn around(design: &Design, world: &World, id: usize, thing: ThingId) -> Kind {
    let Some(surroundings) = &design.surroundings else { return Kind::Around };
    match surroundings.things[id].kind {
        SurroundingKind::Mat => Kind::Under,
        SurroundingKind::Panel if world.things[thing].bounds[1].z <= surroundings.floor_z => {
            Kind::Under
        }
        SurroundingKind::PipeAbove => {
            // `drain[3].above` comes down to the pipe of `drain[3]`.
            let above = &surroundings.things[id].parameter;
            let is_its = |placed: &design::Placed| {
                let is_pipe = design.pieces[placed.piece].role == Role::DrainPipe;
                let entry = placed.parameter.split('.').next();
                is_pipe && above.split('.').next() == entry
            };
            Kind::Above(design.placed.iter().position(is_its))
        }
        _ => Kind::Around,
    }
}

fn ordered(a: ThingId, b: ThingId) -> (ThingId, ThingId) {
    (a.min(b), a.max(b))
}

fn all_pairs(one: &[ThingId], other: &[ThingId]) -> Vec<(ThingId, ThingId)> {
    one.iter().flat_map(|a| other.iter().map(|b| ordered(*a, *b))).collect()
}

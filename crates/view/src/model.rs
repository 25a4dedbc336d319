//! What the window shows: bodies, and all that is told and played of them.

use std::sync::Arc;

use scene::{Body, Scene};
use show::{Group, Show, ThingId};
use study::Trial;

/// A sump as it is shown.
#[derive(Clone, Debug)]
pub struct Model {
    /// Its bodies, labels and water.
    pub scene: Scene,
    /// All that is told and played of it.
    pub show: Show,
    /// What its water does with other leaves and doors; `None` when that cannot be tried.
    pub trial: Option<Arc<Trial>>,
    /// The way out of the whole sump with all that is glued: an index into [`Show::ways`].
    pub whole: Option<usize>,
}

impl Model {
    /// Every body with its place in the list of all.
    pub fn bodies(&self) -> impl Iterator<Item = (ThingId, &Body)> {
        let Scene { bodies, spares, cabinet, .. } = &self.scene;
        let around = cabinet.iter().flat_map(|cabinet| &cabinet.things).map(|thing| &thing.body);
        bodies.iter().chain(spares).chain(around).enumerate()
    }

    /// One body.
    pub fn body(&self, thing: ThingId) -> Option<&Body> {
        self.bodies().nth(thing).map(|(_, body)| body)
    }

    /// Which group a body is in.
    pub fn group(&self, thing: ThingId) -> Group {
        self.show.things.get(thing).map_or(Group::Sump, |thing| thing.group)
    }

    /// Whether a body is glued in, and comes out only with the whole sump.
    pub fn is_glued(&self, thing: ThingId) -> bool {
        let way = self.show.things.get(thing).and_then(|thing| thing.way);
        way.is_some() && way == self.whole
    }

    /// The slot in which a body can stand.
    pub fn slot_of(&self, thing: ThingId) -> Option<usize> {
        let is_of =
            |slot: &show::Slot| slot.leaves.iter().any(|(_, things)| things.contains(&thing));
        self.show.slots.iter().position(is_of)
    }

    /// The door that a body is, or that it is the leaf of.
    pub fn door_of(&self, thing: ThingId) -> Option<usize> {
        let doors = &self.show.doors;
        let parameter = &self.show.things.get(thing)?.parameter;
        let is_door = |door: &show::Door| door.things.contains(&thing);
        let is_leaf = |door: &show::Door| *parameter == format!("leaf.{}", door.leaf);
        doors.iter().position(is_door).or_else(|| doors.iter().position(is_leaf))
    }

    /// The units that lengths are told in.
    pub fn system(&self) -> units::System {
        if self.show.is_us { units::System::UsCustomary } else { units::System::Metric }
    }

    /// What is called so.
    pub fn named(&self, name: &str) -> Option<ThingId> {
        self.show.things.iter().position(|thing| thing.name == name)
    }
}

//! What the window shows: bodies, and all that is told and played of them.

use scene::{Body, Scene};
use show::{Group, Show, ThingId};

/// A sump as it is shown.
#[derive(Clone, Debug)]
pub struct Model {
    /// Its bodies, labels and water.
    pub scene: Scene,
    /// All that is told and played of it.
    pub show: Show,
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

    /// What is called so.
    pub fn named(&self, name: &str) -> Option<ThingId> {
        self.show.things.iter().position(|thing| thing.name == name)
    }
}

//! What the window shows: bodies, and all that is told and played of them.

use std::sync::Arc;

use glam::DVec3;
use scene::{Body, Scene};
use show::{Group, Show, ThingId};
use study::Trial;

use crate::bent::Bent;
use crate::shape::Shape;

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
    /// How panels bend under water, where that is known.
    pub bent: Vec<Bent>,
    /// Least and greatest corner of every body in its place, mm.
    pub bounds: Vec<Option<[DVec3; 2]>>,
    /// Every body as the graphics processor takes it.
    pub shapes: Vec<Arc<Shape>>,
}

impl Model {
    /// Of what is drawn and what is told of it. Bodies that are as they were `before` keep their very shapes.
    pub fn new(scene: Scene, show: Show, before: &[Arc<Shape>]) -> Self {
        let mut model = Self {
            scene,
            show,
            trial: None,
            whole: None,
            bent: Vec::new(),
            bounds: Vec::new(),
            shapes: Vec::new(),
        };
        model.bounds = model.bodies().map(|(_, body)| body.bounds()).collect();
        let shape = |(_, body): (ThingId, &Body)| {
            let shape = Shape::of(body);
            let known = before.iter().find(|known| ***known == shape);
            known.cloned().unwrap_or_else(|| Arc::new(shape))
        };
        model.shapes = model.bodies().map(shape).collect();
        model
    }

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

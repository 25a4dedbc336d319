//! Where on its way out each loose part is drawn.

use std::collections::BTreeSet;

use design::{Design, PlacedId, Removable, RemovableKind};
use fit::{Report, Rigid, Step};
use glam::DVec3;

use super::free::{Standing, share_room};
use crate::scene::{Body, Scene};

/// Places on a way are taken so near to each other, mm and rad: sheet is thicker than that.
const STEP_MM: f64 = 2.5;
const STEP_RAD: f64 = 0.05;
/// Between the rim and a leaf that has come free of it, mm.
const CLEAR_MM: f64 = 15.0;
/// A part that would pass through another one is raised on in such steps, mm, and so often at most.
const RAISED_MM: f64 = 10.0;
const MOST_RAISED: u32 = 60;

impl Scene {
    /// The scene with every loose part lifted as it can be: straight up as far as the design says where nothing that is
    /// built in is in its way, else on its way out, a leaf until it has come free of the rim. Where a part would pass
    /// through another one it is raised farther. What has no way stays in its place.
    ///
    /// `self` is [`Scene::assembled`] of the same design.
    #[must_use]
    pub fn on_ways(mut self, design: &Design, report: &Report) -> Self {
        let lifts = design.placed.iter().map(|p| p.loose.map(|loose| loose.lift_mm)).collect();
        for body in self.bodies.iter_mut().filter(|body| body.way.is_some()) {
            body.way = Some(vec![Rigid::HOME]);
        }
        let order: Vec<(&Removable, &Step)> = last_out_first(design, report).collect();
        let waiting = order.iter().flat_map(|(removable, _)| moving(removable)).collect();
        let mut lifting = Lifting { scene: &mut self, lifts, waiting };
        for (removable, step) in order {
            lifting.lift(removable, step);
        }
        self
    }
}

/// What comes out with its way, the last one first: what went before it is drawn above it or beside it.
fn last_out_first<'a>(
    design: &'a Design,
    report: &'a Report,
) -> impl Iterator<Item = (&'a Removable, &'a Step)> {
    let order: Vec<usize> = report.emptying.iter().map(|step| step.removable).collect();
    let others = report.ways.iter().map(|way| way.removable).filter(|id| !order.contains(id));
    let others: Vec<usize> = others.collect();
    others.into_iter().chain(order.into_iter().rev()).filter_map(|id| {
        let removable = design.removables.get(id)?;
        let way = report.ways.iter().find(|way| way.removable == id)?;
        let is_drawn = removable.kind != RemovableKind::Sump && !removable.parts.is_empty();
        Some((removable, way.steps.last()?)).filter(|_| is_drawn)
    })
}

/// What is drawn together: a part, and what is undone by hand before.
fn moving(removable: &Removable) -> impl Iterator<Item = PlacedId> {
    removable.parts.iter().chain(&removable.undone).copied()
}

struct Lifting<'a> {
    scene: &'a mut Scene,
    /// How far the design lifts every part, mm.
    lifts: Vec<Option<f64>>,
    /// Parts that are to be lifted yet.
    waiting: BTreeSet<PlacedId>,
}

impl Lifting<'_> {
    fn lift(&mut self, removable: &Removable, step: &Step) {
        // A door goes with its leaf, if that lifts out as well.
        let parts: Vec<PlacedId> = moving(removable)
            .filter(|id| *id < self.scene.bodies.len() && self.waiting.remove(id))
            .collect();
        let wanted = parts.iter().filter_map(|id| *self.lifts.get(*id)?).fold(0.0, f64::max);
        let is_built_in = |body: &Body| body.lifted_to().is_none();
        let built_in = self.others(&parts, is_built_in);
        let body: Vec<PlacedId> =
            parts.iter().copied().filter(|id| removable.parts.contains(id)).collect();
        let straight = self.straight(&body, wanted, &built_in);
        let way = straight.unwrap_or_else(|| self.real(removable, step, &parts, wanted));

        let others = self.others(&parts, |_| true);
        let is_free = |at: &Rigid| self.is_free(&parts, at, &others);
        let way = if way.last().is_some_and(is_free) {
            way
        } else {
            raised(&way, is_free).unwrap_or(way)
        };
        for id in parts {
            self.scene.bodies[id].way = Some(way.clone());
        }
    }

    /// Straight up, if nothing that is built in is in the way.
    fn straight(
        &self,
        parts: &[PlacedId],
        lift_mm: f64,
        built_in: &[Standing],
    ) -> Option<Vec<Rigid>> {
        let bodies = parts.iter().map(|id| self.scene.bodies[*id].clone());
        let bodies: Vec<Standing> = bodies.filter_map(Standing::of).collect();
        let may_meet = |other: &&Standing| bodies.iter().any(|body| body.is_under(other, lift_mm));
        // What it stands in or on may touch it.
        let touches = |other: &&Standing| bodies.iter().any(|body| share_room(body, other));
        let in_the_way: Vec<&Standing> =
            built_in.iter().filter(may_meet).filter(|other| !touches(other)).collect();
        let end = Rigid::HOME.moved(DVec3::Z * lift_mm);
        if in_the_way.is_empty() {
            return Some(vec![Rigid::HOME, end]);
        }
        let up = (1..).map(|k| STEP_MM * f64::from(k)).take_while(|mm| *mm < lift_mm);
        let mut places = up.map(|mm| Rigid::HOME.moved(DVec3::Z * mm)).chain([end]);
        let is_free = places.all(|at| self.is_free(parts, &at, in_the_way.iter().copied()));
        is_free.then(|| vec![Rigid::HOME, end])
    }

    /// The way out as far as it is drawn.
    fn real(
        &self,
        removable: &Removable,
        step: &Step,
        parts: &[PlacedId],
        lift_mm: f64,
    ) -> Vec<Rigid> {
        let triangles = parts.iter().flat_map(|id| &self.scene.bodies[*id].triangles);
        let corners: Vec<DVec3> = triangles.flat_map(|t| t.corners).collect();
        let underside =
            |at: &Rigid| corners.iter().map(|p| at.apply(*p).z).fold(f64::INFINITY, f64::min);
        let wanted_z = if removable.kind == RemovableKind::Leaf {
            self.scene.outside.z + CLEAR_MM
        } else {
            underside(&Rigid::HOME) + lift_mm
        };
        up_to(places(step), wanted_z, underside)
    }

    /// Whether these parts pass through none of the others where they are displaced to.
    fn is_free<'s>(
        &self,
        parts: &[PlacedId],
        at: &Rigid,
        others: impl IntoIterator<Item = &'s Standing>,
    ) -> bool {
        let moved = parts.iter().map(|id| self.scene.bodies[*id].clone().moved(at));
        let moved: Vec<Standing> = moved.filter_map(Standing::of).collect();
        !others.into_iter().any(|other| moved.iter().any(|part| share_room(part, other)))
    }

    /// Everything else of these that is drawn already: what is built in, what stays, and what was lifted.
    fn others(&self, parts: &[PlacedId], wanted: impl Fn(&Body) -> bool) -> Vec<Standing> {
        let bodies = self.scene.bodies.iter().enumerate();
        let bodies = bodies.filter(|(id, _)| !parts.contains(id) && !self.waiting.contains(id));
        let there = bodies.filter(|(_, body)| wanted(body)).map(|(_, body)| {
            let body = body.clone();
            match body.lifted_to() {
                Some(to) => body.moved(&to),
                None => body,
            }
        });
        there.filter_map(Standing::of).collect()
    }
}

/// Places along the moves of a step, from its own place on.
fn places(step: &Step) -> Vec<Rigid> {
    let mut places = vec![Rigid::HOME];
    for part in &step.moves {
        let motion = part.motion();
        let steps = (motion.distance() / STEP_MM).max(motion.angle() / STEP_RAD).ceil().max(1.0);
        let shares = (1..).map(|k| f64::from(k) / steps).take_while(|share| *share <= 1.0);
        places.extend(shares.map(|share| motion.at(share)));
    }
    places
}

/// A way up to the first place where the part is as high as wanted, or highest: what comes after it leads out of a
/// cabinet, which is not drawn.
fn up_to(mut way: Vec<Rigid>, wanted_z: f64, underside: impl Fn(&Rigid) -> f64) -> Vec<Rigid> {
    /// Less is rounding.
    const HIGHER_MM: f64 = 1e-6;
    let mut highest = (f64::NEG_INFINITY, 0);
    for (i, at) in way.iter().enumerate() {
        let z = underside(at);
        if z > highest.0 + HIGHER_MM {
            highest = (z, i);
        }
        if z >= wanted_z {
            break;
        }
    }
    way.truncate(highest.1 + 1);
    way
}

/// The whole way, and straight on until the part is free.
fn raised(way: &[Rigid], is_free: impl Fn(&Rigid) -> bool) -> Option<Vec<Rigid>> {
    let highest = way.last()?;
    let mut places =
        (1..=MOST_RAISED).map(|k| highest.moved(DVec3::Z * (RAISED_MM * f64::from(k))));
    let free = places.find(is_free)?;
    Some([way, &[free]].concat())
}

//! What is picked, and what is measured.

use std::sync::Arc;

use fit::Rigid;
use glam::DVec2;
use scene::Camera;
use show::ThingId;

use super::State;
use crate::dimension::{Dimension, Spot};
use crate::model::Model;
use crate::pick::{Hit, Ray, taken};

/// Clicks nearer to each other than this are at the same place, px; our judgement.
const SAME_PLACE_PX: f64 = 6.0;

/// Picking to measure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measuring {
    /// Whether clicks measure.
    pub is_on: bool,
    /// What was picked: two places at most.
    pub spots: Vec<Spot>,
    /// Where the last click was, px, and which of the faces there it took.
    last: Option<(DVec2, usize)>,
}

impl Measuring {
    /// Forgets what was picked.
    pub fn clear(&mut self) {
        self.spots.clear();
        self.last = None;
    }
}

impl State {
    /// Picks what lies under a place in the picture, and on a click again there what lies behind it.
    pub fn click(&mut self, model: &Model, camera: &Camera, place: DVec2) -> Option<Hit> {
        let is_again = self.last_click.is_some_and(|last| last.distance(place) < SAME_PLACE_PX);
        let before = self.picked.filter(|_| is_again);
        self.last_click = Some(place);
        let places = self.places(model);
        let hits = self.ray(camera, place).hits(self.drawn(model, &places), self.kept(model));
        let hit = taken(&hits, before).copied();
        self.picked = hit.map(|hit| hit.thing);
        hit
    }

    /// A click, which picks, or the second of two quick ones, which picks nothing else: the way out of what the first
    /// picked is given. What is glued in stays: nobody means the whole sump by a click on one of its walls, but what is seen
    /// through it, where that lifts out.
    pub fn click_or_second(
        &mut self,
        model: &Model,
        camera: &Camera,
        place: DVec2,
        is_second: bool,
    ) -> Option<usize> {
        if !is_second {
            self.click(model, camera, place);
            return None;
        }
        let lifts = |thing: &ThingId| !model.is_glued(*thing);
        let picked = self.picked.filter(lifts).or_else(|| {
            let places = self.places(model);
            let hits = self.ray(camera, place).hits(self.drawn(model, &places), self.kept(model));
            let is_seen_through = |thing: &ThingId| {
                !lifts(thing) && model.body(*thing).is_some_and(|body| body.look.is_clear)
            };
            hits.into_iter().map(|hit| hit.thing).find(|thing| !is_seen_through(thing))
        });
        let picked = picked.filter(lifts)?;
        let way = model.show.things.get(picked)?.way?;
        self.picked = Some(picked);
        Some(way)
    }

    /// Picks a place to measure from or to; on a click again at the same place the face behind the last takes its place.
    pub fn click_to_measure(&mut self, model: &Model, camera: &Camera, place: DVec2) {
        let places = self.places(model);
        let hits = self.ray(camera, place).faces(self.drawn(model, &places), self.kept(model));
        if hits.is_empty() {
            return;
        }
        let again = self.measuring.last.filter(|(last, _)| last.distance(place) < SAME_PLACE_PX);
        let which = again.map_or(0, |(_, which)| (which + 1) % hits.len());
        let spots = &mut self.measuring.spots;
        if again.is_some() {
            spots.pop();
        } else if spots.len() > 1 {
            spots.clear();
        }
        self.measuring.last = Some((place, which));
        let Some(hit) = hits.get(which) else { return };
        let Some(body) = model.body(hit.thing) else { return };
        let home = places.get(hit.thing).copied().flatten().unwrap_or(Rigid::HOME);
        self.measuring.spots.push(Spot::of(hit, body, home, camera, place));
    }

    /// What is measured, with things where they are now; `None` without two places on things that are drawn.
    pub fn dimension(&self, places: &[Option<Rigid>]) -> Option<Dimension> {
        let [a, b] = &self.measuring.spots[..] else { return None };
        let place = |spot: &Spot| places.get(spot.thing).copied().flatten();
        Some(Dimension::between((a, place(a)?), (b, place(b)?)))
    }

    /// Picks the part after the one that is picked, or the one before, of all that are drawn.
    pub fn pick_next(&mut self, model: &Model, is_backwards: bool) {
        let places = self.places(model);
        let drawn: Vec<ThingId> = (0..places.len()).filter(|k| places[*k].is_some()).collect();
        let at = self.picked.and_then(|picked| drawn.iter().position(|thing| *thing == picked));
        let count = drawn.len();
        if count == 0 {
            return;
        }
        let next = match (at, is_backwards) {
            (None, false) => 0,
            (None, true) => count - 1,
            (Some(at), false) => (at + 1) % count,
            (Some(at), true) => (at + count - 1) % count,
        };
        self.picked = drawn.get(next).copied();
        self.last_click = None;
    }

    /// Keeps what is measured in another model as long as the shapes that it is measured on are the same; a measure of what
    /// has changed would be one of nothing.
    pub(super) fn carry_measure_over(&mut self, before: Option<&Model>, model: &Model) {
        let same = |thing: ThingId| {
            let before = before?;
            let shape = before.shapes.get(thing)?;
            let is_it = |other: &ThingId| {
                model.shapes.get(*other).is_some_and(|other| Arc::ptr_eq(shape, other))
            };
            let named = || model.named(&before.show.things.get(thing)?.name);
            Some(thing).filter(is_it).or_else(|| named().filter(is_it))
        };
        let things: Option<Vec<ThingId>> =
            self.measuring.spots.iter().map(|spot| same(spot.thing)).collect();
        match things {
            Some(things) => {
                for (spot, thing) in self.measuring.spots.iter_mut().zip(things) {
                    spot.thing = thing;
                }
            }
            None => self.measuring.clear(),
        }
    }

    fn ray(&self, camera: &Camera, place: DVec2) -> Ray {
        Ray { start: camera.ray_start(place), along: camera.ray(place) }
    }

    /// Everything that is drawn, with its place.
    fn drawn<'a>(
        &self,
        model: &'a Model,
        places: &'a [Option<Rigid>],
    ) -> impl Iterator<Item = (ThingId, &'a scene::Body, Rigid)> + use<'a> {
        model
            .bodies()
            .filter_map(|(thing, body)| Some((thing, body, places.get(thing).copied().flatten()?)))
    }

    /// What is not cut away.
    fn kept(&self, model: &Model) -> impl Fn(glam::DVec3) -> bool + use<> {
        let plane = self.plane(model);
        move |at| plane.keeps(at)
    }
}

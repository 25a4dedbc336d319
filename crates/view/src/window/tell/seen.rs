//! Where on the screen a body can be pointed at.

use std::sync::Arc;

use fit::Rigid;
use glam::{DVec2, DVec3};
use scene::{Body, Camera, Frame};
use serde_json::{Value, json};

use crate::cut::Plane;
use crate::model::Model;
use crate::orbit::Orbit;
use crate::pick::Ray;
use crate::state::State;

/// So many triangles of a body are tried, the largest first (our judgement).
const TRIES: usize = 24;

/// A place in the picture at which a body can be picked, px, and how many others are before it there: so many clicks
/// later it is taken.
type Spot = (DVec2, usize);

/// For every body where it is best picked; kept while nothing moves.
#[derive(Debug)]
pub(super) struct Seen {
    model: Arc<Model>,
    orbit: Orbit,
    frame_px: [DVec2; 2],
    places: Vec<Option<Rigid>>,
    plane: Plane,
    spots: Vec<Option<Spot>>,
}

impl Seen {
    /// The same as before when nothing moved.
    pub(super) fn of(
        before: Option<Self>,
        model: &Arc<Model>,
        state: &State,
        frame: Frame,
    ) -> Self {
        let (orbit, frame_px) = (state.orbit, [frame.min, frame.max]);
        let (places, plane) = (state.places(model), state.plane(model));
        let is_same = |seen: &Self| {
            Arc::ptr_eq(&seen.model, model)
                && seen.orbit == orbit
                && seen.frame_px == frame_px
                && seen.places == places
                && seen.plane == plane
        };
        if let Some(seen) = before.filter(is_same) {
            return seen;
        }
        let camera = orbit.camera(frame);
        let placed: Vec<Placed<'_>> = model
            .bodies()
            .filter_map(|(thing, body)| Placed::of(thing, body, places.get(thing).copied()??))
            .collect();
        let mut spots = vec![None; model.show.things.len()];
        for one in &placed {
            if let Some(spot) = spots.get_mut(one.thing) {
                *spot = one.spot(&placed, plane, &camera, frame);
            }
        }
        Self { model: model.clone(), orbit, frame_px, places, plane, spots }
    }

    /// In the order of all bodies; `corner` is that of the picture in the window, px.
    pub(super) fn told(&self, model: &Model, state: &State, corner: DVec2) -> Value {
        let spots = model.show.things.iter().zip(self.places.iter().zip(&self.spots));
        let told = spots.enumerate().map(|(k, (thing, (place, spot)))| {
            json!({
                "name": thing.name,
                "what": thing.what,
                "is_shown": place.is_some(),
                "is_moved": place.is_some_and(|place| place != Rigid::HOME),
                "is_picked": state.picked == Some(k),
                "has_way": thing.way.is_some(),
                "at": spot.map(|(spot, _)| (corner + spot).to_array()),
                "behind": spot.map(|(_, before)| before),
            })
        });
        told.collect()
    }
}

/// A body where it is now.
struct Placed<'a> {
    thing: usize,
    body: &'a Body,
    place: Rigid,
    /// Least and greatest corner.
    around: [DVec3; 2],
}

impl<'a> Placed<'a> {
    fn of(thing: usize, body: &'a Body, place: Rigid) -> Option<Self> {
        let [lo, hi] = body.bounds()?;
        let corner = |k: usize| {
            let pick = |bit: usize, lo: f64, hi: f64| if k & bit == 0 { lo } else { hi };
            place.apply(DVec3::new(pick(1, lo.x, hi.x), pick(2, lo.y, hi.y), pick(4, lo.z, hi.z)))
        };
        let around = (1..8).map(corner).fold([corner(0); 2], |[lo, hi], p| [lo.min(p), hi.max(p)]);
        Some(Self { thing, body, place, around })
    }

    /// Where the fewest others are before it.
    fn spot(&self, all: &[Self], plane: Plane, camera: &Camera, frame: Frame) -> Option<Spot> {
        let area = |[a, b, c]: [DVec3; 3]| (b - a).cross(c - a).length();
        let mut triangles: Vec<[DVec3; 3]> =
            self.body.triangles.iter().map(|triangle| triangle.corners).collect();
        triangles.sort_by(|a, b| area(*b).total_cmp(&area(*a)));
        let middles =
            triangles.iter().take(TRIES).map(|[a, b, c]| self.place.apply((a + b + c) / 3.0));
        let spots = middles.filter(|middle| plane.keeps(*middle)).filter_map(|middle| {
            let spot = camera.project(middle).round();
            let is_inside = frame.min.cmple(spot).all() && spot.cmplt(frame.max).all();
            let ray = Ray { start: camera.ray_start(spot), along: camera.ray(spot) };
            let met = all.iter().filter(|one| is_inside && one.is_near(ray));
            let hits =
                ray.hits(met.map(|one| (one.thing, one.body, one.place)), |at| plane.keeps(at));
            let before = hits.iter().position(|hit| hit.thing == self.thing)?;
            Some((spot, before))
        });
        spots.min_by_key(|(_, before)| *before)
    }

    /// Whether a line of sight passes through the box around it.
    fn is_near(&self, ray: Ray) -> bool {
        let [lo, hi] = self.around.map(|corner| (corner - ray.start) / ray.along);
        let (enters, leaves) = (lo.min(hi).max_element(), lo.max(hi).min_element());
        // A line along a face of the box gives no number; then the box says nothing.
        enters.is_nan() || leaves.is_nan() || enters <= leaves
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::orbit::Side;
    use crate::sample::square;
    use glam::{dvec2, dvec3};
    use scene::Lens;

    const FRAME: Frame = Frame { min: dvec2(0.0, 0.0), max: dvec2(400.0, 400.0) };

    /// How many are before each of two squares, the second behind the first, seen from the front.
    fn before(plane: Plane, shift: DVec3) -> [Option<usize>; 2] {
        let bodies = [square(DVec3::ZERO, 20.0), square(dvec3(0.0, 50.0, 0.0), 15.0)];
        let places = [Rigid::HOME.moved(shift), Rigid::HOME];
        let pairs = bodies.iter().zip(places).enumerate();
        let placed: Vec<_> =
            pairs.filter_map(|(k, (body, place))| Placed::of(k, body, place)).collect();
        let points = [dvec3(-40.0, 0.0, -40.0), dvec3(40.0, 50.0, 40.0)];
        let orbit = Orbit::around(Side::Front.direction(), Lens::Perspective, &points, FRAME);
        let camera = orbit.camera(FRAME);
        [0, 1].map(|k: usize| {
            let (spot, before) = placed[k].spot(&placed, plane, &camera, FRAME)?;
            assert!(spot.cmplt(FRAME.max).all() && FRAME.min.cmple(spot).all(), "{spot}");
            Some(before)
        })
    }

    #[test]
    fn what_is_behind_is_picked_a_click_later() {
        assert_eq!(before(Plane::NOWHERE, DVec3::ZERO), [Some(0), Some(1)]);
    }

    #[test]
    fn it_is_picked_at_once_when_what_was_before_it_is_moved_or_cut_away() {
        assert_eq!(before(Plane::NOWHERE, dvec3(60.0, 0.0, 0.0))[1], Some(0));
        let behind = Plane { inwards: DVec3::Y, least: 20.0 };
        assert_eq!(before(behind, DVec3::ZERO), [None, Some(0)]);
    }
}

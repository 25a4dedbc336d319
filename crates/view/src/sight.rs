//! What can be seen of a model, so that words beside it are about something that shows.

use fit::Rigid;
use glam::DVec3;
use scene::{Body, Camera};

use crate::cut::Plane;
use crate::model::Model;
use crate::pick::Ray;

/// A point counts as seen when nothing opaque is before it by more than this, mm; our judgement.
const COVER_MM: f64 = 2.0;
/// So many points of a body are tried, at most: enough to find what peeps out, few enough for every frame (our judgement).
const TRIES: usize = 12;

/// What hides other things now.
#[derive(Debug)]
pub struct Sight<'a> {
    camera: &'a Camera,
    plane: Plane,
    opaque: Vec<Opaque<'a>>,
}

#[derive(Debug)]
struct Opaque<'a> {
    body: &'a Body,
    place: Rigid,
    bounds: [DVec3; 2],
}

impl<'a> Sight<'a> {
    /// From where one looks, with every body where it is now; of what is cut away nothing hides.
    pub fn new(
        model: &'a Model,
        places: &[Option<Rigid>],
        camera: &'a Camera,
        plane: Plane,
    ) -> Self {
        let opaque = model.bodies().filter(|(_, body)| !body.look.is_clear);
        let opaque = opaque.filter_map(|(thing, body)| {
            let (place, bounds) = (places.get(thing).copied()??, (*model.bounds.get(thing)?)?);
            Some(Opaque { body, place, bounds })
        });
        Self { camera, plane, opaque: opaque.collect() }
    }

    /// Whether nothing opaque is before a point.
    pub fn sees(&self, point: DVec3) -> bool {
        let start = self.camera.ray_start(self.camera.project(point));
        let way = point - start;
        let length = way.length() - COVER_MM;
        if length <= 0.0 {
            return true;
        }
        let ray = Ray { start, along: way.normalize() };
        !self.opaque.iter().any(|opaque| {
            let home = ray.home_of(&opaque.place);
            home.meets_box(opaque.bounds, length)
                && opaque.body.triangles.iter().any(|triangle| {
                    home.meets(triangle).is_some_and(|distance| {
                        distance < length && self.plane.keeps(start + ray.along * distance)
                    })
                })
        })
    }

    /// A point of a body that can be seen: the wanted one, or the nearest to it of some; `None` when none can. Points are
    /// those of the body in its home.
    pub fn point_of(&self, body: &Body, place: Rigid, wanted: DVec3) -> Option<DVec3> {
        let is_shown = |point: &DVec3| self.plane.keeps(*point) && self.sees(*point);
        let first = place.apply(wanted);
        if is_shown(&first) {
            return Some(first);
        }
        let mut points = points_of(body);
        points.sort_by(|a, b| a.distance_squared(wanted).total_cmp(&b.distance_squared(wanted)));
        points.into_iter().map(|point| place.apply(point)).find(is_shown)
    }
}

/// Points all over a body: middles of its triangles and of its edges.
fn points_of(body: &Body) -> Vec<DVec3> {
    let some = |count: usize| count.div_ceil(TRIES / 2).max(1);
    let step = some(body.triangles.len());
    let faces = body.triangles.iter().step_by(step).map(|t| t.corners.iter().sum::<DVec3>() / 3.0);
    let pieces = body.edges.iter().map(|line| line.len().saturating_sub(1)).sum();
    let edges = body.edges.iter().flat_map(|line| line.windows(2)).step_by(some(pieces));
    faces.chain(edges.map(|pair| 0.5 * (pair[0] + pair[1]))).collect()
}

//! Which points can be seen, so that labels are about something that shows.

use glam::{DVec3, dvec3};

use crate::camera::{Camera, Frame};
use crate::scene::{Body, Label, Level, Scene};

/// A point counts as seen when nothing opaque is before it by more than this, mm.
const COVER_MM: f64 = 2.0;
/// Most points of a body that are tried.
const TRIES: usize = 48;

/// What hides other things in a picture.
#[derive(Debug)]
pub(crate) struct Seen<'a> {
    camera: &'a Camera,
    opaque: Vec<([DVec3; 2], &'a Body)>,
}

impl<'a> Seen<'a> {
    pub(crate) fn new(scene: &'a Scene, camera: &'a Camera) -> Self {
        let opaque = scene.bodies.iter().filter(|b| !b.look.is_clear);
        Self { camera, opaque: opaque.filter_map(|b| Some((b.bounds()?, b))).collect() }
    }

    /// What one body hides, whatever its look; `None` when it has no surface.
    pub(crate) fn behind(body: &'a Body, camera: &'a Camera) -> Option<Self> {
        Some(Self { camera, opaque: vec![(body.bounds()?, body)] })
    }

    /// Whether nothing opaque is before a point.
    pub(crate) fn sees(&self, point: DVec3) -> bool {
        let start = self.camera.ray_start(self.camera.project(point));
        let way = point - start;
        let length = way.length();
        if length <= COVER_MM {
            return true;
        }
        let end = 1.0 - COVER_MM / length;
        !self.opaque.iter().any(|(bounds, body)| {
            meets_box(start, way, end, *bounds)
                && body.triangles.iter().any(|t| meets_triangle(start, way, end, t.corners))
        })
    }

    /// The label's anchor, or the nearest other point of what it names that can be seen; `None` when
    /// nothing of it can. A point of a chamber keeps clear of `things` too, frames in the picture, as
    /// long as there is a choice: it would seem to be about one of them.
    pub(crate) fn anchor(&self, label: &Label, scene: &Scene, things: &[Frame]) -> Option<DVec3> {
        let mut points = vec![label.anchor];
        let body = label.body.and_then(|i| scene.bodies.get(i));
        let level = scene.levels.iter().find(|l| l.chamber == label.text);
        match (body, level) {
            (Some(body), _) => points.extend(points_of_body(body)),
            (None, Some(level)) => points.extend(points_of_surface(level, label.anchor.y)),
            (None, None) => {}
        }
        points.sort_by(|a, b| a.distance(label.anchor).total_cmp(&b.distance(label.anchor)));
        let is_clear = |p: DVec3| {
            let place = self.camera.project(p);
            body.is_some() || !things.iter().any(|thing| thing.holds(place))
        };
        let seen = |p: &&DVec3| self.sees(**p);
        let best = points.iter().filter(|p| is_clear(**p)).find(seen);
        best.or_else(|| points.iter().find(seen)).copied()
    }
}

/// Points all over a body: middles of its triangles and of its edges.
fn points_of_body(body: &Body) -> Vec<DVec3> {
    let middles = body.triangles.iter().map(|t| (t.corners[0] + t.corners[1] + t.corners[2]) / 3.0);
    let edges = body.edges.iter().flat_map(|line| line.windows(2)).map(|e| 0.5 * (e[0] + e[1]));
    let all: Vec<DVec3> = middles.chain(edges).collect();
    let step = all.len().div_ceil(TRIES).max(1);
    all.into_iter().step_by(step).collect()
}

/// Points on a chamber's water, those in a row along `y` first.
fn points_of_surface(level: &Level, y: f64) -> Vec<DVec3> {
    let z = level.floor_z + level.height_mm;
    let shares = [0.04, 0.12, 0.25, 0.4, 0.5, 0.6, 0.75, 0.88, 0.96];
    let across = |v: f64| level.min.y + (level.max.y - level.min.y) * v;
    let rows = [y].into_iter().chain([0.15, 0.5, 0.85].map(across));
    let along = |u: f64| level.min.x + (level.max.x - level.min.x) * u;
    rows.flat_map(|y| shares.map(|u| dvec3(along(u), y, z))).collect()
}

/// Whether `start + t · way` with `0 < t < end` meets a box (by slabs).
fn meets_box(start: DVec3, way: DVec3, end: f64, [lo, hi]: [DVec3; 2]) -> bool {
    let (mut from, mut to) = (0.0_f64, end);
    for axis in 0..3 {
        if way[axis].abs() < 1e-12 {
            if start[axis] < lo[axis] || hi[axis] < start[axis] {
                return false;
            }
            continue;
        }
        let t = [lo, hi].map(|p| (p[axis] - start[axis]) / way[axis]);
        from = from.max(t[0].min(t[1]));
        to = to.min(t[0].max(t[1]));
    }
    from <= to
}

/// Whether `start + t · way` with `0 < t < end` meets a triangle (Möller and Trumbore, *J. Graph.
/// Tools* 2 (1997) 21).
pub(crate) fn meets_triangle(start: DVec3, way: DVec3, end: f64, [a, b, c]: [DVec3; 3]) -> bool {
    let (u, v) = (b - a, c - a);
    let p = way.cross(v);
    let determinant = u.dot(p);
    if determinant.abs() < 1e-12 {
        return false;
    }
    let s = start - a;
    let q = s.cross(u);
    let (x, y) = (s.dot(p) / determinant, way.dot(q) / determinant);
    let t = v.dot(q) / determinant;
    x >= 0.0 && y >= 0.0 && x + y <= 1.0 && 0.0 < t && t < end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_triangle_is_met_inside_only() {
        let triangle = [dvec3(0., 0., 5.), dvec3(4., 0., 5.), dvec3(0., 4., 5.)];
        let met =
            |x: f64, y: f64, end| meets_triangle(dvec3(x, y, 0.), DVec3::Z * 10.0, end, triangle);
        assert!(met(1.0, 1.0, 1.0));
        assert!(!met(3.0, 3.0, 1.0));
        assert!(!met(1.0, 1.0, 0.4));
    }

    #[test]
    fn a_box_is_met_from_all_sides() {
        let block = [DVec3::ZERO, dvec3(1., 2., 3.)];
        assert!(meets_box(dvec3(0.5, -5., 1.), DVec3::Y * 10.0, 1.0, block));
        assert!(!meets_box(dvec3(1.5, -5., 1.), DVec3::Y * 10.0, 1.0, block));
        assert!(!meets_box(dvec3(0.5, -5., 1.), DVec3::Y * 10.0, 0.3, block));
    }
}

//! truck's topology over our geometry. This is the one module that speaks both glam and cgmath.
use crate::geometry::{Curve, Stretch, Surface};
use glam::DVec3;
use std::ops::Bound;
use truck_base::cgmath64::{Point3, Vector3, Zero};
use truck_base::tolerance::TOLERANCE;
use truck_geotrait::{BoundedCurve, IncludeCurve, Invertible, ParameterRange, ParametricCurve};

pub(crate) type Vertex = truck_topology::Vertex<Point3>;
pub(crate) type Edge = truck_topology::Edge<Point3, Stretch>;
pub(crate) type Wire = truck_topology::Wire<Point3, Stretch>;
pub(crate) type Face = truck_topology::Face<Point3, Stretch, Surface>;
pub(crate) type Shell = truck_topology::Shell<Point3, Stretch, Surface>;

pub(crate) fn vertex(p: DVec3) -> Vertex {
    Vertex::new(point(p))
}

/// The edge from one vertex to another. Two different vertices are the caller's promise.
pub(crate) fn edge(from: &Vertex, to: &Vertex, curve: Curve) -> Edge {
    let stretch = Stretch { start: glam_of(from.point()), end: glam_of(to.point()), curve };
    Edge::new_unchecked(from, to, stretch)
}

pub(crate) fn glam_of(p: Point3) -> DVec3 {
    DVec3::new(p.x, p.y, p.z)
}

pub(crate) fn vector(v: DVec3) -> Vector3 {
    Vector3::new(v.x, v.y, v.z)
}

pub(crate) fn point(p: DVec3) -> Point3 {
    Point3::new(p.x, p.y, p.z)
}

impl ParametricCurve for Stretch {
    type Point = Point3;
    type Vector = Vector3;

    fn subs(&self, t: f64) -> Point3 {
        point(self.at(t))
    }

    fn der(&self, t: f64) -> Vector3 {
        match self.curve {
            Curve::Line => vector(self.end - self.start),
            Curve::Arc { centre, sweep } => vector(DVec3::Z.cross(self.at(t) - centre) * sweep),
        }
    }

    fn der2(&self, t: f64) -> Vector3 {
        match self.curve {
            Curve::Line => Vector3::zero(),
            Curve::Arc { centre, sweep } => vector((centre - self.at(t)) * sweep * sweep),
        }
    }

    fn parameter_range(&self) -> ParameterRange {
        (Bound::Included(0.0), Bound::Included(1.0))
    }
}

impl BoundedCurve for Stretch {}

impl Invertible for Stretch {
    fn invert(&mut self) {
        *self = self.reversed();
    }
}

impl Invertible for Surface {
    fn invert(&mut self) {
        *self = self.reversed();
    }
}

impl IncludeCurve<Stretch> for Surface {
    /// Both ends and the middle decide: a line or an arc that has three points on one of our
    /// surfaces lies on it.
    fn include(&self, stretch: &Stretch) -> bool {
        [0.0, 0.5, 1.0].into_iter().all(|t| self.distance(stretch.at(t)) <= TOLERANCE)
    }
}

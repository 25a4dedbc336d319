//! The closed shell of a body of revolution.
//!
//! An edge needs two different ends, so every circle is two halves, and so is every round wall.
use crate::geometry::{Curve, Surface};
use crate::topology::{self, Edge, Face, Shell, Vertex, Wire};
use glam::{DVec2, DVec3, dvec3};
use plate::Turned;
use std::f64::consts::PI;

/// Sides of the profile that are this close to upright or level (mm) are so; rounding, no more.
const ROUNDING_MM: f64 = 1e-9;

/// The shell of a body whose profile is sound ([`Turned::check`]).
pub(crate) fn shell_of_turned(turned: &Turned) -> Shell {
    let rings: Vec<Ring> = turned.profile.iter().map(|&corner| Ring::new(corner)).collect();
    let next = rings.iter().cycle().skip(1);
    rings.iter().zip(next).flat_map(|(from, to)| faces(from, to)).collect()
}

/// What a corner of the profile turns into.
struct Ring {
    corner: DVec2,
    /// At angles 0 and π; twice the same on the axis.
    vertices: [Vertex; 2],
    /// Half circles from angle 0 to π and on to 2π; none on the axis.
    halves: Option<[Edge; 2]>,
}

impl Ring {
    fn new(corner: DVec2) -> Self {
        let DVec2 { x: radius, y: height } = corner;
        let east = topology::vertex(dvec3(radius, 0.0, height));
        if on_axis(corner) {
            return Self { corner, vertices: [east.clone(), east], halves: None };
        }
        let west = topology::vertex(dvec3(-radius, 0.0, height));
        let half = Curve::Arc { centre: DVec3::Z * height, sweep: PI };
        let halves = [topology::edge(&east, &west, half), topology::edge(&west, &east, half)];
        Self { corner, vertices: [east, west], halves: Some(halves) }
    }

    /// The whole circle, counter-clockwise seen from above.
    fn circle(&self) -> Option<Wire> {
        self.halves.as_ref().map(|halves| halves.iter().cloned().collect())
    }
}

fn on_axis(corner: DVec2) -> bool {
    corner.x <= 0.0
}

/// What a side of the profile turns into. The material is on its left.
fn faces(from: &Ring, to: &Ring) -> Vec<Face> {
    let along = to.corner - from.corner;
    if on_axis(from.corner) && on_axis(to.corner) {
        Vec::new()
    } else if along.y.abs() <= ROUNDING_MM {
        vec![level_face(from, to, along.x < 0.0)]
    } else {
        let outward = along.y > 0.0;
        let centre = DVec3::Z * from.corner.y;
        let radius = from.corner.x;
        let surface = if along.x.abs() <= ROUNDING_MM {
            Surface::Cylinder { centre, radius, outward }
        } else {
            Surface::Cone { centre, radius, slope: along.x / along.y, outward }
        };
        walls(from, to, surface)
    }
}

/// A ring or, from the axis, a disc.
fn level_face(from: &Ring, to: &Ring, faces_up: bool) -> Face {
    let (outer, inner) = if faces_up { (from, to) } else { (to, from) };
    let turned = |wire: Wire, back: bool| if back { wire.inverse() } else { wire };
    let outer = outer.circle().map(|wire| turned(wire, !faces_up));
    let inner = inner.circle().map(|wire| turned(wire, faces_up));
    let origin = DVec3::Z * from.corner.y;
    let (u, v) = if faces_up { (DVec3::X, DVec3::Y) } else { (DVec3::Y, DVec3::X) };
    Face::new_unchecked(outer.into_iter().chain(inner).collect(), Surface::Plane { origin, u, v })
}

/// Two halves of a cylinder or cone. Each is bounded by its half circle on the side's first corner,
/// the side at the end of the half, the other half circle back, the side at the start back.
fn walls(from: &Ring, to: &Ring, surface: Surface) -> Vec<Face> {
    let seam = |k: usize| topology::edge(&from.vertices[k], &to.vertices[k], Curve::Line);
    let seams = [seam(0), seam(1)];
    let half = |k: usize| {
        let mut wire = Wire::new();
        wire.extend(from.halves.as_ref().map(|halves| halves[k].clone()));
        wire.push_back(seams[1 - k].clone());
        wire.extend(to.halves.as_ref().map(|halves| halves[k].inverse()));
        wire.push_back(seams[k].inverse());
        Face::new_unchecked(vec![wire], surface)
    };
    vec![half(0), half(1)]
}

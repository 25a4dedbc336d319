//! What is shown, as plain data.

use design::SurroundingKind;
use fit::Rigid;
use glam::{DVec2, DVec3};
use units::System;

/// A sump as it is shown. Coordinates are the sump's own (mm): `x` along it, `y` from front to back,
/// `z` up. Everything stands in its place; what can be taken out carries the way that it is lifted on.
#[derive(Clone, Debug)]
pub struct Scene {
    /// What the sump is called.
    pub title: String,
    /// Units that dimensions are written in.
    pub report: System,
    /// Outer size of the box along x, y, z, mm.
    pub outside: DVec3,
    /// Sheet parts, fittings and equipment.
    pub bodies: Vec<Body>,
    /// Water standing in the chambers.
    pub waters: Vec<Water>,
    /// Names of parts and chambers, each once.
    pub labels: Vec<Label>,
    /// Water levels to dimension.
    pub levels: Vec<Level>,
    /// Thin dashed lines from a place to the part lifted out of it, as polylines.
    pub guides: Vec<Vec<DVec3>>,
    /// Where the section cuts: what lies in front of this `y` is taken away.
    pub section_y: f64,
    /// Parts that are not in, each where it would be: leaves to put in instead of others. Drawn only where
    /// one of them is what a picture is about.
    pub spares: Vec<Body>,
    /// The cabinet around the sump. Drawn only where it matters, as on the way out of a part.
    pub cabinet: Option<Cabinet>,
}

/// What stands around the sump.
#[derive(Clone, Debug)]
pub struct Cabinet {
    /// Least and greatest corner of its clear inside, mm.
    pub inside: [DVec3; 2],
    /// Its panels and whatever else is fixed, in the design's order.
    pub things: Vec<CabinetThing>,
}

/// One thing around the sump.
#[derive(Clone, Debug)]
pub struct CabinetThing {
    /// What it is.
    pub kind: SurroundingKind,
    /// Its shape, pale.
    pub body: Body,
}

impl Scene {
    /// Least and greatest corner of all bodies, water and the box, mm.
    pub fn bounds(&self) -> [DVec3; 2] {
        let boxes = self.bodies.iter().filter_map(Body::bounds);
        let boxes = boxes.chain(self.waters.iter().map(|w| [w.min, w.max]));
        boxes.fold([DVec3::ZERO, self.outside], |[lo, hi], [a, b]| [lo.min(a), hi.max(b)])
    }

    /// Points that span everything that is shown: all corners of bodies, and those of water, mm.
    pub fn points(&self) -> Vec<DVec3> {
        let corners = self.bodies.iter().flat_map(|b| b.triangles.iter().flat_map(|t| t.corners));
        let waters = self.waters.iter().flat_map(|w| [w.min, w.max]);
        corners.chain(waters).collect()
    }
}

/// One solid thing.
#[derive(Clone, Debug)]
pub struct Body {
    /// Its name, unique in the scene.
    pub name: String,
    /// How it looks.
    pub look: Look,
    /// Its closed surface.
    pub triangles: Vec<Triangle>,
    /// Its visible edges, as polylines.
    pub edges: Vec<Vec<DVec3>>,
    /// Lines engraved on its faces.
    pub engraved: Vec<Vec<DVec3>>,
    /// Of what can be taken out: from its place on, where it passes until it is where it is drawn lifted out, near
    /// enough for a line through these places. It stays in its place when that is all there is; `None` for what is
    /// glued in.
    pub way: Option<Vec<Rigid>>,
}

impl Body {
    /// Least and greatest corner, mm; `None` without triangles.
    pub fn bounds(&self) -> Option<[DVec3; 2]> {
        let corners = self.triangles.iter().flat_map(|t| t.corners);
        corners.fold(None, |bounds, p| {
            Some(bounds.map_or([p, p], |[lo, hi]: [DVec3; 2]| [lo.min(p), hi.max(p)]))
        })
    }

    /// Where it is drawn lifted out; `None` when it is not lifted.
    pub(crate) fn lifted_to(&self) -> Option<Rigid> {
        self.way.as_deref().filter(|way| way.len() > 1)?.last().copied()
    }

    /// The same displaced from where it is.
    #[must_use]
    pub(crate) fn moved(mut self, place: &Rigid) -> Self {
        let lines = self.edges.iter_mut().chain(&mut self.engraved);
        lines.flatten().for_each(|p| *p = place.apply(*p));
        for triangle in &mut self.triangles {
            triangle.corners = triangle.corners.map(|p| place.apply(p));
            triangle.normals = triangle.normals.map(|n| place.turn * n);
        }
        self
    }
}

/// A triangle, counter-clockwise seen from outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Triangle {
    /// Corners, mm.
    pub corners: [DVec3; 3],
    /// Outward unit normals at the corners; they differ on a curved face.
    pub normals: [DVec3; 3],
    /// Which kind of face it lies on.
    pub side: Side,
}

/// Kinds of faces that look different on clear sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// A broad face.
    Broad,
    /// The sheet's thickness, where light gathers and clear sheet shows its colour.
    Edge,
    /// Where the section has cut through.
    Cut,
}

/// Colour and clearness of a body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Look {
    /// Red, green, blue, sRGB.
    pub colour: [u8; 3],
    /// Whether one sees through it.
    pub is_clear: bool,
}

/// Water standing in a box.
#[derive(Clone, Debug, PartialEq)]
pub struct Water {
    /// Name of the chamber or the space between leaves.
    pub name: String,
    /// Least corner, mm.
    pub min: DVec3,
    /// Greatest corner, mm.
    pub max: DVec3,
    /// Whether its top is a surface open to the air; else it goes on above, or sheet covers it.
    pub is_open: bool,
}

/// What a label names. In the order in which labels are kept when there are too many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// A chamber.
    Chamber,
    /// A pump, skimmer, heater, probe …
    Equipment,
    /// A leaf of a divider.
    Leaf,
    /// The shelf that holds socks.
    SockHolder,
    /// A door.
    Door,
    /// The rim.
    Rim,
    /// A drain pipe or a sock.
    Insert,
    /// A lid.
    Lid,
    /// A through-wall or a printed fitting.
    Fitting,
    /// A wall or the bottom.
    Wall,
}

/// A name and the point that it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it says.
    pub text: String,
    /// What it names.
    pub topic: Topic,
    /// The point, in place, mm.
    pub anchor: DVec3,
    /// Index of the body that it names, in [`Scene::bodies`]; `None` for a chamber.
    pub body: Option<usize>,
}

/// The level at which the water of a chamber stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// Name of the chamber.
    pub chamber: String,
    /// Least corner of the chamber's clear floor, mm.
    pub min: DVec2,
    /// Greatest corner.
    pub max: DVec2,
    /// Inside of the bottom above the sump's underside, mm.
    pub floor_z: f64,
    /// Height of the surface above the inside of the bottom, mm.
    pub height_mm: f64,
}

//! A solid as plain data: vertices, edges and faces by index, for writers and meshers.
use crate::geometry::{Curve, Stretch, Surface};
use crate::topology::{Shell, glam_of};
use glam::{DVec2, DVec3};

/// Vertices, edges between them, faces between those. Every edge is used by exactly two faces, once
/// in either direction.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brep {
    /// Points in mm.
    pub vertices: Vec<DVec3>,
    /// Edges between two different vertices.
    pub edges: Vec<BrepEdge>,
    /// Faces, each with its normal out of the material.
    pub faces: Vec<BrepFace>,
}

/// One edge.
#[derive(Clone, Debug, PartialEq)]
pub struct BrepEdge {
    /// Indices of the vertices it runs between.
    pub ends: [usize; 2],
    /// What it follows from the first to the second.
    pub curve: Curve,
}

/// One face.
#[derive(Clone, Debug, PartialEq)]
pub struct BrepFace {
    /// The surface it is a part of, normal out of the material.
    pub surface: Surface,
    /// Closed loops, the face on their left seen from outside. The first is the outer one.
    pub bounds: Vec<Bound>,
}

/// A closed loop: indices of edges, each with whether it is followed from its first end to its second.
pub type Bound = Vec<(usize, bool)>;

/// How many faces of each kind there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FaceCounts {
    /// Flat faces.
    pub plane: usize,
    /// Parts of cylinders.
    pub cylinder: usize,
    /// Parts of cones.
    pub cone: usize,
}

impl Brep {
    /// How many faces of each kind there are.
    pub fn face_counts(&self) -> FaceCounts {
        let mut counts = FaceCounts::default();
        for face in &self.faces {
            match face.surface {
                Surface::Plane { .. } => counts.plane += 1,
                Surface::Cylinder { .. } => counts.cylinder += 1,
                Surface::Cone { .. } => counts.cone += 1,
            }
        }
        counts
    }

    /// Smallest axis-parallel box, `[least, greatest]` corner, arcs included.
    pub fn bounds(&self) -> [DVec3; 2] {
        let mut lo = self.vertices.iter().copied().fold(DVec3::INFINITY, DVec3::min);
        let mut hi = self.vertices.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max);
        for edge in self.edges.iter().filter(|edge| edge.curve != Curve::Line) {
            let stretch = self.stretch(edge);
            let [least, most] = stretch.shadow().bounds();
            lo = lo.min(least.extend(stretch.start.z));
            hi = hi.max(most.extend(stretch.start.z));
        }
        [lo, hi]
    }

    /// Volume enclosed by the exact faces, in mm³; negative for a surface inside out.
    ///
    /// By the divergence theorem, `V = ∮ z n_z dA`: upright walls give nothing, a level face gives
    /// its height times its area (exact for arcs, by Green's theorem), a cone its own integral.
    pub fn volume_mm3(&self) -> f64 {
        self.faces.iter().map(|face| self.upward_moment(face)).sum()
    }

    /// `∫ z n_z dA` over one face.
    fn upward_moment(&self, face: &BrepFace) -> f64 {
        match face.surface {
            Surface::Plane { origin, u, v } => {
                let rise = u.cross(v).z;
                // A level plane; all other planes of ours stand upright.
                if rise.abs() > 0.5 {
                    origin.z * self.area_from_above(face, origin.truncate())
                } else {
                    0.0
                }
            }
            Surface::Cylinder { .. } => 0.0,
            Surface::Cone { centre, radius, slope, outward } => {
                let [z0, z1] = self.height_range(face);
                let [r0, r1] = [z0, z1].map(|z| radius + slope * (z - centre.z));
                // ∫ z r dz of two linear functions, over the angle, times n_z dA / (r dθ dz) = -slope.
                let integral = (z1 - z0) / 6.0 * (z0 * (2.0 * r0 + r1) + z1 * (r0 + 2.0 * r1));
                let sign = if outward { -1.0 } else { 1.0 };
                sign * slope * self.swept_angle(face) * integral
            }
        }
    }

    /// Area of a level face, counted negative if the face looks down.
    fn area_from_above(&self, face: &BrepFace, origin: DVec2) -> f64 {
        let origin = face
            .bounds
            .first()
            .map_or(origin, |bound| self.bound_stretches(bound)[0].start.truncate());
        let stretches = face.bounds.iter().flat_map(|bound| self.bound_stretches(bound));
        0.5 * stretches.map(|stretch| stretch.shadow().double_area(origin)).sum::<f64>()
    }

    /// Lowest and highest vertex of a face.
    pub(crate) fn height_range(&self, face: &BrepFace) -> [f64; 2] {
        let ends = face.bounds.iter().flatten().flat_map(|&(edge, _)| self.edges[edge].ends);
        ends.map(|v| self.vertices[v].z)
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[lo, hi], z| [lo.min(z), hi.max(z)])
    }

    /// Angle about its axis that a round wall covers.
    pub(crate) fn swept_angle(&self, face: &BrepFace) -> f64 {
        let sweeps = face.bounds.iter().flatten().map(|&(edge, _)| match self.edges[edge].curve {
            Curve::Line => 0.0,
            Curve::Arc { sweep, .. } => sweep.abs(),
        });
        sweeps.fold(0.0, f64::max)
    }

    /// An edge with its end points.
    pub(crate) fn stretch(&self, edge: &BrepEdge) -> Stretch {
        let [start, end] = edge.ends.map(|v| self.vertices[v]);
        Stretch { start, end, curve: edge.curve }
    }

    fn bound_stretches(&self, bound: &Bound) -> Vec<Stretch> {
        let stretch = |&(edge, forward): &(usize, bool)| {
            let along = self.stretch(&self.edges[edge]);
            if forward { along } else { along.reversed() }
        };
        bound.iter().map(stretch).collect()
    }
}

impl From<&Shell> for Brep {
    /// The same solid without truck's shared, locked cells.
    fn from(shell: &Shell) -> Self {
        let compressed = shell.compress();
        let edge = |e: truck_topology::compress::CompressedEdge<Stretch>| BrepEdge {
            ends: [e.vertices.0, e.vertices.1],
            curve: e.curve.curve,
        };
        let face = |f: truck_topology::compress::CompressedFace<Surface>| {
            debug_assert!(
                f.orientation,
                "our faces are made with their normal outwards, never turned round"
            );
            let bound = |wire: Vec<_>| wire.into_iter().map(index_and_direction).collect();
            BrepFace { surface: f.surface, bounds: f.boundaries.into_iter().map(bound).collect() }
        };
        Self {
            vertices: compressed.vertices.into_iter().map(glam_of).collect(),
            edges: compressed.edges.into_iter().map(edge).collect(),
            faces: compressed.faces.into_iter().map(face).collect(),
        }
    }
}

fn index_and_direction(edge: truck_topology::compress::CompressedEdgeIndex) -> (usize, bool) {
    (edge.index, edge.orientation)
}

//! Exact geometry and topology as entities. Points and directions are written once and shared.
use super::data::{Data, Id};
use glam::DVec3;
use solid::{Brep, BrepEdge, BrepFace, Curve, Surface};
use std::collections::BTreeMap;

/// Writes one shape.
pub(super) struct ShapeWriter<'a> {
    data: &'a mut Data,
    points: BTreeMap<[u64; 3], Id>,
    directions: BTreeMap<[u64; 3], Id>,
    /// Unit vectors, by the direction they have.
    vectors: BTreeMap<[u64; 3], Id>,
}

impl<'a> ShapeWriter<'a> {
    pub(super) fn new(data: &'a mut Data) -> Self {
        Self {
            data,
            points: BTreeMap::new(),
            directions: BTreeMap::new(),
            vectors: BTreeMap::new(),
        }
    }

    /// The closed shell of a solid.
    pub(super) fn shell(&mut self, brep: &Brep) -> Id {
        let vertices: Vec<Id> = brep.vertices.iter().map(|&p| self.vertex(p)).collect();
        let edges: Vec<Id> =
            brep.edges.iter().map(|edge| self.edge(brep, edge, &vertices)).collect();
        let faces: Vec<Id> = brep.faces.iter().map(|face| self.face(face, &edges)).collect();
        self.data.entity("CLOSED_SHELL", |a| {
            a.string("").ids(&faces);
        })
    }

    /// A right-handed frame at `origin`.
    pub(super) fn placement(&mut self, origin: DVec3, z: DVec3, x: DVec3) -> Id {
        let (origin, z, x) = (self.point(origin), self.direction(z), self.direction(x));
        self.data.entity("AXIS2_PLACEMENT_3D", |a| {
            a.string("").id(origin).id(z).id(x);
        })
    }

    fn vertex(&mut self, p: DVec3) -> Id {
        let point = self.point(p);
        self.data.entity("VERTEX_POINT", |a| {
            a.string("").id(point);
        })
    }

    fn edge(&mut self, brep: &Brep, edge: &BrepEdge, vertices: &[Id]) -> Id {
        let [start, end] = edge.ends.map(|v| brep.vertices[v]);
        let curve = match edge.curve {
            Curve::Line => self.line(start, end),
            Curve::Arc { centre, sweep } => self.circle(centre, start, sweep),
        };
        let [start, end] = edge.ends.map(|v| vertices[v]);
        self.data.entity("EDGE_CURVE", |a| {
            a.string("").id(start).id(end).id(curve).flag(true);
        })
    }

    fn line(&mut self, start: DVec3, end: DVec3) -> Id {
        let (origin, vector) = (self.point(start), self.unit_vector((end - start).normalize()));
        self.data.entity("LINE", |a| {
            a.string("").id(origin).id(vector);
        })
    }

    /// A circle runs counter-clockwise about its axis: an arc that runs clockwise has its axis downwards.
    fn circle(&mut self, centre: DVec3, start: DVec3, sweep: f64) -> Id {
        let spoke = start - centre;
        let frame = self.placement(centre, DVec3::Z * sweep.signum(), spoke.normalize());
        self.data.entity("CIRCLE", |a| {
            a.string("").id(frame).real(spoke.length());
        })
    }

    fn face(&mut self, face: &BrepFace, edges: &[Id]) -> Id {
        let (surface, same_sense) = self.surface(&face.surface);
        let mut bounds = Vec::with_capacity(face.bounds.len());
        for (k, bound) in face.bounds.iter().enumerate() {
            let steps: Vec<Id> =
                bound.iter().map(|&(edge, forward)| self.oriented(edges[edge], forward)).collect();
            let edge_loop = self.data.entity("EDGE_LOOP", |a| {
                a.string("").ids(&steps);
            });
            bounds.push(self.data.entity(
                if k == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" },
                |a| {
                    a.string("").id(edge_loop).flag(true);
                },
            ));
        }
        self.data.entity("ADVANCED_FACE", |a| {
            a.string("").ids(&bounds).id(surface).flag(same_sense);
        })
    }

    fn oriented(&mut self, edge: Id, forward: bool) -> Id {
        self.data.entity("ORIENTED_EDGE", |a| {
            a.string("").derived().derived().id(edge).flag(forward);
        })
    }

    /// A surface of the format, and whether its normal is the face's: there the normal of a cylinder
    /// or cone always points away from the axis.
    fn surface(&mut self, surface: &Surface) -> (Id, bool) {
        match *surface {
            Surface::Plane { origin, u, v } => {
                let frame = self.placement(origin, u.cross(v), u);
                let plane = self.data.entity("PLANE", |a| {
                    a.string("").id(frame);
                });
                (plane, true)
            }
            Surface::Cylinder { centre, radius, outward } => {
                let frame = self.placement(centre, DVec3::Z, DVec3::X);
                let cylinder = self.data.entity("CYLINDRICAL_SURFACE", |a| {
                    a.string("").id(frame).real(radius);
                });
                (cylinder, outward)
            }
            // The half angle is positive there, so the axis points to where the cone widens.
            Surface::Cone { centre, radius, slope, outward } => {
                let frame = self.placement(centre, DVec3::Z * slope.signum(), DVec3::X);
                let cone = self.data.entity("CONICAL_SURFACE", |a| {
                    a.string("").id(frame).real(radius).real(libm::atan(slope.abs()));
                });
                (cone, outward)
            }
        }
    }

    fn point(&mut self, p: DVec3) -> Id {
        let write = || {
            self.data.entity("CARTESIAN_POINT", |a| {
                a.string("").reals(p.to_array());
            })
        };
        *self.points.entry(key(p)).or_insert_with(write)
    }

    fn direction(&mut self, d: DVec3) -> Id {
        let write = || {
            self.data.entity("DIRECTION", |a| {
                a.string("").reals(d.to_array());
            })
        };
        *self.directions.entry(key(d)).or_insert_with(write)
    }

    fn unit_vector(&mut self, d: DVec3) -> Id {
        let direction = self.direction(d);
        let write = || {
            self.data.entity("VECTOR", |a| {
                a.string("").id(direction).real(1.0);
            })
        };
        *self.vectors.entry(key(d)).or_insert_with(write)
    }
}

/// The bits of the coordinates; adding 0 turns -0 into 0.
fn key(p: DVec3) -> [u64; 3] {
    (p + DVec3::ZERO).to_array().map(f64::to_bits)
}

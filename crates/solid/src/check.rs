//! What every part goes through before it may be written.
use crate::error::Error;
use crate::mesh::Mesh;
use crate::mesher::{self, Meshed};
use crate::solid::Solid;
use crate::topology::point;
use plate::Shape;
use truck_meshalgo::prelude::*;
use truck_topology::shell::ShellCondition;

/// A solid with a mesh of it that agree with each other and with the part's own arithmetic.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// The exact solid.
    pub solid: Solid,
    /// Its mesh.
    pub mesh: Mesh,
}

/// Makes the solid and the mesh of a shape, and refuses them unless
///
/// - the solid's faces close, are oriented alike and hang together (truck), every edge lies on its
///   faces within 1e-6 mm, and they enclose the volume of the shape's own formula ([`Solid`]);
/// - the mesh is closed and oriented (truck-meshalgo's analyser, not the mesher's own word);
/// - the mesh encloses, to rounding, the volume of the solid with chords in place of its arcs. What
///   the chords cut off is known in closed form and is at most the chord error times the area of the
///   round walls, so the volumes of mesh and solid agree within that.
///
/// # Errors
/// Whatever of this does not hold.
pub fn checked(shape: &Shape, chord_error_mm: f64) -> Result<Checked, Error> {
    let solid = Solid::of_shape(shape)?;
    let mesh = solid.checked_mesh(chord_error_mm)?;
    Ok(Checked { solid, mesh })
}

/// Share of the volume by which sums of some hundred thousand terms may differ from the exact value.
const ROUNDING_SHARE: f64 = 1e-9;

impl Solid {
    /// A mesh, proved to be closed and of the right volume; see [`checked`].
    ///
    /// # Errors
    /// As [`Solid::mesh`], or if one of the proofs fails.
    pub fn checked_mesh(&self, chord_error_mm: f64) -> Result<Mesh, Error> {
        let Meshed { mesh, chord_loss_mm3 } = mesher::mesh(self.brep(), chord_error_mm)?;
        let polygons = polygon_mesh(&mesh);
        let condition = polygons.shell_condition();
        if condition != ShellCondition::Closed {
            return Err(Error::OpenMesh { condition });
        }
        let (mesh_mm3, expected_mm3) = (polygons.volume(), self.volume_mm3() - chord_loss_mm3);
        let limit_mm3 = ROUNDING_SHARE * self.volume_mm3();
        let off_mm3 = (mesh_mm3 - expected_mm3).abs();
        if off_mm3.is_nan() || off_mm3 > limit_mm3 {
            return Err(Error::MeshVolume { mesh_mm3, expected_mm3, limit_mm3 });
        }
        Ok(mesh)
    }
}

fn polygon_mesh(mesh: &Mesh) -> PolygonMesh {
    let attributes = StandardAttributes {
        positions: mesh.positions.iter().map(|&p| point(p)).collect(),
        ..Default::default()
    };
    let corner = |i: u32| StandardVertex { pos: i as usize, uv: None, nor: None };
    let triangles = mesh.triangles.iter().map(|t| t.map(corner)).collect();
    PolygonMesh::new(attributes, Faces::from_tri_and_quad_faces(triangles, Vec::new()))
}

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
        prove(&mesh, self.volume_mm3() - chord_loss_mm3)?;
        Ok(mesh)
    }
}

fn prove(mesh: &Mesh, expected_mm3: f64) -> Result<(), Error> {
    let polygons = polygon_mesh(mesh);
    let condition = polygons.shell_condition();
    if condition != ShellCondition::Closed {
        return Err(Error::OpenMesh { condition });
    }
    let mesh_mm3 = polygons.volume();
    let off_mm3 = (mesh_mm3 - expected_mm3).abs();
    let limit_mm3 = ROUNDING_SHARE * expected_mm3;
    if off_mm3.is_nan() || off_mm3 > limit_mm3 {
        return Err(Error::MeshVolume { mesh_mm3, expected_mm3, limit_mm3 });
    }
    Ok(())
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

#[cfg(test)]
mod tests {
    use super::*;
    use plate::Turned;

    #[test]
    fn a_mesh_with_a_fault_does_not_pass() {
        let rod = Solid::of_turned(&Turned::cylinder(20.0, 7.0)).expect("sound");
        let Meshed { mesh, chord_loss_mm3 } = mesher::mesh(rod.brep(), 0.1).expect("meshed");
        let expected_mm3 = rod.volume_mm3() - chord_loss_mm3;
        assert!(prove(&mesh, expected_mm3).is_ok());

        let mut open = mesh.clone();
        open.triangles.pop();
        assert!(matches!(prove(&open, expected_mm3), Err(Error::OpenMesh { .. })));
        let mut turned = mesh.clone();
        turned.triangles[0].swap(1, 2);
        assert!(matches!(prove(&turned, expected_mm3), Err(Error::OpenMesh { .. })));
        // A dent of a thousandth of a millimetre.
        let mut dented = mesh;
        dented.positions[0] *= 1.0 - 1e-4;
        assert!(matches!(prove(&dented, expected_mm3), Err(Error::MeshVolume { .. })));
    }
}

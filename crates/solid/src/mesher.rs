//! From exact faces to triangles.
//!
//! Every edge becomes one polyline; every face is triangulated between the polylines of its edges
//! and adds no corner of its own. Neighbouring faces therefore share their corners, and the mesh is
//! watertight by construction, without welding.
mod divide;
mod flat;
mod lines;
mod round;

use crate::brep::{Brep, BrepFace};
use crate::error::Error;
use crate::geometry::Surface;
use crate::mesh::Mesh;
use divide::Polylines;
use glam::DVec3;

/// A mesh, and how much volume its chords leave out.
pub(crate) struct Meshed {
    pub(crate) mesh: Mesh,
    /// Exact volume less the volume of the mesh, if every face is meshed rightly, in mm³.
    pub(crate) chord_loss_mm3: f64,
}

/// The chord error is made this much finer for a part whose chords cross.
const RETRY_SHARE: f64 = 0.1;

/// Meshes a solid within a chord error. Where the chords of two arcs cross because the arcs are
/// closer to each other than the chord error, the part is tried again, finer.
pub(crate) fn mesh(brep: &Brep, chord_error_mm: f64) -> Result<Meshed, Error> {
    if !(chord_error_mm > 0.0 && chord_error_mm.is_finite()) {
        return Err(Error::ChordError { chord_error_mm });
    }
    match mesh_once(brep, chord_error_mm) {
        Err(Error::Unmeshable { .. }) => mesh_once(brep, RETRY_SHARE * chord_error_mm),
        result => result,
    }
}

fn mesh_once(brep: &Brep, chord_error_mm: f64) -> Result<Meshed, Error> {
    let polylines = Polylines::new(brep, chord_error_mm);
    u32::try_from(polylines.positions.len()).map_err(|_| Error::TooManyCorners)?;
    let mut triangles = Vec::new();
    let mut normals = Vec::new();
    let mut known = flat::Known::default();
    for face in &brep.faces {
        let from = triangles.len();
        if let Surface::Plane { u, v, .. } = face.surface {
            let crossing =
                |flat::Crossing| Error::Unmeshable { at: a_corner(brep, face), chord_error_mm };
            flat::triangulate(&polylines, face, [u, v], &mut known, &mut triangles)
                .map_err(crossing)?;
        } else {
            round::triangulate(brep, &polylines, face, &mut triangles);
        }
        normals.extend(
            triangles[from..].iter().map(|t| normals_of(&face.surface, t.map(|i| polylines.at(i)))),
        );
    }
    let chord_loss_mm3 = brep.faces.iter().map(|face| polylines.chord_loss_mm3(brep, face)).sum();
    let lines = lines::visible(brep, &polylines);
    let mesh = Mesh { positions: polylines.positions, triangles, normals, lines };
    Ok(Meshed { mesh, chord_loss_mm3 })
}

fn a_corner(brep: &Brep, face: &BrepFace) -> DVec3 {
    let edge = face.bounds.first().and_then(|bound| bound.first());
    edge.map_or(DVec3::ZERO, |&(edge, _)| brep.vertices[brep.edges[edge].ends[0]])
}

fn normals_of(surface: &Surface, corners: [DVec3; 3]) -> [DVec3; 3] {
    let on_axis = |p: DVec3| match *surface {
        Surface::Plane { .. } => false,
        Surface::Cylinder { centre, .. } | Surface::Cone { centre, .. } => {
            p.truncate() == centre.truncate()
        }
    };
    let middle = (corners[0] + corners[1] + corners[2]) / 3.0;
    // The tip of a cone has no normal: it takes the one of the middle of the triangle.
    corners.map(|p| surface.normal_at(if on_axis(p) { middle } else { p }))
}

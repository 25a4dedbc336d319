//! The edges that a person sees.
use super::divide::Polylines;
use crate::brep::Brep;
use crate::geometry::Surface;

/// Faces whose normals differ by less than about 1.4 mrad pass into each other without a line.
const SMOOTH: f64 = 1.0 - 1e-6;

/// Polylines of all edges at which two faces meet at an angle.
pub(crate) fn visible(brep: &Brep, polylines: &Polylines) -> Vec<Vec<u32>> {
    let mut sides: Vec<Vec<&Surface>> = vec![Vec::new(); brep.edges.len()];
    for face in &brep.faces {
        for &(edge, _) in face.bounds.iter().flatten() {
            sides[edge].push(&face.surface);
        }
    }
    let is_bent = |edge: usize| {
        let middle = brep.stretch(&brep.edges[edge]).at(0.5);
        match sides[edge].as_slice() {
            [a, b] => a.normal_at(middle).dot(b.normal_at(middle)) < SMOOTH,
            _ => true,
        }
    };
    (0..brep.edges.len())
        .filter(|&edge| is_bent(edge))
        .map(|edge| polylines.along(edge).to_vec())
        .collect()
}

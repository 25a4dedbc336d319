//! Triangles of a solid.
use glam::DVec3;
use std::collections::BTreeMap;

/// A triangle mesh with shared corners.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners in mm.
    pub positions: Vec<DVec3>,
    /// Indices of corners, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Unit normals of the exact surface at the three corners of each triangle: round walls shade round.
    pub normals: Vec<[DVec3; 3]>,
    /// Indices of corners along every edge that a person sees. Where two faces pass into each other
    /// without a bend (the two halves of a cylinder, a wall and its rounded corner) there is no line.
    pub lines: Vec<Vec<u32>>,
}

impl Mesh {
    /// Enclosed volume in mm³; negative if the mesh is inside out, meaningless if it is open.
    pub fn volume_mm3(&self) -> f64 {
        let origin = self.positions.first().copied().unwrap_or_default();
        let volume = |t: &[u32; 3]| {
            let [a, b, c] = self.corners(t).map(|p| p - origin);
            a.dot(b.cross(c))
        };
        self.triangles.iter().map(volume).sum::<f64>() / 6.0
    }

    /// Whether every side of every triangle is shared by exactly one other triangle that runs along
    /// it the other way.
    pub fn is_closed(&self) -> bool {
        let mut balance: BTreeMap<[u32; 2], [u32; 2]> = BTreeMap::new();
        for t in &self.triangles {
            for [a, b] in [[t[0], t[1]], [t[1], t[2]], [t[2], t[0]]] {
                balance.entry([a.min(b), a.max(b)]).or_default()[usize::from(a < b)] += 1;
            }
        }
        !self.triangles.is_empty() && balance.values().all(|&runs| runs == [1, 1])
    }

    /// The corners of one triangle.
    pub fn corners(&self, triangle: &[u32; 3]) -> [DVec3; 3] {
        triangle.map(|i| self.positions[i as usize])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tetrahedron() -> Mesh {
        let positions = vec![DVec3::ZERO, DVec3::X, DVec3::Y, DVec3::Z];
        let triangles = vec![[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]];
        Mesh { positions, triangles, ..Mesh::default() }
    }

    #[test]
    fn volume_of_a_tetrahedron() {
        assert!((tetrahedron().volume_mm3() - 1.0 / 6.0).abs() < 1e-15);
    }

    #[test]
    fn a_missing_or_turned_triangle_opens_the_mesh() {
        assert!(tetrahedron().is_closed());
        let mut missing = tetrahedron();
        missing.triangles.pop();
        assert!(!missing.is_closed());
        let mut turned = tetrahedron();
        turned.triangles[0].swap(0, 1);
        assert!(!turned.is_closed());
        assert!(!Mesh::default().is_closed());
    }
}

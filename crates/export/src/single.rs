//! Meshes in single precision, which is what readers of STL and 3MF keep.

use std::collections::BTreeMap;

use glam::{DAffine3, Vec3};
use solid::Mesh;

/// A closed mesh as its reader will see it.
///
/// Rounding to single precision may bring two corners to one place (it moves a corner at 2 m by up
/// to 6e-5 mm). Such corners are one corner here, and triangles that lost an area by that are left
/// out: every edge still has as many triangles on its one side as on its other.
#[derive(Clone, Debug)]
pub(crate) struct SingleMesh {
    /// Corners in mm, no two equal.
    pub(crate) positions: Vec<Vec3>,
    /// Counter-clockwise from outside.
    pub(crate) triangles: Vec<[u32; 3]>,
}

impl SingleMesh {
    /// The mesh moved by `pose` (a rotation and a move; a mirror turns the triangles over).
    pub(crate) fn new(mesh: &Mesh, pose: &DAffine3) -> Self {
        let mut positions = Vec::new();
        let mut found = BTreeMap::new();
        let mut corner = |p: Vec3| {
            *found.entry(p.to_array().map(f32::to_bits)).or_insert_with(|| {
                positions.push(p);
                u32::try_from(positions.len() - 1).expect("no more corners than the mesh had")
            })
        };
        // Adding zero makes −0 and 0 one place.
        let single =
            mesh.positions.iter().map(|&p| pose.transform_point3(p).as_vec3() + Vec3::ZERO);
        let corners: Vec<u32> = single.map(&mut corner).collect();

        let is_mirror = pose.matrix3.determinant() < 0.0;
        let triangles = mesh.triangles.iter().filter_map(|triangle| {
            let [a, b, c] = triangle.map(|i| corners[i as usize]);
            let has_area = a != b && b != c && c != a;
            has_area.then_some(if is_mirror { [a, c, b] } else { [a, b, c] })
        });
        let triangles = without_folded(triangles.collect());
        Self { positions, triangles }
    }
}

/// Leaves out pairs of triangles that have become the two sides of nothing.
fn without_folded(triangles: Vec<[u32; 3]>) -> Vec<[u32; 3]> {
    let mut sides: BTreeMap<[u32; 3], [usize; 2]> = BTreeMap::new();
    for (corners, side) in triangles.iter().map(sorted) {
        sides.entry(corners).or_default()[side] += 1;
    }
    let mut folded: BTreeMap<[u32; 3], [usize; 2]> = BTreeMap::new();
    for (corners, [one, other]) in sides {
        let pairs = one.min(other);
        if pairs > 0 {
            folded.insert(corners, [pairs, pairs]);
        }
    }
    if folded.is_empty() {
        return triangles;
    }
    let mut kept = triangles;
    kept.retain(|triangle| {
        let (corners, side) = sorted(triangle);
        let Some(left) = folded.get_mut(&corners).filter(|left| left[side] > 0) else {
            return true;
        };
        left[side] -= 1;
        false
    });
    kept
}

/// The corners in ascending order, and whether it takes a reversal to get there.
fn sorted(triangle: &[u32; 3]) -> ([u32; 3], usize) {
    let mut corners = *triangle;
    let least = usize::from(corners[1] < corners[0] && corners[1] < corners[2])
        + 2 * usize::from(corners[2] < corners[0] && corners[2] < corners[1]);
    corners.rotate_left(least);
    let is_reversed = corners[1] > corners[2];
    if is_reversed {
        corners.swap(1, 2);
    }
    (corners, usize::from(is_reversed))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use glam::{DVec3, dvec3};

    /// A box from the origin to `far`, cut into slices of the given heights: a closed mesh whose
    /// slices may be thinner than single precision can tell.
    pub(crate) fn sliced_box(far: DVec3, heights: &[f64]) -> Mesh {
        let mut levels = vec![0.0];
        levels.extend_from_slice(heights);
        levels.push(far.z);
        let ring = |z: f64| {
            [(0.0, 0.0), (far.x, 0.0), (far.x, far.y), (0.0, far.y)].map(|(x, y)| dvec3(x, y, z))
        };
        let positions: Vec<DVec3> = levels.iter().flat_map(|&z| ring(z)).collect();
        let n = u32::try_from(positions.len()).expect("small");
        let mut triangles =
            vec![[0, 2, 1], [0, 3, 2], [n - 4, n - 3, n - 2], [n - 4, n - 2, n - 1]];
        for low in (0..n - 4).step_by(4) {
            for side in 0..4 {
                let (a, b) = (low + side, low + (side + 1) % 4);
                triangles.extend([[a, b, b + 4], [a, b + 4, a + 4]]);
            }
        }
        Mesh { positions, triangles, ..Mesh::default() }
    }

    /// Panics if some edge has not one triangle on either side.
    #[track_caller]
    pub(crate) fn assert_closed(triangles: &[[u32; 3]]) {
        let mut edges = BTreeMap::new();
        for [a, b, c] in triangles {
            for edge in [(a, b), (b, c), (c, a)] {
                *edges.entry(edge).or_insert(0) += 1;
            }
        }
        for (&(a, b), &count) in &edges {
            assert_eq!((count, edges.get(&(b, a))), (1, Some(&1)), "edge {a}–{b}");
        }
    }

    #[test]
    fn slices_thinner_than_single_precision_leave_no_hole() {
        let thin =
            sliced_box(dvec3(30.0, 20.0, 1900.0), &[1_000.0, 1_000.000_001, 1_000.000_002, 1500.0]);
        assert_eq!(thin.triangles.len(), 4 + 5 * 8);
        let single = SingleMesh::new(&thin, &DAffine3::IDENTITY);
        assert_eq!(single.triangles.len(), 4 + 3 * 8);
        assert_eq!(single.positions.len(), 16);
        assert_closed(&single.triangles);
    }

    #[test]
    fn a_fin_that_has_become_flat_is_left_out() {
        // A box with a needle on its top: its tip falls on a corner of its foot.
        let mut mesh = sliced_box(dvec3(1000.0, 20.0, 1000.0), &[]);
        let tip = u32::try_from(mesh.positions.len()).expect("small");
        mesh.positions.push(mesh.positions[4] + dvec3(1e-6, 1e-6, 1e-6));
        mesh.triangles.retain(|t| *t != [4, 5, 6]);
        mesh.triangles.extend([[4, 5, tip], [5, 6, tip], [6, 4, tip]]);
        assert_closed(&mesh.triangles);
        assert_closed(&SingleMesh::new(&mesh, &DAffine3::IDENTITY).triangles);
    }

    #[test]
    fn folded_pairs_vanish_and_others_stay() {
        let kept = without_folded(vec![[0, 1, 2], [1, 2, 3], [2, 1, 0], [4, 5, 6], [4, 5, 6]]);
        assert_eq!(kept, [[1, 2, 3], [4, 5, 6], [4, 5, 6]]);
    }

    #[test]
    fn a_mirroring_pose_keeps_the_outside_out() {
        let mesh = sliced_box(dvec3(3.0, 2.0, 1.0), &[]);
        let mirror = DAffine3::from_scale(dvec3(-1.0, 1.0, 1.0));
        let volume = |m: &SingleMesh| -> f32 {
            let corners = |t: &[u32; 3]| t.map(|i| m.positions[i as usize]);
            m.triangles.iter().map(corners).map(|[a, b, c]| a.dot(b.cross(c)) / 6.0).sum()
        };
        assert!((volume(&SingleMesh::new(&mesh, &DAffine3::IDENTITY)) - 6.0).abs() < 1e-5);
        assert!((volume(&SingleMesh::new(&mesh, &mirror)) - 6.0).abs() < 1e-5);
    }
}

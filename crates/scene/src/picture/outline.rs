//! Where a curved surface turns away from the eye: the outline that pipes and pumps are drawn with.

use std::collections::BTreeMap;

use glam::{DVec3, I64Vec3};

use crate::camera::Camera;
use crate::scene::{Body, Triangle};

/// Corners closer than this are one, mm.
const SAME_POINT_MM: f64 = 1e-4;

/// Edges between a curved triangle that faces the eye and one that faces away.
pub(super) fn outline(body: &Body, camera: &Camera) -> Vec<[DVec3; 2]> {
    let mut sides: BTreeMap<[[i64; 3]; 2], Edge> = BTreeMap::new();
    for triangle in body.triangles.iter().filter(|t| is_curved(t)) {
        let faces_eye = faces_eye(triangle, camera);
        for i in 0..3 {
            let ends = [triangle.corners[i], triangle.corners[(i + 1) % 3]];
            let mut key = ends.map(whole);
            key.sort_unstable();
            let edge = sides.entry(key).or_insert(Edge { ends, seen: 0, hidden: 0 });
            if faces_eye {
                edge.seen += 1;
            } else {
                edge.hidden += 1;
            }
        }
    }
    sides.into_values().filter(|e| e.seen == 1 && e.hidden == 1).map(|e| e.ends).collect()
}

struct Edge {
    ends: [DVec3; 2],
    seen: u32,
    hidden: u32,
}

pub(super) fn is_curved(triangle: &Triangle) -> bool {
    let [a, b, c] = triangle.normals;
    a.dot(b).min(b.dot(c)) < 1.0 - 1e-9
}

fn faces_eye(triangle: &Triangle, camera: &Camera) -> bool {
    let [a, b, c] = triangle.corners;
    let towards = camera.ray(camera.project(a));
    (b - a).cross(c - a).dot(towards) < 0.0
}

fn whole(p: DVec3) -> [i64; 3] {
    let steps = (p / SAME_POINT_MM).round();
    I64Vec3::to_array(&steps.as_i64vec3())
}

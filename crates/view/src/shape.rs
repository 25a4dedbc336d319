//! Bodies as the graphics processor takes them: single precision, and corners that are alike told once.

use std::collections::HashMap;

use glam::DVec3;
use scene::{Body, Side, Triangle};

/// Faces and lines of one body.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// sRGB.
    pub colour: [u8; 3],
    /// Whether one sees through it.
    pub is_clear: bool,
    /// Corners of its faces.
    pub corners: Vec<Corner>,
    /// Corners of each triangle.
    pub triangles: Vec<[u32; 3]>,
    /// Ends of the straight pieces of its edges, mm.
    pub edges: Vec<[[f32; 3]; 2]>,
    /// The same of what is engraved.
    pub engraved: Vec<[[f32; 3]; 2]>,
}

/// Corner of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where, mm.
    pub position: [f32; 3],
    /// Outward unit normal.
    pub normal: [f32; 3],
    /// Whether it is on the sheet's thickness.
    pub is_rim: bool,
}

impl Shape {
    /// Of a body.
    pub fn of(body: &Body) -> Self {
        let (corners, triangles) = shared(&body.triangles);
        Self {
            colour: body.look.colour,
            is_clear: body.look.is_clear,
            corners,
            triangles,
            edges: pieces(&body.edges),
            engraved: pieces(&body.engraved),
        }
    }
}

fn single(p: DVec3) -> [f32; 3] {
    p.as_vec3().to_array()
}

/// Corners, each once, and which of them every triangle has.
fn shared(triangles: &[Triangle]) -> (Vec<Corner>, Vec<[u32; 3]>) {
    let mut corners: Vec<Corner> = Vec::new();
    let mut known: HashMap<[u32; 7], u32> = HashMap::new();
    let mut at = |corner: Corner| {
        let [x, y, z] = corner.position.map(f32::to_bits);
        let [u, v, w] = corner.normal.map(f32::to_bits);
        *known.entry([x, y, z, u, v, w, u32::from(corner.is_rim)]).or_insert_with(|| {
            corners.push(corner);
            u32::try_from(corners.len() - 1).unwrap_or(u32::MAX)
        })
    };
    let of = |triangle: &Triangle| {
        let is_rim = triangle.side == Side::Edge;
        let corner = |k: usize| Corner {
            position: single(triangle.corners[k]),
            normal: single(triangle.normals[k]),
            is_rim,
        };
        [corner(0), corner(1), corner(2)].map(&mut at)
    };
    let triangles = triangles.iter().map(of).collect();
    (corners, triangles)
}

fn pieces(lines: &[Vec<DVec3>]) -> Vec<[[f32; 3]; 2]> {
    let pairs = lines.iter().flat_map(|line| line.windows(2));
    pairs.map(|pair| [single(pair[0]), single(pair[1])]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;
    use scene::Look;

    #[test]
    fn a_corner_of_two_triangles_is_told_once() {
        let [a, b, c, d] = [(0., 0.), (1., 0.), (1., 1.), (0., 1.)].map(|(x, y)| dvec3(x, y, 2.0));
        let triangle = |corners, side| Triangle { corners, normals: [DVec3::Z; 3], side };
        let body = Body {
            name: String::new(),
            look: Look { colour: [1, 2, 3], is_clear: true },
            triangles: vec![
                triangle([a, b, c], Side::Broad),
                triangle([a, c, d], Side::Broad),
                triangle([a, c, d], Side::Edge),
            ],
            edges: vec![vec![a, b, c], vec![d]],
            engraved: Vec::new(),
            way: None,
        };
        let shape = Shape::of(&body);
        assert_eq!(shape.triangles, [[0, 1, 2], [0, 2, 3], [4, 5, 6]]);
        assert_eq!(shape.corners.len(), 7);
        let bits = |p: [f32; 3]| p.map(f32::to_bits);
        assert_eq!(bits(shape.corners[3].position), bits([0.0, 1.0, 2.0]));
        assert!(!shape.corners[3].is_rim && shape.corners[4].is_rim);
        assert_eq!(shape.edges, [[[0., 0., 2.], [1., 0., 2.]], [[1., 0., 2.], [1., 1., 2.]]]);
    }
}

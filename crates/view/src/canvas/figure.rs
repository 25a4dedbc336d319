//! Bodies as the graphics processor holds them.

use glam::DVec3;
use scene::{Body, Side, Triangle};
use three_d::{Context, Vec2, Vec3, VertexBuffer, vec2};

/// Faces and lines of one body.
pub(super) struct Figure {
    pub(super) colour: [u8; 3],
    pub(super) is_clear: bool,
    pub(super) faces: Faces,
    pub(super) edges: Lines,
    pub(super) engraved: Lines,
}

/// Triangles.
pub(super) struct Faces {
    pub(super) positions: VertexBuffer<Vec3>,
    pub(super) normals: VertexBuffer<Vec3>,
    /// 1 on the sheet's thickness, else 0.
    pub(super) rims: VertexBuffer<f32>,
}

/// Straight lines, six corners each.
pub(super) struct Lines {
    pub(super) starts: VertexBuffer<Vec3>,
    pub(super) ends: VertexBuffer<Vec3>,
    pub(super) corners: VertexBuffer<Vec2>,
}

pub(super) fn single(p: DVec3) -> Vec3 {
    p.as_vec3().to_array().into()
}

impl Figure {
    pub(super) fn new(context: &Context, body: &Body) -> Self {
        Self {
            colour: body.look.colour,
            is_clear: body.look.is_clear,
            faces: Faces::new(context, &body.triangles),
            edges: Lines::new(context, &body.edges),
            engraved: Lines::new(context, &body.engraved),
        }
    }
}

impl Faces {
    fn new(context: &Context, triangles: &[Triangle]) -> Self {
        let positions: Vec<Vec3> = triangles.iter().flat_map(|t| t.corners).map(single).collect();
        let normals: Vec<Vec3> = triangles.iter().flat_map(|t| t.normals).map(single).collect();
        let rim = |t: &Triangle| [if t.side == Side::Edge { 1.0 } else { 0.0 }; 3];
        let rims: Vec<f32> = triangles.iter().flat_map(rim).collect();
        Self {
            positions: VertexBuffer::new_with_data(context, &positions),
            normals: VertexBuffer::new_with_data(context, &normals),
            rims: VertexBuffer::new_with_data(context, &rims),
        }
    }

    pub(super) fn count(&self) -> u32 {
        self.positions.vertex_count()
    }
}

impl Lines {
    pub(super) fn new(context: &Context, lines: &[Vec<DVec3>]) -> Self {
        let pieces: Vec<[Vec3; 2]> = lines
            .iter()
            .flat_map(|line| line.windows(2).map(|pair| [single(pair[0]), single(pair[1])]))
            .collect();
        let of =
            |end: usize| -> Vec<Vec3> { pieces.iter().flat_map(|piece| [piece[end]; 6]).collect() };
        let corners = [(0, -1), (1, -1), (1, 1), (0, -1), (1, 1), (0, 1)];
        let corners =
            corners.map(|(along, side): (i8, i8)| vec2(f32::from(along), f32::from(side)));
        let corners: Vec<Vec2> = pieces.iter().flat_map(|_| corners).collect();
        Self {
            starts: VertexBuffer::new_with_data(context, &of(0)),
            ends: VertexBuffer::new_with_data(context, &of(1)),
            corners: VertexBuffer::new_with_data(context, &corners),
        }
    }

    pub(super) fn count(&self) -> u32 {
        self.starts.vertex_count()
    }
}

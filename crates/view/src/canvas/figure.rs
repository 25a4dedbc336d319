//! All bodies as the graphics processor holds them: in one store of corners, so that those that rest are drawn at once.

use std::ops::Range;
use std::sync::Arc;

use glam::DVec3;
use three_d::{Context, ElementBuffer, Vec2, Vec3, Vec4, VertexBuffer, vec2};

use crate::shape::Shape;

/// The faces and lines of all bodies.
pub(super) struct Store {
    pub(super) faces: Faces,
    pub(super) lines: Lines,
    /// Which corners belong to which body.
    pub(super) figures: Vec<Figure>,
    shapes: Vec<Arc<Shape>>,
}

/// Where the triangles of one body are among all.
#[derive(Clone, Debug)]
pub(super) struct Figure {
    pub(super) is_clear: bool,
    /// Faces on the sheet's thickness, and all others.
    pub(super) rims: Range<usize>,
    pub(super) broad: Range<usize>,
    pub(super) lines: Range<usize>,
}

/// Corners of faces.
pub(super) struct Faces {
    pub(super) positions: VertexBuffer<Vec3>,
    pub(super) normals: VertexBuffer<Vec3>,
    /// Linear light, and 1 on the sheet's thickness, else 0.
    pub(super) looks: VertexBuffer<Vec4>,
    pub(super) triangles: Triangles,
}

/// Corners of straight lines, four each.
pub(super) struct Lines {
    pub(super) starts: VertexBuffer<Vec3>,
    pub(super) ends: VertexBuffer<Vec3>,
    pub(super) corners: VertexBuffer<Vec2>,
    /// sRGB from 0 to 1, and one of the kinds below.
    pub(super) inks: VertexBuffer<Vec4>,
    pub(super) triangles: Triangles,
}

/// Kinds of lines: edges of opaque and of clear bodies, what is engraved, and the rim of a surface of water.
const OPAQUE: f32 = 0.0;
const CLEAR: f32 = 1.0;
const ENGRAVED: f32 = 2.0;
const WATERLINE: f32 = 3.0;

/// Which corners each triangle has; also on our side, from where some are chosen.
pub(super) struct Triangles {
    indices: Vec<u32>,
    pub(super) buffer: ElementBuffer<u32>,
}

impl Triangles {
    fn new(context: &Context, indices: Vec<u32>) -> Self {
        let buffer = ElementBuffer::new_with_data(context, &indices);
        Self { indices, buffer }
    }

    /// Only some of them.
    pub(super) fn some(
        &self,
        context: &Context,
        which: impl Iterator<Item = Range<usize>>,
    ) -> ElementBuffer<u32> {
        let indices: Vec<u32> =
            which.flat_map(|range| self.indices.get(range).unwrap_or_default()).copied().collect();
        ElementBuffer::new_with_data(context, &indices)
    }
}

pub(super) fn single(p: DVec3) -> Vec3 {
    p.as_vec3().to_array().into()
}

impl Store {
    pub(super) fn new(context: &Context, shapes: Vec<Arc<Shape>>) -> Self {
        let (mut faces, mut lines) = (FaceData::default(), LineData::default());
        let figure = |shape: &Arc<Shape>| {
            let begun = lines.triangles.len();
            let [broad, rims] = faces.add(shape);
            let rgb = shape.colour.map(|byte| f32::from(byte) / 255.0);
            lines.add(&shape.edges, rgb, if shape.is_clear { CLEAR } else { OPAQUE });
            lines.add(&shape.engraved, rgb, ENGRAVED);
            Figure { is_clear: shape.is_clear, broad, rims, lines: begun..lines.triangles.len() }
        };
        let figures = shapes.iter().map(figure).collect();
        Self { faces: faces.hand_over(context), lines: lines.hand_over(context), figures, shapes }
    }

    /// Whether these are the very shapes that it holds.
    pub(super) fn holds(&self, shapes: &[Arc<Shape>]) -> bool {
        let pairs = self.shapes.iter().zip(shapes);
        self.shapes.len() == shapes.len() && pairs.into_iter().all(|(a, b)| Arc::ptr_eq(a, b))
    }
}

/// The rim of a surface of water, as a square of side one at height one.
pub(super) fn surface(context: &Context) -> Lines {
    let corner = |x: f32, y: f32| [x, y, 1.0];
    let rim = [corner(0., 0.), corner(1., 0.), corner(1., 1.), corner(0., 1.), corner(0., 0.)];
    let pieces: Vec<[[f32; 3]; 2]> = rim.windows(2).map(|pair| [pair[0], pair[1]]).collect();
    let mut lines = LineData::default();
    lines.add(&pieces, [0.0; 3], WATERLINE);
    lines.hand_over(context)
}

#[derive(Default)]
struct FaceData {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    looks: Vec<Vec4>,
    triangles: Vec<u32>,
}

impl FaceData {
    /// Adds the faces of a shape; where its broad ones are among all, and those on its thickness.
    fn add(&mut self, shape: &Shape) -> [Range<usize>; 2] {
        let first = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        let [r, g, b] = linear(shape.colour);
        for corner in &shape.corners {
            self.positions.push(corner.position.into());
            self.normals.push(corner.normal.into());
            let rim = if corner.is_rim { 1.0 } else { 0.0 };
            self.looks.push(Vec4::new(r, g, b, rim));
        }
        let is_rim = |triangle: &&[u32; 3]| {
            let corner = usize::try_from(triangle[0]).ok().and_then(|k| shape.corners.get(k));
            corner.is_some_and(|corner| corner.is_rim)
        };
        [false, true].map(|wanted| {
            let begun = self.triangles.len();
            let some = shape.triangles.iter().filter(|triangle| is_rim(triangle) == wanted);
            self.triangles.extend(some.flatten().map(|k| first + k));
            begun..self.triangles.len()
        })
    }

    fn hand_over(self, context: &Context) -> Faces {
        Faces {
            positions: VertexBuffer::new_with_data(context, &self.positions),
            normals: VertexBuffer::new_with_data(context, &self.normals),
            looks: VertexBuffer::new_with_data(context, &self.looks),
            triangles: Triangles::new(context, self.triangles),
        }
    }
}

#[derive(Default)]
struct LineData {
    starts: Vec<Vec3>,
    ends: Vec<Vec3>,
    corners: Vec<Vec2>,
    inks: Vec<Vec4>,
    triangles: Vec<u32>,
}

impl LineData {
    fn add(&mut self, pieces: &[[[f32; 3]; 2]], [r, g, b]: [f32; 3], kind: f32) {
        for [start, end] in pieces {
            let first = u32::try_from(self.starts.len()).unwrap_or(u32::MAX);
            for (along, side) in [(0.0, -1.0), (1.0, -1.0), (1.0, 1.0), (0.0, 1.0)] {
                self.starts.push((*start).into());
                self.ends.push((*end).into());
                self.corners.push(vec2(along, side));
                self.inks.push(Vec4::new(r, g, b, kind));
            }
            self.triangles.extend([0, 1, 2, 0, 2, 3].map(|k| first + k));
        }
    }

    fn hand_over(self, context: &Context) -> Lines {
        Lines {
            starts: VertexBuffer::new_with_data(context, &self.starts),
            ends: VertexBuffer::new_with_data(context, &self.ends),
            corners: VertexBuffer::new_with_data(context, &self.corners),
            inks: VertexBuffer::new_with_data(context, &self.inks),
            triangles: Triangles::new(context, self.triangles),
        }
    }
}

/// From bytes to linear light, by the power that the shaders go back by.
fn linear(colour: [u8; 3]) -> [f32; 3] {
    colour.map(|byte| (f32::from(byte) / 255.0).powf(2.2))
}

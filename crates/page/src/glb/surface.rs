//! Faces and edges of bodies, and water, as primitives of a mesh.

use std::collections::BTreeMap;

use glam::DVec3;
use scene::{Body, Side, Water};
use serde_json::{Value, json};

use super::buffer::Buffer;
use super::look::Looks;
use super::{direction, point};

/// Kinds of primitives by their codes (section 5.24.5 of the standard).
const LINES: u32 = 1;

/// Water keeps off what it stands against, so that no two faces lie in one plane, mm.
const OFF_MM: f64 = 0.4;

/// Faces of one kind together, then the edges; `None` of a body without faces.
pub(super) fn primitives(body: &Body, file: &mut Buffer, looks: &mut Looks) -> Option<Vec<Value>> {
    let mut primitives = Vec::new();
    for side in [Side::Broad, Side::Edge, Side::Cut] {
        // What is not clear looks the same on all sides.
        let is_wanted =
            |of: Side| if body.look.is_clear { of == side } else { side == Side::Broad };
        let triangles = body.triangles.iter().filter(|triangle| is_wanted(triangle.side));
        let corners = triangles.flat_map(|t| t.corners.into_iter().zip(t.normals));
        if let Some(faces) = faces(corners, file) {
            primitives.push(with_material(faces, looks.face(body.look, side)));
        }
    }
    if primitives.is_empty() {
        return None;
    }
    let lines = body.edges.iter().chain(&body.engraved);
    primitives.extend(self::lines(lines, file).map(|lines| with_material(lines, looks.line())));
    Some(primitives)
}

/// A box of water: its surface and its sides, so that a level can be moved by scaling it upwards from its floor.
pub(super) fn water(water: &Water, file: &mut Buffer, looks: &mut Looks) -> Value {
    let off = DVec3::new(OFF_MM, OFF_MM, 0.0);
    let (lo, hi) = (water.min + off, water.max - off);
    let mut corners = Vec::new();
    for axis in 0..3 {
        for (at, out) in [(lo, -1.0), (hi, 1.0)] {
            corners.extend(side(axis, at[axis], out, lo, hi));
        }
    }
    // Six sides are never none.
    let faces = faces(corners.into_iter(), file).unwrap_or_default();
    with_material(faces, looks.water())
}

/// Two triangles that are one side of a box, counter-clockwise seen from outside.
fn side(axis: usize, at: f64, out: f64, lo: DVec3, hi: DVec3) -> [(DVec3, DVec3); 6] {
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let corner = |of_u: DVec3, of_v: DVec3| {
        let mut p = DVec3::ZERO;
        (p[axis], p[u], p[v]) = (at, of_u[u], of_v[v]);
        p
    };
    let mut quad = [corner(lo, lo), corner(hi, lo), corner(hi, hi), corner(lo, hi)];
    if out < 0.0 {
        quad.reverse();
    }
    let mut normal = DVec3::ZERO;
    normal[axis] = out;
    [0, 1, 2, 0, 2, 3].map(|i: usize| (quad[i], normal))
}

/// Triangles with shared corners; `None` when there are none.
fn faces(corners: impl Iterator<Item = (DVec3, DVec3)>, file: &mut Buffer) -> Option<Value> {
    let (mut places, mut normals, mut indices) = (Vec::new(), Vec::new(), Vec::new());
    let mut known: BTreeMap<[u32; 6], u32> = BTreeMap::new();
    for (p, n) in corners {
        let (place, normal) = (point(p), direction(n));
        let [a, b, c] = place.map(f32::to_bits);
        let [d, e, f] = normal.map(f32::to_bits);
        let next = u32::try_from(places.len()).ok()?;
        let index = *known.entry([a, b, c, d, e, f]).or_insert(next);
        if index == next {
            places.push(place);
            normals.push(normal);
        }
        indices.push(index);
    }
    if indices.is_empty() {
        return None;
    }
    let (places, normals) = (file.places(&places), file.normals(&normals));
    let indices = file.indices(&indices);
    Some(json!({ "attributes": { "POSITION": places, "NORMAL": normals }, "indices": indices }))
}

/// Polylines as pairs of ends; `None` when there are none.
fn lines<'a>(lines: impl Iterator<Item = &'a Vec<DVec3>>, file: &mut Buffer) -> Option<Value> {
    let (mut places, mut indices) = (Vec::new(), Vec::new());
    let mut known: BTreeMap<[u32; 3], u32> = BTreeMap::new();
    let mut index_of = |p: DVec3| {
        let place = point(p);
        let next = u32::try_from(places.len()).ok()?;
        let index = *known.entry(place.map(f32::to_bits)).or_insert(next);
        if index == next {
            places.push(place);
        }
        Some(index)
    };
    for line in lines {
        for ends in line.windows(2) {
            let (a, b) = (index_of(ends[0])?, index_of(ends[1])?);
            if a != b {
                indices.extend([a, b]);
            }
        }
    }
    if indices.is_empty() {
        return None;
    }
    let (places, indices) = (file.places(&places), file.indices(&indices));
    Some(json!({ "attributes": { "POSITION": places }, "indices": indices, "mode": LINES }))
}

fn with_material(mut primitive: Value, material: usize) -> Value {
    primitive["material"] = json!(material);
    primitive
}

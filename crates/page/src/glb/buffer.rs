//! The binary part of a GLB file, with the views and accessors that tell what lies where in it.

use serde_json::{Value, json};

/// Kinds of numbers by their codes in glTF (section 3.6.2.2 of the standard).
const UNSIGNED_SHORT: u32 = 5123;
const UNSIGNED_INT: u32 = 5125;
const FLOAT: u32 = 5126;

/// What a view is for (section 5.11.5).
const ARRAY: u32 = 34962;
const ELEMENT_ARRAY: u32 = 34963;

/// All bytes so far.
#[derive(Debug, Default)]
pub(super) struct Buffer {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl Buffer {
    /// Places of corners, with the box around them.
    pub(super) fn places(&mut self, points: &[[f32; 3]]) -> usize {
        let mut accessor = self.vectors(points, Some(ARRAY));
        let (min, max) = extent(points);
        accessor["min"] = json!(min);
        accessor["max"] = json!(max);
        self.accessor(accessor)
    }

    /// Normals at corners.
    pub(super) fn normals(&mut self, normals: &[[f32; 3]]) -> usize {
        let accessor = self.vectors(normals, Some(ARRAY));
        self.accessor(accessor)
    }

    /// Shifts, or sizes, at the instants of an animation.
    pub(super) fn shifts(&mut self, shifts: &[[f32; 3]]) -> usize {
        let accessor = self.vectors(shifts, None);
        self.accessor(accessor)
    }

    /// Turns at the instants of an animation, x y z w.
    pub(super) fn turns(&mut self, turns: &[[f32; 4]]) -> usize {
        let view = self.view(turns.iter().flatten().flat_map(|v| v.to_le_bytes()), None);
        self.accessor(json!({
            "bufferView": view, "componentType": FLOAT, "count": turns.len(), "type": "VEC4",
        }))
    }

    /// Instants, s, in order.
    pub(super) fn times(&mut self, times: &[f32]) -> usize {
        let view = self.view(times.iter().flat_map(|t| t.to_le_bytes()), None);
        self.accessor(json!({
            "bufferView": view, "componentType": FLOAT, "count": times.len(), "type": "SCALAR",
            "min": [times.first()], "max": [times.last()],
        }))
    }

    /// Indices of corners, as short as can be.
    pub(super) fn indices(&mut self, indices: &[u32]) -> usize {
        // The greatest value of a kind is reserved (section 3.7.2.1).
        let shorts: Option<Vec<u16>> = indices
            .iter()
            .map(|i| u16::try_from(*i).ok().filter(|short| *short < u16::MAX))
            .collect();
        let (view, kind) = match shorts {
            Some(shorts) => {
                let bytes = shorts.iter().flat_map(|i| i.to_le_bytes());
                (self.view(bytes, Some(ELEMENT_ARRAY)), UNSIGNED_SHORT)
            }
            None => {
                let bytes = indices.iter().flat_map(|i| i.to_le_bytes());
                (self.view(bytes, Some(ELEMENT_ARRAY)), UNSIGNED_INT)
            }
        };
        self.accessor(json!({
            "bufferView": view, "componentType": kind, "count": indices.len(), "type": "SCALAR",
        }))
    }

    fn vectors(&mut self, vectors: &[[f32; 3]], target: Option<u32>) -> Value {
        let view = self.view(vectors.iter().flatten().flat_map(|v| v.to_le_bytes()), target);
        json!({ "bufferView": view, "componentType": FLOAT, "count": vectors.len(), "type": "VEC3" })
    }

    fn view(&mut self, bytes: impl Iterator<Item = u8>, target: Option<u32>) -> usize {
        self.align();
        let begin = self.bytes.len();
        self.bytes.extend(bytes);
        let mut view = json!({
            "buffer": 0, "byteOffset": begin, "byteLength": self.bytes.len() - begin,
        });
        if let Some(target) = target {
            view["target"] = json!(target);
        }
        self.views.push(view);
        self.views.len() - 1
    }

    fn accessor(&mut self, accessor: Value) -> usize {
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn align(&mut self) {
        self.bytes.resize(self.bytes.len().next_multiple_of(4), 0);
    }

    /// The whole file: a header, the JSON chunk padded with spaces, the binary chunk padded with zeros (section 4.4).
    pub(super) fn into_glb(mut self, mut gltf: Value) -> Vec<u8> {
        self.align();
        gltf["accessors"] = json!(self.accessors);
        gltf["bufferViews"] = json!(self.views);
        gltf["buffers"] = json!([{ "byteLength": self.bytes.len() }]);
        let mut text = gltf.to_string().into_bytes();
        text.resize(text.len().next_multiple_of(4), b' ');
        let total = 12 + 8 + text.len() + 8 + self.bytes.len();
        let mut file = Vec::with_capacity(total);
        file.extend(b"glTF");
        file.extend(2u32.to_le_bytes());
        file.extend(length(total));
        for (kind, chunk) in [(b"JSON", &text), (b"BIN\0", &self.bytes)] {
            file.extend(length(chunk.len()));
            file.extend(kind);
            file.extend(chunk);
        }
        file
    }
}

/// A length as the format writes it; no model here comes near four gigabytes.
fn length(bytes: usize) -> [u8; 4] {
    u32::try_from(bytes).unwrap_or(u32::MAX).to_le_bytes()
}

fn extent(points: &[[f32; 3]]) -> ([f32; 3], [f32; 3]) {
    let start = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
    points.iter().fold(start, |(lo, hi), p| {
        let pick = |side: [f32; 3], of: fn(f32, f32) -> f32| [0, 1, 2].map(|k| of(side[k], p[k]));
        (pick(lo, f32::min), pick(hi, f32::max))
    })
}

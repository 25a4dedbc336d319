//! Binary glTF 2.0 (ISO/IEC 12113:2022): every body a named node with its look, water, and motions as animations.
//!
//! In metres, y up, as the standard demands; everything else here is in the sump's own frame and in millimetres.

mod animations;
mod buffer;
mod look;
mod motion;
mod surface;

use glam::DVec3;
use scene::{Body, Scene, Water};
use serde_json::{Value, json};

use buffer::Buffer;
use look::Looks;

pub use animations::{Animation, Away, Moving, all as animations};

/// The bodies and the water of a scene, and how bodies move, as one GLB file.
///
/// Nodes stand in the order of the scene's bodies, then its spares, the things of its cabinet, and its waters; each carries its
/// name, and in `extras` which of these it is and its place in the list of all bodies, or whether the water's surface is
/// open. A name in an animation that is no body's is passed over.
///
/// A spare would stand within the leaf that is in: so it has no size, but in an animation in which it moves itself.
pub fn write(scene: &Scene, animations: &[Animation]) -> Vec<u8> {
    let mut file = Buffer::default();
    let mut looks = Looks::default();
    let (mut meshes, mut nodes) = (Vec::new(), Vec::new());
    for (thing, (body, group)) in grouped(scene).enumerate() {
        let Some(primitives) = surface::primitives(body, &mut file, &mut looks) else { continue };
        meshes.push(json!({ "name": body.name, "primitives": primitives }));
        let extras = json!({ "group": group, "thing": thing });
        let mut node = json!({ "name": body.name, "mesh": meshes.len() - 1, "extras": extras });
        if group == SPARE {
            node["scale"] = json!([0, 0, 0]);
        }
        nodes.push(node);
    }
    for water in &scene.waters {
        let primitives = [surface::water(water, &mut file, &mut looks)];
        let name = water_name(water);
        meshes.push(json!({ "name": name, "primitives": primitives }));
        let extras = json!({ "group": "water", "space": water.name, "is_open": water.is_open });
        nodes.push(json!({ "name": name, "mesh": meshes.len() - 1, "extras": extras }));
    }
    let node_of = |name: &String| nodes.iter().position(|node| node["name"] == name.as_str());
    let is_spare = |node: usize| nodes[node]["extras"]["group"] == SPARE;
    let animations: Vec<Value> = animations
        .iter()
        .filter_map(|animation| motion::animation(animation, node_of, is_spare, &mut file))
        .collect();
    let mut gltf = json!({
        "asset": { "version": "2.0", "generator": concat!("sumpwright ", env!("CARGO_PKG_VERSION")) },
        "scene": 0,
        "scenes": [{ "name": scene.title, "nodes": (0..nodes.len()).collect::<Vec<_>>() }],
        "nodes": nodes,
        "meshes": meshes,
        "materials": looks.materials(),
        "extensionsUsed": look::EXTENSIONS,
    });
    // An empty list is an error by the standard.
    if !animations.is_empty() {
        gltf["animations"] = json!(animations);
    }
    file.into_glb(gltf)
}

/// The group of leaves that are not in.
const SPARE: &str = "spare";

/// All bodies, each with the group that it is of.
fn grouped(scene: &Scene) -> impl Iterator<Item = (&Body, &'static str)> {
    let things = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
    let sump = scene.bodies.iter().map(|body| (body, "sump"));
    let spares = scene.spares.iter().map(|body| (body, SPARE));
    sump.chain(spares).chain(things.map(|thing| (&thing.body, "cabinet")))
}

/// Water has the name of its space, and says that it is water: a chamber is no node.
fn water_name(water: &Water) -> String {
    format!("water of {}", water.name)
}

/// From the sump's frame in mm, z up, to that of glTF in metres, y up.
fn point(p: DVec3) -> [f32; 3] {
    let DVec3 { x, y, z } = p * 1e-3;
    single([x, z, -y])
}

/// The same for a direction.
fn direction(d: DVec3) -> [f32; 3] {
    single([d.x, d.z, -d.y])
}

#[expect(clippy::cast_possible_truncation, reason = "glTF has single precision: 0.1 µm in a metre")]
fn single<const N: usize>(values: [f64; N]) -> [f32; N] {
    values.map(|value| value as f32)
}

#[cfg(test)]
mod tests;

//! Binary glTF 2.0 (ISO/IEC 12113:2022): every body a named node with its look, water, and motions as animations.
//!
//! In metres, y up, as the standard demands; everything else here is in the sump's own frame and in millimetres.

mod buffer;
mod look;
mod motion;
mod surface;

use fit::Motion;
use glam::DVec3;
use scene::{Body, Scene, Water};
use serde_json::{Value, json};
use show::{Show, Thing, ThingId, WayOut};

use buffer::Buffer;
use look::Looks;

/// Bodies on the move, one set after the other.
#[derive(Clone, Debug)]
pub struct Animation {
    /// What it shows: `leaf comb comes out`.
    pub name: String,
    /// What moves, in order. What moves again goes on from where it then is told to be.
    pub parts: Vec<Moving>,
    /// What is away from some instant on, in order of time.
    pub away: Vec<Away>,
}

/// Some bodies moving together, one motion after the other.
#[derive(Clone, Debug)]
pub struct Moving {
    /// Names of the bodies that move.
    pub bodies: Vec<String>,
    /// How, with when each begins and ends, s from the start of the animation.
    pub motions: Vec<(Motion, [f64; 2])>,
}

/// Some bodies that are away, until one of them moves again.
#[derive(Clone, Debug)]
pub struct Away {
    /// Their names.
    pub bodies: Vec<String>,
    /// From when on, s from the start of the animation.
    pub from_s: f64,
}

/// Between two parts that come out one after the other, s.
const PAUSE_S: f64 = 0.5;

/// Every way out that is known, as an animation: all of its steps, each beginning when the one before has ended.
///
/// A format of poses cannot say that a knob is undone by a hand: what is undone before a step, or stood in the place of
/// what moves, is away from then on; and so is what came out, when the next step begins.
pub fn ways_out(show: &Show) -> Vec<Animation> {
    let known = show.ways.iter().filter(|way| !way.steps.is_empty());
    known.map(|way| animation(way, &show.things)).collect()
}

fn animation(way: &WayOut, things: &[Thing]) -> Animation {
    let names = |ids: &[ThingId]| -> Vec<String> {
        ids.iter().filter_map(|id| things.get(*id)).map(|thing| thing.name.clone()).collect()
    };
    let (mut parts, mut away) = (Vec::new(), Vec::new());
    let mut begin_s = 0.0;
    let mut out = Vec::new();
    for step in &way.steps {
        let gone = [std::mem::take(&mut out), names(&step.undone)].concat();
        if !gone.is_empty() {
            away.push(Away { bodies: gone, from_s: begin_s });
        }
        let at = |t: f64| begin_s + t;
        let motions = step.moves.iter().map(|m| (m.motion(), [at(m.begin_s), at(m.end_s)]));
        parts.push(Moving { bodies: names(&step.things), motions: motions.collect() });
        out = names(&step.things);
        begin_s += step.moves.last().map_or(0.0, |last| last.end_s) + PAUSE_S;
    }
    Animation { name: format!("{} comes out", way.name), parts, away }
}

/// The bodies and the water of a scene, and how bodies move, as one GLB file.
///
/// Nodes stand in the order of the scene's bodies, then its spares, the things of its cabinet, and its waters; each carries its
/// name, and in `extras` which of these it is and its place in the list of all bodies. A name in an animation that is no body's is passed over.
pub fn write(scene: &Scene, animations: &[Animation]) -> Vec<u8> {
    let mut file = Buffer::default();
    let mut looks = Looks::default();
    let (mut meshes, mut nodes) = (Vec::new(), Vec::new());
    for (thing, (body, group)) in grouped(scene).enumerate() {
        let Some(primitives) = surface::primitives(body, &mut file, &mut looks) else { continue };
        meshes.push(json!({ "name": body.name, "primitives": primitives }));
        let extras = json!({ "group": group, "thing": thing });
        nodes.push(json!({ "name": body.name, "mesh": meshes.len() - 1, "extras": extras }));
    }
    for water in &scene.waters {
        let primitives = [surface::water(water, &mut file, &mut looks)];
        let name = water_name(water);
        meshes.push(json!({ "name": name, "primitives": primitives }));
        let extras = json!({ "group": "water", "space": water.name });
        nodes.push(json!({ "name": name, "mesh": meshes.len() - 1, "extras": extras }));
    }
    let node_of = |name: &String| nodes.iter().position(|node| node["name"] == name.as_str());
    let animations: Vec<Value> = animations
        .iter()
        .filter_map(|animation| motion::animation(animation, node_of, &mut file))
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

/// All bodies, each with the group that it is of.
fn grouped(scene: &Scene) -> impl Iterator<Item = (&Body, &'static str)> {
    let things = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
    let sump = scene.bodies.iter().map(|body| (body, "sump"));
    let spares = scene.spares.iter().map(|body| (body, "spare"));
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

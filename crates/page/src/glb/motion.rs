//! Motions as animations of nodes.
//!
//! While a part turns, a point of it goes straight, and all others on curves. A node's shift is that of its origin; so it is
//! sampled, and read in straight lines between samples.

use std::collections::BTreeSet;

use fit::{Motion, Rigid};
use glam::DQuat;
use serde_json::{Value, json};

use super::buffer::Buffer;
use super::{Animation, point, single};

/// A sample at least every so many radians: a point half a metre from the axis is then drawn within 0.15 mm of its curve.
const STEP_RAD: f64 = 0.05;

/// Later by so much when nothing would pass between two samples, s: instants must rise (section 3.11 of the standard).
const LEAST_S: f64 = 1e-3;

/// An animation; `None` when nothing moves or no node does.
pub(super) fn animation(
    animation: &Animation,
    node_of: impl Fn(&String) -> Option<usize>,
    file: &mut Buffer,
) -> Option<Value> {
    let (mut channels, mut samplers) = (Vec::new(), Vec::new());
    // A node may be the target of one channel only (section 3.11): what moves twice, moves the first time.
    let mut moved = BTreeSet::new();
    for part in &animation.parts {
        let nodes: Vec<usize> =
            part.bodies.iter().filter_map(&node_of).filter(|node| moved.insert(*node)).collect();
        let samples = samples(&part.motions);
        if nodes.is_empty() || samples.len() < 2 {
            continue;
        }
        let times: Vec<f32> = samples.iter().map(|(t, _)| single([*t])[0]).collect();
        let shifts: Vec<[f32; 3]> = samples.iter().map(|(_, at)| point(at.shift)).collect();
        let turns: Vec<[f32; 4]> = samples.iter().map(|(_, at)| turn(at.turn)).collect();
        let input = file.times(&times);
        for (path, output) in
            [("translation", file.shifts(&shifts)), ("rotation", file.turns(&turns))]
        {
            channels.extend(nodes.iter().map(|node| {
                json!({ "sampler": samplers.len(), "target": { "node": node, "path": path } })
            }));
            samplers.push(json!({ "input": input, "output": output, "interpolation": "LINEAR" }));
        }
    }
    (!channels.is_empty())
        .then(|| json!({ "name": animation.name, "channels": channels, "samplers": samplers }))
}

/// Where the part is at which instants.
fn samples(motions: &[(Motion, [f64; 2])]) -> Vec<(f64, Rigid)> {
    let mut samples: Vec<(f64, Rigid)> = Vec::new();
    let mut add = |t: f64, at: Rigid| {
        let t = samples.last().map_or(t, |(last, _)| t.max(last + LEAST_S));
        samples.push((t, at));
    };
    for (motion, [begin, end]) in motions {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 63")]
        let steps = (motion.angle() / STEP_RAD).ceil().max(1.0) as u32;
        add(*begin, motion.from);
        for k in 1..=steps {
            let share = f64::from(k) / f64::from(steps);
            add(begin + (end - begin) * share, motion.at(share));
        }
    }
    samples
}

/// A turn in the frame of glTF: its axis goes the way of all directions there.
fn turn(turn: DQuat) -> [f32; 4] {
    single([turn.x, turn.z, -turn.y, turn.w])
}

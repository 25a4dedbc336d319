//! Motions as animations of nodes.
//!
//! While a part turns, a point of it goes straight, and all others on curves. A node's shift is that of its origin; so it is
//! sampled, and read in straight lines between samples.

use fit::{Motion, Rigid};
use glam::DQuat;
use serde_json::{Value, json};

use super::buffer::Buffer;
use super::{Animation, point, single};

/// A sample at least every so many radians: a point half a metre from the axis is then drawn within 0.15 mm of its curve.
const STEP_RAD: f64 = 0.05;

/// Later by so much when nothing would pass between two samples, s: instants must rise (section 3.11 of the standard).
const LEAST_S: f64 = 1e-3;

/// The animation of these nodes; `None` when nothing moves or no node does.
pub(super) fn animation(
    animation: &Animation,
    nodes: &[usize],
    file: &mut Buffer,
) -> Option<Value> {
    let samples = samples(&animation.motions);
    if nodes.is_empty() || samples.len() < 2 {
        return None;
    }
    let times: Vec<f32> = samples.iter().map(|(t, _)| single([*t])[0]).collect();
    let shifts: Vec<[f32; 3]> = samples.iter().map(|(_, at)| point(at.shift)).collect();
    let turns: Vec<[f32; 4]> = samples.iter().map(|(_, at)| turn(at.turn)).collect();
    let (input, shifts, turns) = (file.times(&times), file.shifts(&shifts), file.turns(&turns));
    let sampler =
        |output: usize| json!({ "input": input, "output": output, "interpolation": "LINEAR" });
    let channels: Vec<Value> = nodes
        .iter()
        .flat_map(|node| {
            [(0, "translation"), (1, "rotation")].map(|(sampler, path)| {
                json!({ "sampler": sampler, "target": { "node": node, "path": path } })
            })
        })
        .collect();
    Some(json!({
        "name": animation.name,
        "channels": channels,
        "samplers": [sampler(shifts), sampler(turns)],
    }))
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

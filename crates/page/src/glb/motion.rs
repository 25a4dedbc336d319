//! Motions as animations of nodes.
//!
//! While a part turns, a point of it goes straight, and all others on curves. A node's shift is that of its origin; so it is
//! sampled, and read in straight lines between samples.

use std::collections::{BTreeMap, BTreeSet};

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
    is_spare: impl Fn(usize) -> bool,
    file: &mut Buffer,
) -> Option<Value> {
    let mut tracks = tracks(animation, node_of);
    for (node, track) in &mut tracks {
        if is_spare(*node) && !track.poses.is_empty() {
            track.is_there_at_first();
        }
    }
    let (mut channels, mut samplers) = (Vec::new(), Vec::new());
    // What moves together is told once.
    let mut written: Vec<(&[(f64, Rigid)], usize)> = Vec::new();
    for (node, track) in &tracks {
        if track.poses.len() > 1 {
            let known = written.iter().find(|(poses, _)| *poses == track.poses);
            let first = known.map_or(samplers.len(), |(_, first)| *first);
            if first == samplers.len() {
                samplers.extend(poses(&track.poses, file));
                written.push((&track.poses, first));
            }
            for (k, path) in ["translation", "rotation"].into_iter().enumerate() {
                channels.push(channel(first + k, *node, path));
            }
        }
        if !track.seen.is_empty() {
            channels.push(channel(samplers.len(), *node, "scale"));
            samplers.push(seen(&track.seen, file));
        }
    }
    (!channels.is_empty())
        .then(|| json!({ "name": animation.name, "channels": channels, "samplers": samplers }))
}

fn channel(sampler: usize, node: usize, path: &str) -> Value {
    json!({ "sampler": sampler, "target": { "node": node, "path": path } })
}

/// All that happens to a node. It may be the target of one channel of a kind only (section 3.11 of the standard).
#[derive(Default)]
struct Track {
    /// Where it is, and when.
    poses: Vec<(f64, Rigid)>,
    /// Whether it is there, from when on; none when it always is.
    seen: Vec<(f64, bool)>,
}

impl Track {
    fn moves(&mut self, samples: &[(f64, Rigid)]) {
        let Some((begin, _)) = samples.first() else { return };
        if self.seen.last().is_some_and(|(_, is_seen)| !is_seen) {
            self.seen.push((*begin, true));
        }
        // Until it moves again it stays where it came to.
        if let Some((last, at)) = self.poses.last().copied()
            && last + 2.0 * LEAST_S < *begin
        {
            self.poses.push((begin - LEAST_S, at));
        }
        for (t, at) in samples {
            let t = self.poses.last().map_or(*t, |(last, _)| t.max(last + LEAST_S));
            self.poses.push((t, *at));
        }
    }

    fn is_away(&mut self, from_s: f64) {
        let is_first = self.seen.is_empty();
        if is_first && 0.0 < from_s {
            self.seen.push((0.0, true));
        }
        if self.seen.last().is_none_or(|(last, is_seen)| *is_seen && *last < from_s) {
            self.seen.push((from_s, false));
        }
    }

    /// Of what has no size at rest.
    fn is_there_at_first(&mut self) {
        if self.seen.first().is_none_or(|(first, _)| 0.0 < *first) {
            self.seen.insert(0, (0.0, true));
        }
    }
}

/// What happens to every node that an animation names, moves and absences in order of time.
fn tracks(
    animation: &Animation,
    node_of: impl Fn(&String) -> Option<usize>,
) -> BTreeMap<usize, Track> {
    let mut tracks: BTreeMap<usize, Track> = BTreeMap::new();
    let mut away = animation.away.iter().peekable();
    for part in &animation.parts {
        let samples = samples(&part.motions);
        let begin = samples.first().map_or(f64::INFINITY, |(t, _)| *t);
        while let Some(gone) = away.next_if(|gone| gone.from_s <= begin) {
            for node in gone.bodies.iter().filter_map(&node_of) {
                tracks.entry(node).or_default().is_away(gone.from_s);
            }
        }
        if samples.len() > 1 {
            let nodes: BTreeSet<usize> = part.bodies.iter().filter_map(&node_of).collect();
            for node in nodes {
                tracks.entry(node).or_default().moves(&samples);
            }
        }
    }
    for gone in away {
        for node in gone.bodies.iter().filter_map(&node_of) {
            tracks.entry(node).or_default().is_away(gone.from_s);
        }
    }
    tracks
}

/// Shifts, then turns.
fn poses(poses: &[(f64, Rigid)], file: &mut Buffer) -> [Value; 2] {
    let times: Vec<f32> = poses.iter().map(|(t, _)| single([*t])[0]).collect();
    let shifts: Vec<[f32; 3]> = poses.iter().map(|(_, at)| point(at.shift)).collect();
    let turns: Vec<[f32; 4]> = poses.iter().map(|(_, at)| turn(at.turn)).collect();
    let input = file.times(&times);
    [file.shifts(&shifts), file.turns(&turns)]
        .map(|output| json!({ "input": input, "output": output, "interpolation": "LINEAR" }))
}

/// A node without size is not there: so the standard tells to animate it (section 3.5.3, its note on the scale).
fn seen(seen: &[(f64, bool)], file: &mut Buffer) -> Value {
    let times: Vec<f32> = seen.iter().map(|(t, _)| single([*t])[0]).collect();
    let sizes: Vec<[f32; 3]> =
        seen.iter().map(|(_, is_seen)| if *is_seen { [1.0; 3] } else { [0.0; 3] }).collect();
    let (input, output) = (file.times(&times), file.shifts(&sizes));
    json!({ "input": input, "output": output, "interpolation": "STEP" })
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

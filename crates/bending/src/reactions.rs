//! What the supports exert: along lines, at points, at corners; and how beams bend.
//!
//! All of it comes from the forces that are missing at the nodes for the plate to be at rest, so that it adds up to the
//! load exactly.

use crate::assembly::{PER_NODE, slopes};
use crate::grid::OnLine;
use crate::plate::{Hold, Line, Support};
use crate::recover::{Marks, Peak, Second, seconds, top};
use crate::solve::System;

/// What holds the plate against one case of load. Forces are positive that hold it against deflection to the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Reactions {
    /// Of each line of the plate, in their order.
    pub lines: Vec<LineReaction>,
    /// Of each point, N. One that lies on a rigid line exerts nothing of its own.
    pub points: Vec<f64>,
    /// Forces at ends and crossings of rigid lines, apart from what those lines exert along their length: a hinged corner holds
    /// the plate down with `2 M_xy`.
    pub corners: Vec<Corner>,
    /// All that lines (but for beams), points and corners exert, N: the load.
    pub total: f64,
}

/// A force at a corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where, m.
    pub at: [f64; 2],
    /// N; a negative one keeps the plate from lifting.
    pub force: f64,
}

/// What one line exerts on the plate.
#[derive(Clone, Debug, PartialEq)]
pub struct LineReaction {
    /// Places along the line, m.
    pub s: Vec<f64>,
    /// Force per length there, N/m; of a beam, what the plate passes to it.
    pub force: Vec<f64>,
    /// Of clamps and springs, moment per length, N·m/m: at an edge that of the plate, inside that beyond the line
    /// less that before it.
    pub moment: Vec<f64>,
    /// Of a beam, the moment that bends it, N·m, positive if it bulges to the front.
    pub beam: Vec<f64>,
    /// All of its force, N, without corners.
    pub total: f64,
    /// The largest force per length either way, N/m, clear of ends and of places without a bound.
    pub most_force: Option<Peak>,
    /// The largest moment per length either way, N·m/m, clear of the same.
    pub most_moment: Option<Peak>,
    /// The largest moment of a beam either way, N·m.
    pub most_beam: Option<Peak>,
}

pub(crate) fn reactions(
    system: &System,
    marks: &Marks,
    is_unbounded: &[bool],
    u: &[f64],
    load: &[f64],
) -> Reactions {
    let (plate, grid) = (system.plate, &system.grid);
    let (own, whole) = system.missing(u, load);
    let on_lines: Vec<Vec<OnLine>> = plate.lines.iter().map(|line| grid.on_line(line)).collect();
    let mut holders = vec![0_usize; grid.nodes()];
    let mut is_held = vec![false; grid.nodes()];
    for (line, nodes) in plate.lines.iter().zip(&on_lines) {
        for at in nodes.iter().filter(|_| line.support.is_rigid()) {
            holders[at.node] += 1;
            is_held[at.node] |= !matches!(line.support, Support::Rest(_));
        }
    }
    // What of the force at each node is not yet anybody's.
    let mut left: Vec<f64> = whole.iter().step_by(PER_NODE).map(|force| -force).collect();
    let mut lines = Vec::new();
    for (index, (line, nodes)) in plate.lines.iter().zip(&on_lines).enumerate() {
        let mut reaction = LineReaction::none(nodes);
        match line.support {
            Support::Hinge | Support::Clamp => {
                let forces: Vec<f64> = nodes.iter().map(|at| -whole[PER_NODE * at.node]).collect();
                let is_own = |k: usize| holders[nodes[k].node] == 1;
                let spread = spread(nodes, &forces, is_own);
                for (at, share) in nodes.iter().zip(&spread.shares) {
                    left[at.node] -= share;
                }
                reaction.total = spread.shares.iter().sum();
                reaction.force = spread.per_length;
            }
            Support::Rest(_) => {
                // A frame has no concentrated forces: where nothing else holds, all of the node's force is its own.
                for (k, at) in nodes.iter().enumerate().filter(|(_, at)| !is_held[at.node]) {
                    let share = std::mem::take(&mut left[at.node]);
                    reaction.force[k] = share / tributary(nodes, k);
                    reaction.total += share;
                }
            }
            Support::Spring { k, .. } => {
                let w = nodes.iter().map(|at| k * u[PER_NODE * at.node]);
                reaction.force = w.collect();
                reaction.total = taken(system, index, u);
            }
            Support::Beam { ei, .. } => {
                let forces: Vec<f64> = nodes.iter().map(|at| -own[PER_NODE * at.node]).collect();
                let is_own = |k: usize| holders[nodes[k].node] == 0;
                let spread = spread(nodes, &forces, is_own);
                reaction.total = spread.shares.iter().sum();
                reaction.force = spread.per_length;
                reaction.beam = beam(line, nodes, marks, u, ei);
            }
        }
        moments(system, line, nodes, &holders, u, &whole, &mut reaction);
        reaction.find_peaks(line, nodes, is_unbounded);
        lines.push(reaction);
    }
    let mut corners = Vec::new();
    for (line, nodes) in plate.lines.iter().zip(&on_lines) {
        for at in nodes.iter().filter(|_| line.support.is_rigid()) {
            // Shares of nodes within the lines are whole: what is left of them is rounding.
            let is_end =
                [nodes.first(), nodes.last()].into_iter().flatten().any(|end| end.node == at.node);
            if is_end || holders[at.node] > 1 {
                let force = std::mem::take(&mut left[at.node]);
                if force.abs() > 0.0 {
                    corners.push(Corner { at: grid.place(at.node), force });
                }
            }
        }
    }
    let points = plate.points.iter().map(|point| {
        let node = grid.nearest_node(point.at);
        match point.hold {
            Hold::Spring(k) => k * u[PER_NODE * node],
            Hold::Rigid | Hold::Rest(_) if holders[node] == 0 => std::mem::take(&mut left[node]),
            Hold::Rigid | Hold::Rest(_) => 0.0,
        }
    });
    let points: Vec<f64> = points.collect();
    let of_lines = plate.lines.iter().zip(&lines);
    let total = of_lines
        .filter(|(line, _)| !matches!(line.support, Support::Beam { .. }))
        .map(|(_, reaction)| reaction.total)
        .chain(points.iter().copied())
        .chain(corners.iter().map(|corner| corner.force))
        .sum();
    Reactions { lines, points, corners, total }
}

impl LineReaction {
    fn none(nodes: &[OnLine]) -> Self {
        let s: Vec<f64> = nodes.iter().map(|at| at.s).collect();
        Self {
            force: vec![0.0; s.len()],
            s,
            moment: Vec::new(),
            beam: Vec::new(),
            total: 0.0,
            most_force: None,
            most_moment: None,
            most_beam: None,
        }
    }

    fn find_peaks(&mut self, line: &Line, nodes: &[OnLine], is_unbounded: &[bool]) {
        let last = nodes.len() - 1;
        let largest = |values: &[f64], may: &dyn Fn(usize) -> bool| {
            let k = (0..values.len())
                .filter(|&k| may(k))
                .max_by(|&a, &b| values[a].abs().total_cmp(&values[b].abs()))?;
            let (mut value, mut s) = (values[k], nodes[k].s);
            // Sharpened by a parabola, as over the plate.
            if 0 < k && k < last && may(k - 1) && may(k + 1) {
                let near = [k - 1, k, k + 1];
                let sign = value.signum();
                let (rise, at) = top(near.map(|k| nodes[k].s), near.map(|k| sign * values[k]));
                (value, s) = (value + sign * rise, at);
            }
            let at = if line.along == crate::Along::X { [s, line.at] } else { [line.at, s] };
            Some(Peak { value, at })
        };
        let is_bounded = |k: usize| 0 < k && k < last && !is_unbounded[nodes[k].node];
        self.most_force = largest(&self.force, &is_bounded);
        self.most_moment = largest(&self.moment, &is_bounded);
        self.most_beam = largest(&self.beam, &|_| true);
    }
}

/// Length of the line that is nearer to node `k` than to others.
fn tributary(nodes: &[OnLine], k: usize) -> f64 {
    let last = nodes.len() - 1;
    0.5 * (nodes[(k + 1).min(last)].s - nodes[k.saturating_sub(1)].s)
}

/// What is exerted along a line, per length at each node and as the node's share of the whole.
struct Spread {
    per_length: Vec<f64>,
    shares: Vec<f64>,
}

/// From the forces of the nodes, or their couples. At ends, and where others hold too, what is exerted is carried on from the nodes
/// beside; what the node has more than that is concentrated.
fn spread(nodes: &[OnLine], forces: &[f64], is_own: impl Fn(usize) -> bool) -> Spread {
    let last = nodes.len() - 1;
    let plain: Vec<usize> = (1..last).filter(|&k| is_own(k)).collect();
    let known: Vec<(f64, f64)> =
        plain.iter().map(|&k| (nodes[k].s, forces[k] / tributary(nodes, k))).collect();
    let mut sharp = known.clone();
    for (at, &k) in plain.iter().enumerate() {
        // The force of a node is the mean of what is exerted around it, weighed by the cubic that is one there: of a
        // parabola through the means, this takes off what the weights make of its slope and its curve.
        let (before, after) = (nodes[k].s - nodes[k - 1].s, nodes[k + 1].s - nodes[k].s);
        let (slope, curve) = derivatives(&near(&known, nodes[k].s), nodes[k].s);
        sharp[at].1 -= 0.3 * (after - before) * slope
            + (before * before - before * after + after * after) / 15.0 * curve;
    }
    let mut per_length: Vec<f64> =
        nodes.iter().map(|node| carried_on(&near(&sharp, node.s), node.s)).collect();
    let mut shares: Vec<f64> =
        per_length.iter().enumerate().map(|(k, v)| v * tributary(nodes, k)).collect();
    for (at, &k) in plain.iter().enumerate() {
        per_length[k] = sharp[at].1;
        shares[k] = forces[k];
    }
    Spread { per_length, shares }
}

/// The three known points that are nearest to a place, or as many as there are.
fn near(known: &[(f64, f64)], s: f64) -> Vec<(f64, f64)> {
    let from = known.partition_point(|point| point.0 < s).saturating_sub(1);
    let from = from.min(known.len().saturating_sub(3));
    known[from..known.len().min(from + 3)].to_vec()
}

/// First and second derivative at `s` of the parabola through three points; nought of fewer.
fn derivatives(points: &[(f64, f64)], s: f64) -> (f64, f64) {
    let [a, b, c] = points else { return (0.0, 0.0) };
    let first = (b.1 - a.1) / (b.0 - a.0);
    let second = ((c.1 - b.1) / (c.0 - b.0) - first) / (c.0 - a.0);
    (first + second * (2.0 * s - a.0 - b.0), 2.0 * second)
}

/// The polynomial through some points, taken at `s`.
fn carried_on(points: &[(f64, f64)], s: f64) -> f64 {
    let weight = |k: usize| -> f64 {
        let others = points.iter().enumerate().filter(|(other, _)| *other != k);
        others.map(|(_, other)| (s - other.0) / (points[k].0 - other.0)).product()
    };
    points.iter().enumerate().map(|(k, point)| weight(k) * point.1).sum()
}

/// What a spring takes from the plate, N.
fn taken(system: &System, line: usize, u: &[f64]) -> f64 {
    let own = system.stiffness.segments.iter().filter(|s| s.line == line && s.takes_force);
    own.map(|segment| {
        let [a, _, b, _] = segment.forces(u);
        a + b
    })
    .sum()
}

/// Moments that a clamp or a spring exerts.
fn moments(
    system: &System,
    line: &Line,
    nodes: &[OnLine],
    holders: &[usize],
    u: &[f64],
    whole: &[f64],
    reaction: &mut LineReaction,
) {
    let (_, across) = slopes(line.along);
    let sign = if system.grid.is_on_last(line) { -1.0 } else { 1.0 };
    reaction.moment = match line.support {
        Support::Clamp => {
            let couples: Vec<f64> =
                nodes.iter().map(|at| sign * whole[PER_NODE * at.node + across]).collect();
            let mut moment = spread(nodes, &couples, |k| holders[nodes[k].node] == 1).per_length;
            // Where another rigid line crosses there is nothing to turn.
            let crossed = moment.iter_mut().zip(nodes).filter(|(_, at)| holders[at.node] > 1);
            crossed.for_each(|(moment, _)| *moment = 0.0);
            moment
        }
        Support::Spring { kr, .. } if kr > 0.0 => {
            nodes.iter().map(|at| -sign * kr * u[PER_NODE * at.node + across]).collect()
        }
        _ => Vec::new(),
    };
}

/// `−EI w''` along a beam.
fn beam(line: &Line, nodes: &[OnLine], marks: &Marks, u: &[f64], ei: f64) -> Vec<f64> {
    let (along, _) = slopes(line.along);
    let places: Vec<f64> = nodes.iter().map(|at| at.s).collect();
    let is_kink = |k: usize| marks.is_kink[along - 1][nodes[k].node];
    let second = |second: &Second| match second {
        Second::Nothing => 0.0,
        Second::Smooth(stencil) => stencil.apply(u, along),
        Second::Kinked(a, b) => 0.5 * (a.apply(u, along) + b.apply(u, along)),
    };
    let seconds = seconds(&places, |_| true, is_kink, |k| nodes[k].node);
    seconds.iter().map(|of_node| -ei * second(of_node)).collect()
}

//! What the supports exert: along lines, at points, at corners; and how beams bend.
//!
//! All of it comes from the forces that are missing at the nodes for the plate to be at rest, so that it adds up to the
//! load exactly.

use crate::assembly::{PER_NODE, slopes};
use crate::grid::OnLine;
use crate::plate::{Hold, Line, Support};
use crate::recover::{Marks, Peak, Second, seconds};
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
    for (line, nodes) in plate.lines.iter().zip(&on_lines) {
        if line.support.is_rigid() {
            nodes.iter().for_each(|at| holders[at.node] += 1);
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
                reaction.force = spread(nodes, &forces, is_own);
                for (at, force) in nodes.iter().zip(reaction.shares()) {
                    left[at.node] -= force;
                }
            }
            Support::Rest(_) => {
                // A frame has no concentrated forces: where it alone holds, all of the node's force is its own.
                for (k, at) in nodes.iter().enumerate() {
                    reaction.force[k] = left[at.node] / tributary(nodes, k);
                    left[at.node] = 0.0;
                }
            }
            Support::Spring { k, .. } => {
                let w = nodes.iter().map(|at| k * u[PER_NODE * at.node]);
                reaction.force = w.collect();
            }
            Support::Beam { ei, .. } => {
                let forces: Vec<f64> = nodes.iter().map(|at| -own[PER_NODE * at.node]).collect();
                let is_own = |k: usize| holders[nodes[k].node] == 0;
                reaction.force = spread(nodes, &forces, is_own);
                reaction.beam = beam(line, nodes, marks, u, ei);
            }
        }
        reaction.total = match line.support {
            Support::Spring { .. } => taken(system, index, u),
            _ => reaction.shares().iter().sum(),
        };
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

    /// Force of each node.
    fn shares(&self) -> Vec<f64> {
        let nodes: Vec<OnLine> = self.s.iter().map(|&s| OnLine { node: 0, s }).collect();
        self.force.iter().enumerate().map(|(k, force)| force * tributary(&nodes, k)).collect()
    }

    fn find_peaks(&mut self, line: &Line, nodes: &[OnLine], is_unbounded: &[bool]) {
        let last = nodes.len() - 1;
        let largest = |values: &[f64], may: &dyn Fn(usize) -> bool| {
            let k = (0..values.len())
                .filter(|&k| may(k))
                .max_by(|&a, &b| values[a].abs().total_cmp(&values[b].abs()))?;
            let s = nodes[k].s;
            let at = if line.along == crate::Along::X { [s, line.at] } else { [line.at, s] };
            Some(Peak { value: values[k], at })
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

/// Force per length from the forces of the nodes. At ends, and where others hold too, it is carried on from the nodes beside;
/// what the node has more than that is concentrated.
fn spread(nodes: &[OnLine], forces: &[f64], is_own: impl Fn(usize) -> bool) -> Vec<f64> {
    let last = nodes.len() - 1;
    let is_plain = |k: usize| 0 < k && k < last && is_own(k);
    let known: Vec<(f64, f64)> = (0..=last)
        .filter(|&k| is_plain(k))
        .map(|k| (nodes[k].s, forces[k] / tributary(nodes, k)))
        .collect();
    let near = |s: f64| {
        let mut sorted = known.clone();
        sorted.sort_by(|a, b| (a.0 - s).abs().total_cmp(&(b.0 - s).abs()));
        sorted.truncate(3);
        sorted
    };
    let mut plain = known.iter();
    (0..=last)
        .map(|k| match plain.as_slice().first() {
            Some(&(_, force)) if is_plain(k) => {
                plain.next();
                force
            }
            _ => carried_on(&near(nodes[k].s), nodes[k].s),
        })
        .collect()
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
        // Where another rigid line crosses there is nothing to turn.
        Support::Clamp => nodes
            .iter()
            .enumerate()
            .map(|(k, at)| match holders[at.node] {
                1 => sign * whole[PER_NODE * at.node + across] / tributary(nodes, k),
                _ => 0.0,
            })
            .collect(),
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

//! Which unknowns the rigid supports hold.

use crate::assembly::{PER_NODE, slopes};
use crate::grid::{Grid, OnLine};
use crate::plate::{Hold, Plate, Side, Support};

/// A node at which the plate may touch a support that only pushes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Touch {
    pub(crate) node: usize,
    /// The direction of deflection that it stops: +1 to the front, −1 to the back.
    pub(crate) stops: f64,
    /// Index of its line; `None` for a point.
    pub(crate) line: Option<usize>,
}

/// Of each unknown, whether it is held; of the touches only those which are closed hold.
pub(crate) fn held(plate: &Plate, grid: &Grid, touches: &[Touch], closed: &[bool]) -> Vec<bool> {
    let mut held = vec![false; PER_NODE * grid.nodes()];
    for line in &plate.lines {
        let (along, _) = slopes(line.along);
        let offsets: &[usize] = match line.support {
            Support::Hinge => &[0, along],
            Support::Clamp => &[0, 1, 2, 3],
            Support::Spring { .. } | Support::Beam { .. } | Support::Rest(_) => continue,
        };
        for OnLine { node, .. } in grid.on_line(line) {
            offsets.iter().for_each(|offset| held[PER_NODE * node + offset] = true);
        }
    }
    for point in plate.points.iter().filter(|point| point.hold == Hold::Rigid) {
        held[PER_NODE * grid.nearest_node(point.at)] = true;
    }
    for (k, touch) in touches.iter().enumerate() {
        if !closed[k] {
            continue;
        }
        held[PER_NODE * touch.node] = true;
        // Where the plate touches on both sides too, it lies flat along the line.
        let is_open = |other: usize| {
            touches.get(other).is_some_and(|next| next.line == touch.line && !closed[other])
        };
        if let Some(line) = touch.line
            && !is_open(k.wrapping_sub(1))
            && !is_open(k + 1)
        {
            held[PER_NODE * touch.node + slopes(plate.lines[line].along).0] = true;
        }
    }
    held
}

/// All places at which the plate may touch, those of a line side by side in their order.
pub(crate) fn touches(plate: &Plate, grid: &Grid) -> Vec<Touch> {
    let sign = |side: Side| if side == Side::Front { 1.0 } else { -1.0 };
    let is_plate = |node: usize| grid.around(node).contains(&true);
    let mut touches = Vec::new();
    for (index, line) in plate.lines.iter().enumerate() {
        if let Support::Rest(side) = line.support {
            let nodes = grid.on_line(line).into_iter().filter(|at| is_plate(at.node));
            touches.extend(nodes.map(|at| Touch {
                node: at.node,
                stops: sign(side),
                line: Some(index),
            }));
        }
    }
    for point in &plate.points {
        if let Hold::Rest(side) = point.hold {
            let node = grid.nearest_node(point.at);
            touches.push(Touch { node, stops: sign(side), line: None });
        }
    }
    touches
}

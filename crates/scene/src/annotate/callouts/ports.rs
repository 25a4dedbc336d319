//! The places around a drawing.

use glam::{DVec2, dvec2};

use super::{Callout, Layout, Wanted, passes};
use crate::camera::Frame;

/// Which way the text stands off the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edge {
    Left,
    Right,
    Above,
    Below,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Port {
    pub(super) at: DVec2,
    pub(super) edge: Edge,
}

impl Layout {
    /// All places for texts up to a width; in rows each has a cell of `cell` widths.
    pub(super) fn ports(&self, widest: f64, cell: f64) -> Vec<Port> {
        let mut ports = Vec::new();
        let (drawing, paper) = (self.drawing, self.paper);
        let side_room = widest + self.gap;
        for (edge, x, room) in [
            (Edge::Left, drawing.min.x, drawing.min.x - paper.min.x),
            (Edge::Right, drawing.max.x, paper.max.x - drawing.max.x),
        ] {
            let height = drawing.max.y - drawing.min.y;
            if side_room <= room {
                ports.extend(
                    spread(height, self.line)
                        .map(|y| Port { at: dvec2(x, drawing.min.y + y), edge }),
                );
            }
        }
        let (left, right) = (paper.min.x, paper.max.x);
        for (edge, y, room) in [
            (Edge::Above, drawing.min.y, drawing.min.y - paper.min.y),
            (Edge::Below, drawing.max.y, paper.max.y - drawing.max.y),
        ] {
            if self.line + self.gap <= room {
                ports.extend(
                    spread(right - left, widest * cell + self.line)
                        .map(|x| Port { at: dvec2(left + x, y), edge }),
                );
            }
        }
        ports
    }

    /// Length of a leader, with an extra for ways that are not liked.
    pub(super) fn cost(&self, label: &Wanted, port: DVec2, edge: Edge, blocked: &[Frame]) -> f64 {
        const DETOUR_LINES: f64 = 5.0;
        const FROM_BELOW_LINES: f64 = 12.0;
        let through = blocked.iter().filter(|frame| passes([label.anchor, port], frame)).count();
        let is_from_below = label.is_upper && edge == Edge::Below;
        let from_below = if is_from_below { FROM_BELOW_LINES } else { 0.0 };
        label.anchor.distance(port) + self.line * (DETOUR_LINES * through as f64 + from_below)
    }
}

/// Middles of as many cells of the given size as fit into a length, spread evenly.
fn spread(length: f64, cell: f64) -> impl Iterator<Item = f64> {
    let count = (length / cell).floor().max(0.0);
    let step = length / count.max(1.0);
    (0..).map(f64::from).take_while(move |i| *i < count).map(move |i| (i + 0.5) * step)
}

impl Port {
    pub(super) fn callout(&self, label: usize, wanted: &Wanted, layout: &Layout) -> Callout {
        let half = 0.5 * layout.line;
        let min = match self.edge {
            Edge::Left => self.at - dvec2(layout.gap + wanted.width, half),
            Edge::Right => self.at + dvec2(layout.gap, -half),
            Edge::Above => self.at - dvec2(0.5 * wanted.width, layout.gap + layout.line),
            Edge::Below => self.at + dvec2(-0.5 * wanted.width, layout.gap),
        };
        let text = Frame { min, max: min + dvec2(wanted.width, layout.line) };
        Callout { label, anchor: wanted.anchor, port: self.at, text, edge: self.edge }
    }
}

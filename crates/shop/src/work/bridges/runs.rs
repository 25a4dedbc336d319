//! A path of the tool as the stretches in which it cuts and those in which it is lifted over a bridge.

use glam::DVec2;
use plate::Segment;

use super::is_on;
use crate::work::{CutPath, Operation};

/// A stretch of a tool's path.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its pieces, each from the end of the one before.
    pub pieces: Vec<Segment>,
    /// Whether the tool is lifted over a bridge here.
    pub is_lifted: bool,
}

impl Operation {
    /// A path of the tool as the stretches in which it cuts and those in which it is lifted over a bridge, beginning
    /// after a bridge where there is one. Open paths have none.
    pub fn runs(&self, path: usize) -> Vec<Run> {
        let Some(CutPath::Closed(contour)) = self.tool.get(path) else { return Vec::new() };
        let lifts: Vec<[DVec2; 2]> =
            self.bridges.iter().filter(|b| b.path == path).map(|b| b.lifted).collect();
        let mut runs: Vec<Run> = Vec::new();
        let mut add = |piece: Segment, is_lifted: bool| match runs.last_mut() {
            Some(run) if run.is_lifted == is_lifted => run.pieces.push(piece),
            _ => runs.push(Run { pieces: vec![piece], is_lifted }),
        };
        for piece in &contour.0 {
            let mut own: Vec<[DVec2; 2]> = lifts
                .iter()
                .filter(|ends| ends.iter().all(|p| is_on(piece, *p)))
                .map(|&[a, b]| {
                    let from = |p: DVec2| p.distance_squared(piece.start);
                    if from(a) <= from(b) { [a, b] } else { [b, a] }
                })
                .collect();
            let from = |ends: &[DVec2; 2]| ends[0].distance_squared(piece.start);
            own.sort_by(|a, b| from(a).total_cmp(&from(b)));
            let mut at = piece.start;
            for [a, b] in &own {
                add(Segment::line(at, *a), false);
                add(Segment::line(*a, *b), true);
                at = *b;
            }
            let rest = if own.is_empty() { *piece } else { Segment::line(at, piece.end) };
            add(rest, false);
        }
        // What begins where the contour is written to begin goes on from its end.
        if runs.len() > 1 && runs.last().is_some_and(|last| !last.is_lifted) {
            let first = runs.remove(0);
            if let Some(last) = runs.last_mut() {
                last.pieces.extend(first.pieces);
            }
            // The tool begins in what it cuts.
            runs.rotate_left(1);
        }
        runs
    }
}

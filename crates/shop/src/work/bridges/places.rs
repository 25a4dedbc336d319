//! Where a bridge could stand: on a straight edge, away from corners, with whole sheet at both sides of the cut.

use glam::DVec2;
use plate::{Contour, Face, FlatPattern, Segment};

use super::glued::GluedEdges;
use super::{Bridge, SAME_MM, is_on};
use crate::process::Machine;
use crate::work::{CutPath, Operation, OperationKind};

/// From a bridge, and from where the tool is lifted, to the next corner or arc, mm (our judgement).
pub(super) const CORNER_MM: f64 = 5.0;
/// How far beyond the cut there must be sheet for a bridge to hold to, mm: looked at from near to far (our judgement).
const BEYOND_MM: [f64; 3] = [0.5, 1.5, 3.0];
/// Between two places that are looked at, mm.
const STEP_MM: f64 = 5.0;

/// Looks at an edge of a part.
pub(super) struct Placer<'a> {
    pub(super) machine: &'a Machine,
    pub(super) thickness_mm: f64,
    /// Length and height, mm.
    pub(super) size: [f64; 2],
    pub(super) pattern: &'a FlatPattern,
    pub(super) glued: &'a GluedEdges,
    pub(super) operation: &'a Operation,
    pub(super) edge: &'a Contour,
}

impl Placer<'_> {
    /// All places, in the order of the edge.
    pub(super) fn places(&self) -> Vec<Bridge> {
        let half = 0.5 * self.size[0] + self.machine.radius_mm() + CORNER_MM;
        let mut places = Vec::new();
        for piece in self.edge.0.iter().filter(|piece| piece.arc.is_none()) {
            let room = piece.length() - 2.0 * half;
            if room < 0.0 {
                continue;
            }
            let along = (piece.end - piece.start).normalize_or_zero();
            let steps = (room / STEP_MM).floor();
            let mut k = 0.0;
            while k <= steps {
                let middle = half + 0.5 * (room - steps * STEP_MM) + k * STEP_MM;
                let at = piece.start + along * middle;
                places.extend(self.bridge(at, along));
                k += 1.0;
            }
        }
        places
    }

    /// A bridge here, where the sheet is whole below it and the tool runs straight along all of it.
    fn bridge(&self, at: DVec2, along: DVec2) -> Option<Bridge> {
        let [length_mm, height_mm] = self.size;
        let inwards = along.perp();
        let whole = [-0.5, 0.0, 0.5].iter().all(|share| {
            let p = at + along * (share * length_mm) + inwards * (2.0 * SAME_MM);
            self.pattern.pockets.iter().all(|pocket| {
                let turns: i32 = pocket.loops.iter().map(|contour| contour.winding(p)).sum();
                let is_below_the_floor =
                    pocket.face == Face::Top && self.thickness_mm - pocket.depth_mm >= height_mm;
                turns == 0 || is_below_the_floor
            })
        });
        if !whole {
            return None;
        }
        let out = -inwards * self.machine.radius_mm();
        let reach = along * (0.5 * length_mm + self.machine.radius_mm());
        let lifted = [at + out - reach, at + out + reach];
        let runs_along = |path: &CutPath| match path {
            CutPath::Closed(contour) => {
                contour.0.iter().any(|piece| lifted.iter().all(|p| is_on(piece, *p)))
            }
            CutPath::Open(_) => false,
        };
        let path = self.operation.tool.iter().position(runs_along)?;
        let holds = |share: f64| self.is_sheet_beyond(at + along * (share * length_mm), -inwards);
        if ![-0.5, 0.0, 0.5].into_iter().all(holds) {
            return None;
        }
        // All that is left of a bridge must be clear of the joint.
        let is_glued = |share: f64| {
            self.glued.is_at(at + along * (share * length_mm), -inwards, self.thickness_mm)
        };
        let is_on_glued_edge = self.operation.kind == OperationKind::Outline
            && [-0.5, 0.0, 0.5].into_iter().any(is_glued);
        Some(Bridge { at, along, length_mm, height_mm, path, lifted, is_on_glued_edge })
    }
}

impl Placer<'_> {
    /// Whether the cut at a place of the edge has sheet at its other side: in a narrow notch the tool comes back there.
    fn is_sheet_beyond(&self, at: DVec2, out: DVec2) -> bool {
        let pieces = self.operation.tool.iter().filter_map(|path| match path {
            CutPath::Closed(contour) => Some(contour),
            CutPath::Open(_) => None,
        });
        let pieces: Vec<&Segment> = pieces.flat_map(|contour| &contour.0).collect();
        BEYOND_MM.into_iter().all(|beyond| {
            let p = at + out * (self.machine.width_mm + beyond);
            let turns: i32 = self.pattern.through.iter().map(|contour| contour.winding(p)).sum();
            turns == 0 && pieces.iter().all(|s| s.distance(p) > self.machine.radius_mm())
        })
    }
}

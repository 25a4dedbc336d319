//! Makes the operations of a plate: which there are, in which order, and the path of the tool for each.

use std::collections::BTreeMap;

use plate::{Contour, Face, FlatPattern, Plate};

use super::bridges::{self, GluedEdges};
use super::{CutPath, Operation, OperationKind};
use crate::process::Machine;
use crate::tool::{NoPath, Walls, beside, clear};

/// An operation, and why it has no path where none could be made.
pub(super) type Made = (Operation, Option<NoPath>);

/// The operations on a plate, in their order. `glued`: what bridges keep away from.
pub(super) fn operations(
    machine: &Machine,
    plate: &Plate,
    pattern: &FlatPattern,
    glued: &GluedEdges,
) -> Vec<Made> {
    let mut all = Maker { machine, plate, walls: BTreeMap::new() }.operations(pattern);
    for (operation, _) in &mut all {
        operation.bridges = bridges::place(machine, plate.thickness, pattern, glued, operation);
    }
    all
}

struct Maker<'a> {
    machine: &'a Machine,
    plate: &'a Plate,
    /// What stands higher than a floor, by face and depth (its bits: depths are equal to the last).
    walls: BTreeMap<(Face, u64), Walls>,
}

impl Maker<'_> {
    fn operations(&mut self, pattern: &FlatPattern) -> Vec<Made> {
        let mut all = self.engraving(pattern);
        all.extend(pattern.pockets.iter().enumerate().filter_map(|(i, _)| self.pocket(pattern, i)));
        all.extend(pattern.through.iter().map(|edge| self.through(edge)));
        all.sort_by_key(|(operation, _)| operation.kind);
        all
    }

    fn engraving(&self, pattern: &FlatPattern) -> Vec<Made> {
        let is_saw = self.machine.process == params::Process::Saw;
        let strokes = pattern.engravings.iter().flat_map(|engraving| {
            engraving.strokes.iter().map(|stroke| (engraving.face, CutPath::Open(stroke.clone())))
        });
        let operation = |(face, edge): (Face, CutPath)| Operation {
            kind: OperationKind::Engrave,
            face,
            depth_mm: self.machine.engraving_mm,
            tool: if is_saw { Vec::new() } else { vec![edge.clone()] },
            edge,
            pocket: None,
            bridges: Vec::new(),
        };
        strokes.map(|stroke| (operation(stroke), None)).collect()
    }

    fn pocket(&mut self, pattern: &FlatPattern, i: usize) -> Option<Made> {
        let region = &pattern.pockets[i];
        let edge = CutPath::Closed(region.loops.first()?.clone());
        let path = if self.machine.cuts_pockets() { self.cleared(region) } else { Ok(Vec::new()) };
        // The pattern is seen from the upper face; the tool comes from below and sees it mirrored.
        let path = match region.face {
            Face::Top => path,
            Face::Bottom => path.map(|loops| loops.iter().map(Contour::reversed).collect()),
        };
        let (tool, failed) = taken_apart(path);
        let operation = Operation {
            kind: OperationKind::Pocket,
            face: region.face,
            depth_mm: region.depth_mm,
            edge,
            pocket: Some(i),
            tool,
            bridges: Vec::new(),
        };
        Some((operation, failed))
    }

    fn cleared(&mut self, region: &plate::PocketRegion) -> Result<Vec<Contour>, NoPath> {
        let key = (region.face, region.depth_mm.to_bits());
        if !self.walls.contains_key(&key) {
            self.walls.insert(key, Walls::new(self.plate, region.face, region.depth_mm)?);
        }
        clear(region, &self.walls[&key], self.machine.radius_mm(), self.machine.stepover_mm())
    }

    fn through(&self, edge: &Contour) -> Made {
        let kind = match (edge.signed_area() > 0.0, edge.as_circle()) {
            (true, _) => OperationKind::Outline,
            (false, Some(_)) => OperationKind::Hole,
            (false, None) => OperationKind::Inside,
        };
        let (tool, failed) = if self.machine.process == params::Process::Saw {
            (self.sawn(edge), None)
        } else {
            taken_apart(beside(edge, self.machine.radius_mm()))
        };
        let depth_mm = self.plate.thickness;
        let edge = CutPath::Closed(edge.clone());
        let (face, bridges) = (Face::Top, Vec::new());
        (Operation { kind, face, depth_mm, edge, pocket: None, tool, bridges }, failed)
    }

    /// Where the middle of a saw blade runs: along every side, if the part is a convex polygon.
    fn sawn(&self, edge: &Contour) -> Vec<CutPath> {
        if !is_sawable(edge) {
            return Vec::new();
        }
        let r = self.machine.radius_mm();
        let side = |piece: &plate::Segment| {
            let out = (piece.start - piece.end).perp().normalize_or_zero() * r;
            CutPath::Open(vec![piece.start + out, piece.end + out])
        };
        edge.0.iter().map(side).collect()
    }
}

/// Whether straight cuts that go right through can leave this outline.
pub(crate) fn is_sawable(edge: &Contour) -> bool {
    let n = edge.0.len();
    let turns_left = |i: usize| {
        let (a, b) = (&edge.0[i], &edge.0[(i + 1) % n]);
        (a.end - a.start).perp_dot(b.end - b.start) > 0.0
    };
    edge.signed_area() > 0.0
        && edge.0.iter().all(|piece| piece.arc.is_none())
        && (0..n).all(turns_left)
}

fn taken_apart(path: Result<Vec<Contour>, NoPath>) -> (Vec<CutPath>, Option<NoPath>) {
    match path {
        Ok(loops) => (loops.into_iter().map(CutPath::Closed).collect(), None),
        Err(reason) => (Vec::new(), Some(reason)),
    }
}

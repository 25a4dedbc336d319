//! Says where the tool does not get into a part, and which parts are turned over.

use design::{Design, Piece};
use findings::Finding;
use glam::DVec2;
use params::Process;
use plate::{Contour, Face, FlatPattern};
use units::Length;

use super::make::Made;
use super::{CutPath, Operation, OperationKind, Work};
use crate::process::Machine;
use crate::tool::{Left, NoPath, left_standing};

/// What is left standing in a corner is told from this on, mm; less is scraped off by hand (our judgement).
const TOLD_MM: f64 = 0.3;

/// What there is to say of the operations on a part.
pub(super) fn of_part(
    design: &Design,
    piece: &Piece,
    machine: &Machine,
    pattern: &FlatPattern,
    made: &[Made],
) -> Vec<Finding> {
    Teller { design, piece, machine }.all(pattern, made)
}

struct Teller<'a> {
    design: &'a Design,
    piece: &'a Piece,
    machine: &'a Machine,
}

impl Teller<'_> {
    fn all(&self, pattern: &FlatPattern, made: &[Made]) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut drilled = Vec::new();
        let mut sharpest: Option<Left> = None;
        for (operation, failed) in made {
            if let Some(reason) = failed {
                findings.push(self.no_path(operation, reason));
            } else if self.is_this_machines(operation) {
                let left = self.left_standing(pattern, operation);
                if operation.kind == OperationKind::Hole && operation.tool.is_empty() {
                    drilled.push(hole_diameter(&operation.edge));
                } else if left.most_mm > self.machine.radius_mm() {
                    findings.push(self.too_narrow(operation, left));
                } else if left.most_mm > TOLD_MM
                    && sharpest.is_none_or(|sharpest| left.most_mm > sharpest.most_mm)
                {
                    sharpest = Some(left);
                }
            }
        }
        findings.extend(self.drilled(drilled));
        findings.extend(sharpest.map(|left| self.sharp_corner(left)));
        findings
    }

    /// Whether the process can do this at all; else the checks of the process tell it for all parts at once.
    fn is_this_machines(&self, operation: &Operation) -> bool {
        match self.machine.process {
            Process::Router => operation.kind != OperationKind::Engrave,
            Process::Laser => {
                !matches!(operation.kind, OperationKind::Engrave | OperationKind::Pocket)
            }
            Process::Saw => false,
        }
    }

    fn left_standing(&self, pattern: &FlatPattern, operation: &Operation) -> Left {
        let closed = |path: &CutPath| match path {
            CutPath::Closed(contour) => Some(contour.clone()),
            CutPath::Open(_) => None,
        };
        let tool: Vec<Contour> = operation.tool.iter().filter_map(closed).collect();
        let own = closed(&operation.edge);
        let floor = operation.pocket.map(|i| pattern.pockets[i].loops.as_slice());
        let edges = floor.unwrap_or(own.as_slice());
        left_standing(edges.iter(), &tool, self.machine.radius_mm())
    }

    fn show(&self, mm: f64) -> String {
        Length::mm(mm).show(self.design.report)
    }

    /// `[120 mm, 40 mm] of the panel`: a place in the part's own frame, in the units of the file.
    fn place(&self, at: DVec2) -> String {
        // No minus before a nought.
        let [x, y] = (at + DVec2::ZERO).to_array().map(|mm| self.show(mm));
        format!("[{x}, {y}] of the panel")
    }

    fn name(&self) -> String {
        format!("part {} {}", self.piece.number, self.piece.name)
    }

    fn no_path(&self, operation: &Operation, reason: &NoPath) -> Finding {
        let message = format!(
            "no path of the tool could be made for {} of {}: {reason}",
            operation.kind.words(),
            self.name()
        );
        Finding::not_checked("tool-path-not-made", &self.piece.parameter, message)
            .with_hint("let the shop make the path from the edges of the part, which are exact")
    }

    /// Holes that are narrower than the cutter, by their diameters.
    fn drilled(&self, mut diameters: Vec<f64>) -> Option<Finding> {
        diameters.sort_by(f64::total_cmp);
        let narrowest = *diameters.first()?;
        let groups = diameters.chunk_by(|a, b| b - a < 1e-6);
        let each = groups.map(|group| format!("{} of {}", group.len(), self.show(group[0])));
        let message = format!(
            "{}: holes narrower than the tool of {} are drilled: {}",
            self.name(),
            self.show(self.machine.width_mm),
            each.collect::<Vec<_>>().join(", ")
        );
        Some(
            Finding::tight("hole-is-drilled", &self.piece.parameter, message)
                .with_limit(narrowest, self.machine.width_mm, "mm")
                .with_hint("have them drilled, or take a thinner cutter (`cutting.tool`)"),
        )
    }

    fn too_narrow(&self, operation: &Operation, left: Left) -> Finding {
        let what = match operation.kind {
            OperationKind::Pocket => "a pocket",
            OperationKind::Outline => "its outline",
            _ => "an inside cut",
        };
        let width = self.show(self.machine.width_mm);
        let message = if left.most_mm.is_finite() {
            format!(
                "{}: the tool of {width} leaves up to {} standing in {what}, at {}",
                self.name(),
                self.show(left.most_mm),
                self.place(left.at)
            )
        } else {
            format!(
                "{}: the tool of {width} does not get into {what} at {}",
                self.name(),
                self.place(left.at)
            )
        };
        let code = if operation.kind == OperationKind::Pocket {
            "pocket-too-narrow"
        } else {
            "cut-too-narrow"
        };
        Finding::fails(code, &self.piece.parameter, message)
            .with_hint("make it wider, or take a thinner cutter (`cutting.tool`)")
    }

    fn sharp_corner(&self, left: Left) -> Finding {
        let message = format!(
            "{}: inner corners are sharper than the tool of {}, which leaves up to {} standing in them, as at {}",
            self.name(),
            self.show(self.machine.width_mm),
            self.show(left.most_mm),
            self.place(left.at)
        );
        Finding::tight("inner-corner-sharper-than-tool", &self.piece.parameter, message)
            .with_limit(left.most_mm, TOLD_MM, "mm")
            .with_source("our judgement: less than 0.3 mm is scraped off by hand")
            .with_hint("have the corners filed square where something goes into them, make them rounder, or take a thinner cutter (`cutting.tool`)")
    }
}

fn hole_diameter(edge: &CutPath) -> f64 {
    match edge {
        CutPath::Closed(contour) => contour.as_circle().map_or(0.0, |(_, radius)| 2.0 * radius),
        CutPath::Open(_) => 0.0,
    }
}

/// Parts that are worked from both faces: the sheet must be turned over and found again.
pub(super) fn turned_over(design: &Design, works: &[Work]) -> Option<Finding> {
    let both = |work: &&Work| {
        let has = |face: Face| work.operations.iter().any(|operation| operation.face == face);
        has(Face::Bottom) && has(Face::Top)
    };
    let names: Vec<String> = works
        .iter()
        .filter(both)
        .map(|work| {
            let piece = &design.pieces[work.piece];
            format!("{} {}", piece.number, piece.name)
        })
        .collect();
    if names.is_empty() {
        return None;
    }
    let parameter =
        works.iter().find(both).map_or("", |work| design.pieces[work.piece].parameter.as_str());
    let message = format!(
        "worked from both faces, so that the sheet is turned over and must be found again by stops or pins: {}",
        names.join(", ")
    );
    Some(
        Finding::tight("worked-from-both-faces", parameter, message)
            .with_source(
                "common practice: what lies on the second face is off by as much as the stops are",
            )
            .with_hint("ask the shop for two stops or pins, or have the lower faces done by hand"),
    )
}

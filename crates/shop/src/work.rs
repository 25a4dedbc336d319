//! What the machine does to one panel.

use std::collections::BTreeMap;

use design::{Design, Piece, PieceId};
use findings::Finding;
use plate::{Contour, Face, FlatPattern, Plate, Shape, Tolerance, arrange, flat_pattern};
use units::Length;

use crate::process::Machine;
use crate::tool::{NoPath, Walls, beside, clear, left_standing};

/// All that is done to one panel, in the order in which it is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Which part.
    pub piece: PieceId,
    /// The part itself: its edges and floors.
    pub pattern: FlatPattern,
    /// What is done, in this order: engraving, pockets, holes, inside cuts, the outline last.
    pub operations: Vec<Operation>,
}

/// One thing that is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What it is.
    pub kind: OperationKind,
    /// The face that it is done from.
    pub face: Face,
    /// How deep it goes, mm.
    pub depth_mm: f64,
    /// The edge that it leaves: of the part, of a hole, the outer one of a floor; or the line that is engraved.
    pub edge: CutPath,
    /// For a pocket: which of the pattern's it is.
    pub pocket: Option<usize>,
    /// Where the middle of the tool runs, one path for each time round (a pocket has many), the part on its left. Empty
    /// where the tool does not fit; a finding says so.
    pub tool: Vec<CutPath>,
}

/// What an operation is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OperationKind {
    /// Marks and letters.
    Engrave,
    /// A floor below a face.
    Pocket,
    /// A round hole that a screw or a pipe goes through.
    Hole,
    /// Any other inside cut.
    Inside,
    /// The outer edge.
    Outline,
}

/// A line that a tool follows.
#[derive(Clone, Debug, PartialEq)]
pub enum CutPath {
    /// It comes back to where it began.
    Closed(Contour),
    /// It does not: an engraved stroke.
    Open(Vec<glam::DVec2>),
}

impl CutPath {
    /// Its length, mm.
    pub fn length_mm(&self) -> f64 {
        match self {
            Self::Closed(contour) => contour.length(),
            Self::Open(points) => points.windows(2).map(|pair| pair[0].distance(pair[1])).sum(),
        }
    }

    /// Where it begins.
    pub fn start(&self) -> Option<glam::DVec2> {
        match self {
            Self::Closed(contour) => contour.0.first().map(|piece| piece.start),
            Self::Open(points) => points.first().copied(),
        }
    }

    /// Where it ends.
    pub fn end(&self) -> Option<glam::DVec2> {
        match self {
            Self::Closed(_) => self.start(),
            Self::Open(points) => points.last().copied(),
        }
    }
}

impl OperationKind {
    /// What it is called, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Engrave => "engraving",
            Self::Pocket => "pockets",
            Self::Hole => "holes",
            Self::Inside => "inside cuts",
            Self::Outline => "outlines",
        }
    }
}

/// What is left standing in a corner is told from this on, mm; less is scraped off by hand (our judgement).
const TOLD_MM: f64 = 0.3;

/// What the machine does to every panel of a design, and where its tool does not get in.
///
/// Bought and printed parts are not in it, nor is a part that cannot be arranged: of that the design itself tells.
pub fn works(file: &params::File, design: &Design) -> (Vec<Work>, Vec<Finding>) {
    let machine = Machine::new(&file.cutting);
    let mut works = Vec::new();
    let mut findings = Vec::new();
    for (id, piece) in design.pieces.iter().enumerate() {
        let Shape::Sheet(plate) = &piece.shape else { continue };
        if !piece.role.is_sheet() {
            continue;
        }
        let Ok(arrangement) = arrange(plate, &Tolerance::default()) else { continue };
        let pattern = flat_pattern(plate, &arrangement);
        let maker = Maker { design, piece, plate, machine: &machine };
        let (operations, found) = maker.operations(&pattern);
        findings.extend(found);
        works.push(Work { piece: id, pattern, operations });
    }
    findings.extend(turned_over(design, &works));
    (works, findings)
}

/// The operations on one plate, outside of any design.
///
/// # Errors
/// The words of the first path that could not be made.
pub fn operations_of(
    machine: &Machine,
    plate: &Plate,
) -> Result<(FlatPattern, Vec<Operation>), String> {
    let arrangement = arrange(plate, &Tolerance::default()).map_err(|error| error.to_string())?;
    let pattern = flat_pattern(plate, &arrangement);
    let mut bare = Bare { machine, plate, walls: BTreeMap::new() };
    let operations = bare.operations(&pattern);
    let all = operations.into_iter().map(|(operation, failed)| match failed {
        Some(reason) => Err(reason.to_string()),
        None => Ok(operation),
    });
    let operations = all.collect::<Result<Vec<_>, _>>()?;
    Ok((pattern, operations))
}

/// Makes the operations of a plate, without words about them.
struct Bare<'a> {
    machine: &'a Machine,
    plate: &'a Plate,
    /// What stands higher than a floor, by face and depth (its bits: depths are equal to the last).
    walls: BTreeMap<(Face, u64), Walls>,
}

impl Bare<'_> {
    fn operations(&mut self, pattern: &FlatPattern) -> Vec<(Operation, Option<NoPath>)> {
        let mut all = self.engraving(pattern);
        all.extend(pattern.pockets.iter().enumerate().filter_map(|(i, _)| self.pocket(pattern, i)));
        all.extend(pattern.through.iter().map(|edge| self.through(edge)));
        all.sort_by_key(|(operation, _)| operation.kind);
        all
    }

    fn engraving(&self, pattern: &FlatPattern) -> Vec<(Operation, Option<NoPath>)> {
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
        };
        strokes.map(|stroke| (operation(stroke), None)).collect()
    }

    fn pocket(&mut self, pattern: &FlatPattern, i: usize) -> Option<(Operation, Option<NoPath>)> {
        let region = &pattern.pockets[i];
        let edge = CutPath::Closed(region.loops.first()?.clone());
        let path = if self.machine.cuts_pockets() { self.cleared(region) } else { Ok(Vec::new()) };
        let (tool, failed) = taken_apart(path);
        let operation = Operation {
            kind: OperationKind::Pocket,
            face: region.face,
            depth_mm: region.depth_mm,
            edge,
            pocket: Some(i),
            tool,
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

    fn through(&self, edge: &Contour) -> (Operation, Option<NoPath>) {
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
        (Operation { kind, face: Face::Top, depth_mm, edge, pocket: None, tool }, failed)
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

/// Makes the operations of a part, and says where the tool does not get in.
struct Maker<'a> {
    design: &'a Design,
    piece: &'a Piece,
    plate: &'a Plate,
    machine: &'a Machine,
}

impl Maker<'_> {
    fn operations(&self, pattern: &FlatPattern) -> (Vec<Operation>, Vec<Finding>) {
        let mut bare = Bare { machine: self.machine, plate: self.plate, walls: BTreeMap::new() };
        let made = bare.operations(pattern);
        let mut findings = Vec::new();
        let mut sharpest: Option<(f64, &Operation)> = None;
        for (operation, failed) in &made {
            if let Some(reason) = failed {
                findings.push(self.no_path(operation, reason));
            } else if self.is_this_machines(operation) {
                let left = self.left_standing(pattern, operation);
                if left > self.machine.radius_mm() {
                    findings.push(self.too_narrow(operation, left));
                } else if left > TOLD_MM && sharpest.is_none_or(|(most, _)| left > most) {
                    sharpest = Some((left, operation));
                }
            }
        }
        findings.extend(sharpest.map(|(left, operation)| self.sharp_corner(operation, left)));
        (made.into_iter().map(|(operation, _)| operation).collect(), findings)
    }

    /// Whether the process can do this at all; else the checks of the process tell it for all parts at once.
    fn is_this_machines(&self, operation: &Operation) -> bool {
        match self.machine.process {
            params::Process::Router => operation.kind != OperationKind::Engrave,
            params::Process::Laser => {
                !matches!(operation.kind, OperationKind::Engrave | OperationKind::Pocket)
            }
            params::Process::Saw => false,
        }
    }

    fn left_standing(&self, pattern: &FlatPattern, operation: &Operation) -> f64 {
        let closed = |path: &CutPath| match path {
            CutPath::Closed(contour) => Some(contour.clone()),
            CutPath::Open(_) => None,
        };
        let tool: Vec<Contour> = operation.tool.iter().filter_map(closed).collect();
        let own = closed(&operation.edge);
        let floor = operation.pocket.map(|i| pattern.pockets[i].loops.as_slice());
        let edges = floor.unwrap_or(own.as_slice());
        left_standing(edges.iter(), &tool, self.machine.radius_mm()).most_mm
    }

    fn show(&self, mm: f64) -> String {
        Length::mm(mm).show(self.design.report)
    }

    /// `part 03 back wall: the tool, 6 mm wide, …` begins with this.
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

    fn too_narrow(&self, operation: &Operation, left: f64) -> Finding {
        let width = self.machine.width_mm;
        let at = place_of(&operation.edge);
        if operation.kind == OperationKind::Hole {
            let diameter = hole_diameter(&operation.edge);
            let message = format!(
                "{}: a hole {} wide at {at} is narrower than the tool of {}: it is drilled",
                self.name(),
                self.show(diameter),
                self.show(width)
            );
            return Finding::tight("hole-is-drilled", &self.piece.parameter, message)
                .with_limit(diameter, width, "mm")
                .with_hint("have it drilled, or take a thinner cutter (`cutting.tool`)");
        }
        let what = match operation.kind {
            OperationKind::Pocket => "a pocket",
            OperationKind::Outline => "its outline",
            _ => "an inside cut",
        };
        let stands = if left.is_finite() {
            format!("leaves up to {} standing in", self.show(left))
        } else {
            "does not get into".to_owned()
        };
        let message =
            format!("{}: the tool of {} {stands} {what} at {at}", self.name(), self.show(width));
        let code = if operation.kind == OperationKind::Pocket {
            "pocket-too-narrow"
        } else {
            "cut-too-narrow"
        };
        Finding::fails(code, &self.piece.parameter, message)
            .with_hint("make it wider, or take a thinner cutter (`cutting.tool`)")
    }

    fn sharp_corner(&self, operation: &Operation, left: f64) -> Finding {
        let message = format!(
            "{}: inner corners are sharper than the tool of {}, which leaves up to {} standing in them (at {})",
            self.name(),
            self.show(self.machine.width_mm),
            self.show(left),
            place_of(&operation.edge)
        );
        Finding::tight("inner-corner-sharper-than-tool", &self.piece.parameter, message)
            .with_limit(left, TOLD_MM, "mm")
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

/// `[120, 40]`: the middle of an edge in the part's own frame, mm.
fn place_of(edge: &CutPath) -> String {
    let bounds = match edge {
        CutPath::Closed(contour) => contour.bounds(),
        CutPath::Open(_) => None,
    };
    let Some([lo, hi]) = bounds else { return "its edge".to_owned() };
    let middle = 0.5 * (lo + hi);
    format!("[{:.0}, {:.0}]", middle.x + 0.0, middle.y + 0.0)
}

/// Parts that are worked from both faces: the sheet must be turned over and found again.
fn turned_over(design: &Design, works: &[Work]) -> Option<Finding> {
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

#[cfg(test)]
mod tests;

//! What the machine does to one panel.

mod bridges;
mod make;
mod tell;

use design::{Design, PieceId};
use findings::Finding;
use plate::{Contour, Face, FlatPattern, Plate, Shape, Tolerance, arrange, flat_pattern};

use crate::process::Machine;

pub(crate) use bridges::longest_unheld_mm;
pub use bridges::{Bridge, Run, SPACING_MM as BRIDGE_SPACING_MM};
pub(crate) use make::is_sawable;

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
    /// Where the middle of the tool runs, one path for each time round (a pocket has many), the part on its left as the
    /// tool sees it: on its right here, where all is seen from the upper face, for what is done from the lower one. Empty
    /// where the tool does not fit; a finding says so.
    pub tool: Vec<CutPath>,
    /// Where the tool is lifted so that the part stays held in its sheet.
    pub bridges: Vec<Bridge>,
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

/// Whether a panel saw can make a part: straight edges that go right through, no holes, nothing below a face.
pub fn is_for_a_saw(work: &Work) -> bool {
    work.operations.iter().all(|operation| match &operation.edge {
        CutPath::Closed(edge) => operation.kind == OperationKind::Outline && is_sawable(edge),
        CutPath::Open(_) => false,
    })
}

/// What the machine does to every panel of a design, and where its tool does not get in.
///
/// Bought and printed parts are not in it, nor is a part that cannot be arranged: of that the design itself tells.
pub fn works(file: &params::File, design: &Design) -> (Vec<Work>, Vec<Finding>) {
    let mut works = Vec::new();
    let mut findings = Vec::new();
    for (id, piece) in design.pieces.iter().enumerate() {
        let Shape::Sheet(plate) = &piece.shape else { continue };
        if !piece.role.is_sheet() {
            continue;
        }
        let Ok(arrangement) = arrange(plate, &Tolerance::default()) else { continue };
        let pattern = flat_pattern(plate, &arrangement);
        let machine = Machine::new(&file.cutting_of(piece.sheet.as_deref()));
        let glued = bridges::GluedEdges::of(design, id);
        let made = make::operations(&machine, plate, &pattern, &glued);
        findings.extend(tell::of_part(design, piece, &machine, &pattern, &made));
        let operations = made.into_iter().map(|(operation, _)| operation).collect();
        works.push(Work { piece: id, pattern, operations });
    }
    findings.extend(tell::turned_over(design, &works));
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
    let glued = bridges::GluedEdges::default();
    let made = make::operations(machine, plate, &pattern, &glued).into_iter();
    let all = made.map(|(operation, failed)| match failed {
        Some(reason) => Err(reason.to_string()),
        None => Ok(operation),
    });
    let operations = all.collect::<Result<Vec<_>, _>>()?;
    Ok((pattern, operations))
}

#[cfg(test)]
mod tests;

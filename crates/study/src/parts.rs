//! Every piece of a design as an exact solid, a mesh and, for sheet, a flat pattern.

use design::{Design, Piece};
use findings::Finding;
use plate::{FlatPattern, Shape, Tolerance, arrange, flat_pattern};
use rayon::prelude::*;
use solid::{Mesh, Solid};

/// How far a mesh may stay from the exact solid, mm: a twentieth of what a 0.4 mm nozzle lays down, and
/// less than a picture can show.
pub const CHORD_ERROR_MM: f64 = 0.02;

/// A piece in all the forms that files are written from, each proved against the others.
#[derive(Debug)]
pub struct Part<'a> {
    /// What it is.
    pub piece: &'a Piece,
    /// Exact.
    pub solid: Solid,
    /// Within [`CHORD_ERROR_MM`] of the solid, or as near as was asked for.
    pub mesh: Mesh,
    /// For what is cut from sheet.
    pub flat: Option<Flat>,
}

/// A flat part in plan.
#[derive(Debug)]
pub struct Flat {
    /// Outline, cuts and engraving.
    pub pattern: FlatPattern,
    /// Thickness of the sheet.
    pub thickness_mm: f64,
    /// Area that is material anywhere in its thickness, by the arrangement that the solid is built from.
    pub area_mm2: f64,
    /// Its volume by the same.
    pub volume_mm3: f64,
}

/// Why a piece has no solid.
type Reason = Box<dyn std::error::Error + Send + Sync>;

/// Every piece, in the order of `design.pieces`.
///
/// # Errors
/// A finding for each piece whose solid, mesh and own arithmetic do not agree: nothing may be written
/// from it.
pub fn build(design: &Design) -> Result<Vec<Part<'_>>, Vec<Finding>> {
    build_within(design, CHORD_ERROR_MM)
}

/// The same with meshes that stay within a chord error: where they are only looked at.
///
/// # Errors
/// As [`build`].
pub fn build_within(design: &Design, chord_error_mm: f64) -> Result<Vec<Part<'_>>, Vec<Finding>> {
    build_all(&design.pieces.iter().collect::<Vec<_>>(), chord_error_mm)
}

/// Those pieces alone that are printed.
///
/// # Errors
/// As [`build`].
pub fn build_printed(design: &Design) -> Result<Vec<Part<'_>>, Vec<Finding>> {
    let printed = design.pieces.iter().filter(|piece| piece.role.is_printed());
    build_all(&printed.collect::<Vec<_>>(), CHORD_ERROR_MM)
}

fn build_all<'a>(pieces: &[&'a Piece], chord_error_mm: f64) -> Result<Vec<Part<'a>>, Vec<Finding>> {
    let built: Vec<Result<Part<'_>, Reason>> =
        pieces.par_iter().map(|piece| part(piece, chord_error_mm)).collect();
    let (mut parts, mut refusals) = (Vec::new(), Vec::new());
    for (piece, part) in pieces.iter().zip(built) {
        match part {
            Ok(part) => parts.push(part),
            Err(reason) => refusals.push(refusal(piece, &reason)),
        }
    }
    if refusals.is_empty() { Ok(parts) } else { Err(refusals) }
}

impl Part<'_> {
    /// Mass of one, kg, where the density is known.
    pub fn mass_kg(&self) -> Option<f64> {
        self.piece.mass_of(self.solid.volume_mm3())
    }
}

/// The parts that are a line of a list: further bodies of a bought thing are none.
pub fn listed<'p, 'a>(parts: &'p [Part<'a>]) -> impl Iterator<Item = &'p Part<'a>> {
    parts.iter().filter(|part| part.piece.body_of.is_none())
}

fn part(piece: &Piece, chord_error_mm: f64) -> Result<Part<'_>, Reason> {
    let (solid, flat) = match &piece.shape {
        Shape::Sheet(plate) => {
            let arrangement = arrange(plate, &Tolerance::default())?;
            let flat = Flat {
                pattern: flat_pattern(plate, &arrangement),
                thickness_mm: plate.thickness,
                area_mm2: arrangement.area(),
                volume_mm3: arrangement.volume(),
            };
            // What is printed may be described like a sheet part, but no shop cuts it.
            (Solid::of_plate(&arrangement)?, piece.role.is_sheet().then_some(flat))
        }
        turned @ Shape::Turned(_) => (Solid::of_shape(turned)?, None),
    };
    let mesh = solid.checked_mesh(chord_error_mm)?;
    Ok(Part { piece, solid, mesh, flat })
}

fn refusal(piece: &Piece, reason: &Reason) -> Finding {
    let Piece { number, name, parameter, .. } = piece;
    Finding::fails(
        "no-solid",
        parameter,
        format!("part {number} `{name}` does not make a solid: {reason}"),
    )
    .with_hint(
        "change the measures that make this place of the part; nothing is written until it does",
    )
}

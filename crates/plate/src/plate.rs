//! A sheet part as its maker describes it: outline, cuts and engraving.

use glam::DVec2;

use crate::contour::Contour;

/// A part cut from flat sheet. All lengths in mm.
///
/// `x` and `y` lie in the sheet, `z` runs from the bottom face (0) to the top face (`thickness`).
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// The outer edge before any cut.
    pub outline: Contour,
    /// Thickness of the sheet, positive.
    pub thickness: f64,
    /// What is taken away; the order does not matter.
    pub cuts: Vec<Cut>,
    /// Lines engraved on the faces; they never change the solid.
    pub engravings: Vec<Engraving>,
}

impl Plate {
    /// A sheet with this outline and thickness, not cut or engraved.
    pub const fn new(outline: Contour, thickness: f64) -> Self {
        Self { outline, thickness, cuts: Vec::new(), engravings: Vec::new() }
    }
}

/// Material taken away inside `contour`, from a face down to `depth`.
///
/// The contour may hang over the outline or touch it: a rabbet, a groove that runs out.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Where, seen from the top face whichever face it is cut from.
    pub contour: Contour,
    /// The face it is cut from.
    pub face: Face,
    /// How deep, positive; it goes through if that is the thickness or more.
    pub depth: f64,
}

impl Cut {
    /// All the way through.
    pub const fn through(contour: Contour) -> Self {
        Self { contour, face: Face::Top, depth: f64::INFINITY }
    }

    /// Down to `depth` from one face.
    pub const fn pocket(contour: Contour, face: Face, depth: f64) -> Self {
        Self { contour, face, depth }
    }
}

/// The two large faces of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// At `z = thickness`.
    Top,
    /// At `z = 0`.
    Bottom,
}

impl Face {
    /// The face on the other side.
    pub const fn opposite(self) -> Self {
        match self {
            Self::Top => Self::Bottom,
            Self::Bottom => Self::Top,
        }
    }
}

/// Open lines drawn into a face: marks, numbers, text.
#[derive(Clone, Debug, PartialEq)]
pub struct Engraving {
    /// The face they are drawn on.
    pub face: Face,
    /// Polylines in the plate's own coordinates, seen from the top face. Text on the bottom face
    /// is therefore written mirrored.
    pub strokes: Vec<Vec<DVec2>>,
}

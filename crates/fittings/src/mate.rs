//! Where fittings meet what they are made for, told so that others can measure it on the mesh.

use glam::{DVec2, DVec3};

/// A place where a fitting meets something else: a sheet in its slot, a pipe in its bore, its collar in a hole. Lengths in
/// mm, in the frame of the fitting's shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mate {
    /// The measure that says how large the other is: `sheet`, `pipe`.
    pub with: &'static str,
    /// Size of the other that it is made for.
    pub size_mm: f64,
    /// Least and greatest size of the other, which it meets as well.
    pub band_mm: [f64; 2],
    /// How the fitting looks there.
    pub form: Form,
    /// A point of the place: in a slot at its ground, in the middle of what is round.
    pub at: DVec3,
    /// Lowest and highest level between which it is so.
    pub heights_mm: [f64; 2],
    /// How much room the other has, both sides together, once the printer has taken `loss_mm`. Less than none: it is
    /// pressed.
    pub play_mm: f64,
    /// How much narrower the place comes out than it is drawn.
    pub loss_mm: f64,
}

impl Mate {
    /// The same, made for another that is so large.
    #[must_use]
    pub(crate) fn sized(self, size_mm: f64) -> Self {
        Self { size_mm, band_mm: [size_mm; 2], ..self }
    }

    /// The same, as it meets another whose size goes from the least to the greatest, if it was made for one of both:
    /// what is drawn stays.
    #[must_use]
    pub fn over(self, band_mm: [f64; 2]) -> Self {
        let is_end = |mm: &f64| (mm - self.size_mm).abs() < 1e-9;
        if band_mm.iter().any(is_end) { Self { band_mm, ..self } } else { self }
    }

    /// The same, told for another that is so large: what is drawn stays, so there is as much more or less room.
    #[must_use]
    pub fn for_size(self, size_mm: f64) -> Self {
        let more = self.size_mm - size_mm;
        let form = match self.form {
            Form::Slot { along, mouth_mm: Some(mouth) } => {
                Form::Slot { along, mouth_mm: Some(mouth + more) }
            }
            other => other,
        };
        // What stands in the other has less room in a smaller one.
        let is_inside = matches!(self.form, Form::Peg { .. } | Form::RoundPeg);
        let play_mm = self.play_mm + if is_inside { -more } else { more };
        Self { size_mm, band_mm: [size_mm; 2], form, play_mm, ..self }
    }
}

/// How a fitting looks where it meets something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// Two faces across from each other.
    Slot {
        /// Along the slot; from its ground to its mouth where it is open.
        along: DVec2,
        /// Least room of the other between ground and mouth, both sides together; less than none where the tips of legs
        /// grip it. None where the slot is closed all around.
        mouth_mm: Option<f64>,
    },
    /// A round hole, at least along most of its circumference.
    Bore,
    /// Something that stands in the other, between its outer faces along a direction.
    Peg {
        /// From face to face.
        across: DVec2,
    },
    /// Something round that stands in the other.
    RoundPeg,
    /// Another of the same stands on it, raised by `size_mm`.
    Stack,
    /// A corner whose two faces lie on sheets at right angles, cut off where the other, the glue, runs.
    Corner,
}

impl Form {
    /// What it is called in files.
    pub fn name(self) -> &'static str {
        match self {
            Self::Slot { .. } => "slot",
            Self::Bore => "bore",
            Self::Peg { .. } => "peg",
            Self::RoundPeg => "round peg",
            Self::Stack => "stack",
            Self::Corner => "corner",
        }
    }
}

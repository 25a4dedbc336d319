//! What a fitting comes as: its shape and how to print it.

use plate::Shape;

use crate::error::Error;
use crate::foot::with_step;
use crate::mate::Mate;
use crate::printable::check_as_drawn;
use crate::printer::Printer;

/// A printed part.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitting {
    /// The part as it lies on the print bed: flat face down at `z = 0` (mm).
    pub shape: Shape,
    /// How to print it.
    pub print: PrintNotes,
}

/// How a part lies on the print bed, and the room it takes there.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintNotes {
    /// Which face lies on the bed, in words.
    pub orientation: String,
    /// Room on the bed along the part's x and y axes.
    pub bed_footprint_mm: [f64; 2],
    /// Height above the bed.
    pub height_mm: f64,
    /// Where it meets what it is made for, and how much room that has.
    pub mates: Vec<Mate>,
}

impl PrintNotes {
    /// The same, made for another of this name whose size goes from the least to the greatest: what is drawn stays.
    #[must_use]
    pub fn meeting(mut self, with: &str, band_mm: [f64; 2]) -> Self {
        for mate in self.mates.iter_mut().filter(|mate| mate.with == with) {
            *mate = mate.for_size(band_mm[1]).over(band_mm);
        }
        self
    }
}

impl Fitting {
    /// The shape with its notes, if it is a sound part that prints without support.
    pub(crate) fn new(shape: Shape, orientation: &str, printer: &Printer) -> Result<Self, Error> {
        check_as_drawn(&shape, printer)?;
        let (bed_footprint_mm, height_mm) = room(&shape);
        let orientation = orientation.to_owned();
        let mates = Vec::new();
        Ok(Self { shape, print: PrintNotes { orientation, bed_footprint_mm, height_mm, mates } })
    }

    /// The same, which meets what it is made for so.
    pub(crate) fn mating(mut self, mates: Vec<Mate>) -> Self {
        self.print.mates = mates;
        self
    }

    /// The same with its edges on the bed drawn in by what the first layer spreads ("elephant's foot"), over one layer
    /// and by at most half a nozzle. Sizes above that layer stay as they are.
    ///
    /// # Errors
    /// [`Error::Foot`] where an edge is too short, too round or too sharp for it.
    pub fn with_foot(self, printer: &Printer) -> Result<Self, Error> {
        Ok(Self { shape: with_step(self.shape, printer)?, print: self.print })
    }
}

/// Room on the bed and height of a shape that stands on `z = 0`.
fn room(shape: &Shape) -> ([f64; 2], f64) {
    match shape {
        Shape::Sheet(plate) => {
            let size = plate.outline.bounds().map_or([0.0; 2], |[lo, hi]| (hi - lo).to_array());
            (size, plate.thickness)
        }
        Shape::Turned(turned) => {
            let (radius, [_, top]) = turned.extent();
            ([2.0 * radius; 2], top)
        }
    }
}

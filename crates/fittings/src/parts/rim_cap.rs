//! What holders for upright round things share: a plate that sits on the rim of a wall with a groove, and has holes
//! beside it.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::printer::Printer;

/// A cap on the rim. Lengths in mm, as they are wanted: whole lines, layers and play are added here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RimCap {
    /// Thickness of the sheet whose edge it sits on.
    pub(crate) sheet_mm: f64,
    /// How deep the sheet's edge stands in it.
    pub(crate) groove_mm: f64,
    /// What is left over the edge.
    pub(crate) floor_mm: f64,
    /// Diameter of what stands in the holes, and how many.
    pub(crate) diameter_mm: f64,
    pub(crate) count: u32,
    /// Between groove and holes.
    pub(crate) off_mm: f64,
    /// Around everything else.
    pub(crate) wall_mm: f64,
    /// Width of a slit from each hole to the front; 0: none.
    pub(crate) slit_mm: f64,
}

/// How far cuts reach beyond the edges that they run out over.
const BEYOND_MM: f64 = 1.0;
/// Rounding of the corners, mm; less where the wall would be left with too little beside it.
const ROUND_MM: f64 = 2.0;

impl RimCap {
    /// The cap, printed groove up; used turned over. The wall runs along x, what is held stands in front, at larger y.
    pub(crate) fn made(&self, printer: &Printer) -> Result<Fitting, Error> {
        let wall = printer.wall_mm(self.wall_mm);
        let groove = self.sheet_mm + 2.0 * printer.clearance_mm;
        let hole = self.hole_mm(printer);
        let middle = wall + groove + printer.wall_mm(self.off_mm) + 0.5 * hole;
        let depth = middle + 0.5 * hole + wall;
        let length = f64::from(self.count) * (hole + wall) + wall;
        let round = ROUND_MM.min(wall - printer.least_wall_mm());
        let outline = Contour::rounded_rectangle(DVec2::ZERO, dvec2(length, depth), round);
        let groove_depth = printer.height_mm(self.groove_mm);
        let mut plate = Plate::new(outline, printer.height_mm(self.floor_mm) + groove_depth);
        let along =
            Contour::rectangle(dvec2(-BEYOND_MM, wall), dvec2(length + BEYOND_MM, wall + groove));
        plate.cuts.push(Cut::pocket(along, Face::Top, groove_depth));
        for k in 0..self.count {
            let x = wall + 0.5 * hole + f64::from(k) * (hole + wall);
            plate.cuts.push(Cut::through(Contour::circle(dvec2(x, middle), 0.5 * hole)));
            if self.slit_mm > 0.0 {
                let half = 0.5 * self.slit_mm;
                let slit =
                    Contour::rectangle(dvec2(x - half, middle), dvec2(x + half, depth + BEYOND_MM));
                plate.cuts.push(Cut::through(slit));
            }
        }
        Fitting::new(Shape::Sheet(plate), "groove up", printer)
    }

    /// Diameter that the holes are drawn with.
    pub(crate) fn hole_mm(&self, printer: &Printer) -> f64 {
        printer.hole_mm(self.diameter_mm) + 2.0 * printer.clearance_mm
    }
}

//! What a printer does with a part.

use crate::filament::Filament;

/// A printer, its nozzle and its filament, as far as parts are made for them. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Printer {
    /// Diameter of the nozzle.
    pub nozzle_mm: f64,
    /// Height of a layer.
    pub layer_mm: f64,
    /// Room on the bed along x and y, and height.
    pub bed_mm: [f64; 3],
    /// Clearance between a printed face and what slides on it, each side.
    pub clearance_mm: f64,
    /// How much smaller than drawn upright holes come out in diameter: they are drawn so much larger.
    pub hole_loss_mm: f64,
    /// How far the first layers spread: edges on the bed are drawn in so far ("elephant's foot").
    pub foot_mm: f64,
    /// What is printed with: how far it may be bent.
    pub filament: Filament,
}

impl Default for Printer {
    /// Common practice for a nozzle of 0.4 mm and layers of 0.2 mm, in PETG.
    fn default() -> Self {
        Self {
            nozzle_mm: 0.4,
            layer_mm: 0.2,
            bed_mm: [200.0, 200.0, 200.0],
            clearance_mm: 0.25,
            hole_loss_mm: 0.2,
            foot_mm: 0.2,
            filament: Filament::Petg,
        }
    }
}

/// A wall has at least so many lines side by side: one alone has no other to hold on to; common practice.
const LEAST_LINES: f64 = 2.0;

impl Printer {
    /// The least wall, mm: two lines of the nozzle.
    pub fn least_wall_mm(&self) -> f64 {
        LEAST_LINES * self.nozzle_mm
    }

    /// A wall of whole lines that is at least this thick, mm: of two lines or more.
    pub fn wall_mm(&self, at_least_mm: f64) -> f64 {
        // A hair of rounding makes no further line.
        let lines = (at_least_mm / self.nozzle_mm - 1e-9).ceil().max(LEAST_LINES);
        lines * self.nozzle_mm
    }

    /// A height of whole layers that is at least this much, mm: of one layer or more.
    pub fn height_mm(&self, at_least_mm: f64) -> f64 {
        let layers = (at_least_mm / self.layer_mm - 1e-9).ceil().max(1.0);
        layers * self.layer_mm
    }

    /// The height of whole layers that is nearest to this, mm: of one layer or more.
    pub fn nearest_height_mm(&self, height_mm: f64) -> f64 {
        (height_mm / self.layer_mm).round().max(1.0) * self.layer_mm
    }

    /// Diameter that an upright hole is drawn with so that this comes out, mm.
    pub fn hole_mm(&self, diameter_mm: f64) -> f64 {
        diameter_mm + self.hole_loss_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn walls_are_whole_lines_and_heights_whole_layers() {
        let printer = Printer::default();
        for (at_least, wall) in [(0.1, 0.8), (0.8, 0.8), (1.0, 1.2), (2.4, 2.4), (2.41, 2.8)] {
            assert!((printer.wall_mm(at_least) - wall).abs() < 1e-9, "{at_least}");
        }
        assert!((printer.height_mm(0.3) - 0.4).abs() < 1e-9);
        assert!((printer.height_mm(0.6) - 0.6).abs() < 1e-9);
        assert!((printer.nearest_height_mm(0.29) - 0.2).abs() < 1e-9);
        assert!((printer.nearest_height_mm(0.31) - 0.4).abs() < 1e-9);
        assert!((printer.nearest_height_mm(0.01) - 0.2).abs() < 1e-9);
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            let printer = Printer { nozzle_mm, ..printer };
            assert!((printer.wall_mm(0.0) - printer.least_wall_mm()).abs() < 1e-12);
        }
    }
}

//! What clips and hooks share: legs over the edge of a sheet, drawn as a profile that is printed on its side.
//!
//! The sheet stands between `x = 0` and `x = gap`, its edge at `y = 0`, its faces running down. Lines of the print run
//! around the legs, which so bend without splitting.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::printer::Printer;

/// How the legs hold the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Hold {
    /// It hangs there by its weight.
    Hangs,
    /// It grips: the leg's tip leans in, so that it holds the thinnest place of the sheet as well.
    Grips,
}

/// The left leg and the gap beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hook {
    /// Distance between the legs at their root: the sheet and the clearance on both sides.
    pub(crate) gap_mm: f64,
    /// Thickness of legs and back.
    pub(crate) wall_mm: f64,
    /// How much narrower the gap is at the leg's tip.
    pub(crate) bite_mm: f64,
}

impl Hook {
    /// Legs for a sheet of this thickness. Those that grip are a nozzle width closer at the tip than the sheet is thick:
    /// more than the usual spread of cast sheet, of which calipers find 0.3 mm in one panel; our judgement.
    pub(crate) fn new(sheet_mm: f64, wall_mm: f64, hold: Hold, printer: &Printer) -> Self {
        let gap_mm = sheet_mm + 2.0 * printer.clearance_mm;
        let bite_mm = match hold {
            Hold::Hangs => 0.0,
            Hold::Grips => gap_mm - (sheet_mm - printer.nozzle_mm),
        };
        Self { gap_mm, wall_mm: printer.wall_mm(wall_mm), bite_mm }
    }

    /// The left leg from the outer corner of its tip to its root, to go on with from there to the right. The tip is
    /// chamfered, to be pushed over the edge.
    pub(crate) fn left_leg(&self, length_mm: f64) -> Vec<DVec2> {
        let lead = self.wall_mm / 3.0;
        vec![
            dvec2(-self.wall_mm, -length_mm),
            dvec2(-lead, -length_mm),
            dvec2(self.bite_mm, 2.0 * (lead + self.bite_mm) - length_mm),
            DVec2::ZERO,
        ]
    }

    /// The corner of the back above the left leg, where the profile closes.
    pub(crate) fn left_shoulder(&self) -> DVec2 {
        dvec2(-self.wall_mm, self.wall_mm)
    }
}

/// A profile lying on the bed, `width_mm` high, its corners rounded by the radius given with each.
pub(crate) fn on_its_side(
    corners: &[(DVec2, f64)],
    width_mm: f64,
    printer: &Printer,
) -> Result<Fitting, Error> {
    let outline = Contour::rounded_polygon(corners);
    let plate = Plate::new(outline, printer.height_mm(width_mm));
    Fitting::new(Shape::Sheet(plate), "on its side")
}

/// Corners that stay sharp.
pub(crate) fn sharp(corners: Vec<DVec2>) -> Vec<(DVec2, f64)> {
    corners.into_iter().map(|corner| (corner, 0.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_of_a_measured_sheet_is_gripped_and_none_jams_at_the_root() {
        // Sheets of the demos: 7.7 to 8.0 and 5.8 to 6.1 mm by caliper.
        let printer = Printer::default();
        for [least, most] in [[7.7, 8.0], [5.8, 6.1]] {
            let grips = Hook::new(most, 2.4, Hold::Grips, &printer);
            assert!(grips.gap_mm >= most + 2.0 * printer.clearance_mm - 1e-9);
            assert!(grips.gap_mm - grips.bite_mm < least, "the thinnest place is held");
            let hangs = Hook::new(most, 2.4, Hold::Hangs, &printer);
            assert!(hangs.gap_mm - hangs.bite_mm > most, "hangs without force");
        }
    }

    #[test]
    fn the_tip_leads_the_edge_in() {
        let hook = Hook::new(8.0, 2.4, Hold::Grips, &Printer::default());
        let leg = hook.left_leg(12.0);
        assert!(leg[1].x < 0.0 && leg[2].x > 0.0 && leg[1].y < leg[2].y);
        assert!(leg[1].x - leg[0].x >= 1.6 - 1e-9, "two thirds of the wall are left at the tip");
    }
}

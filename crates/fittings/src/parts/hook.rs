//! What clips and hooks share: legs over the edge of a sheet, drawn as a profile that is printed on its side.
//!
//! The sheet stands between `x = 0` and `x = gap`, its edge at `y = 0`, its faces running down. Lines of the print run
//! around the legs, which so bend without splitting.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::printer::Printer;
use crate::strain::beam_length_mm;

/// Where a leg that grips leans in, it is so much closer than the sheet is thick at its thinnest place, mm: it holds there
/// as well, and a line that comes out a little thin is no loss. Our judgement.
pub(crate) const GRIP_MM: f64 = 0.3;

/// A left leg and the gap beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hook {
    /// Distance between the legs at their root: the sheet and the clearance on both sides.
    pub(crate) gap_mm: f64,
    /// Thickness of legs and back.
    pub(crate) wall_mm: f64,
    /// How much narrower the gap is at the leg's tip; 0: it hangs by its weight.
    pub(crate) bite_mm: f64,
    /// Length of the left leg.
    pub(crate) leg_mm: f64,
}

impl Hook {
    /// Legs that hang on a sheet of this thickness by their weight.
    pub(crate) fn hangs(sheet_mm: f64, wall_mm: f64, leg_mm: f64, printer: &Printer) -> Self {
        let gap_mm = sheet_mm + 2.0 * printer.clearance_mm;
        Self { gap_mm, wall_mm: printer.wall_mm(wall_mm), bite_mm: 0.0, leg_mm }
    }

    /// Legs that grip a sheet that is `sheet_mm` thick at its thickest place and `spread_mm` less at its thinnest: there
    /// the tip still presses by [`GRIP_MM`]. The leg is `least_leg_mm` long, or longer: so long that the filament can
    /// stay bent over the thickest place for years. The other leg is taken as stiff.
    pub(crate) fn grips(
        [sheet_mm, spread_mm]: [f64; 2],
        wall_mm: f64,
        least_leg_mm: f64,
        printer: &Printer,
    ) -> Self {
        let hangs = Self::hangs(sheet_mm, wall_mm, least_leg_mm, printer);
        let bent_by_mm = GRIP_MM + spread_mm;
        let bite_mm = 2.0 * printer.clearance_mm + bent_by_mm;
        let free_mm =
            beam_length_mm(hangs.wall_mm, bent_by_mm, printer.filament.strain_for_years());
        let hook = Self { bite_mm, ..hangs };
        Self { leg_mm: least_leg_mm.max(free_mm + hook.tip_mm()), ..hook }
    }

    /// Length of the tip, from where it touches the sheet to its end.
    pub(crate) fn tip_mm(&self) -> f64 {
        2.0 * (self.lead_mm() + self.bite_mm)
    }

    fn lead_mm(&self) -> f64 {
        self.wall_mm / 3.0
    }

    /// The left leg from the outer corner of its tip to its root, to go on with from there to the right. The tip is
    /// chamfered, to be pushed over the edge.
    pub(crate) fn left_leg(&self) -> Vec<DVec2> {
        vec![
            dvec2(-self.wall_mm, -self.leg_mm),
            dvec2(-self.lead_mm(), -self.leg_mm),
            dvec2(self.bite_mm, self.tip_mm() - self.leg_mm),
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
    Fitting::new(Shape::Sheet(plate), "on its side", printer)
}

/// Corners that stay sharp.
pub(crate) fn sharp(corners: Vec<DVec2>) -> Vec<(DVec2, f64)> {
    corners.into_iter().map(|corner| (corner, 0.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::filament::Filament;
    use crate::strain::bent_beam_strain;

    /// Sheets of the demos by caliper, and one as uneven as a measure lets it be.
    const SHEETS: [[f64; 2]; 3] = [[7.7, 8.0], [5.8, 6.1], [7.0, 8.2]];

    #[test]
    fn every_place_of_a_measured_sheet_is_gripped_and_none_jams_at_the_root_by_any_nozzle() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            let printer = Printer { nozzle_mm, ..Printer::default() };
            for [least, most] in SHEETS {
                let grips = Hook::grips([most, most - least], 2.4, 12.0, &printer);
                assert!((grips.gap_mm - (most + 2.0 * printer.clearance_mm)).abs() < 1e-9);
                // The mouth does not ask for the nozzle at all.
                assert!((grips.gap_mm - grips.bite_mm - (least - 0.3)).abs() < 1e-9);
                let hangs = Hook::hangs(most, 2.4, 12.0, &printer);
                assert!(hangs.gap_mm - hangs.bite_mm > most, "hangs without force");
            }
        }
    }

    #[test]
    fn no_filament_is_left_bent_more_than_it_stands() {
        for filament in Filament::ALL {
            for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
                let printer = Printer { nozzle_mm, filament, ..Printer::default() };
                for [least, most] in SHEETS {
                    let hook = Hook::grips([most, most - least], 2.4, 12.0, &printer);
                    let free = hook.leg_mm - hook.tip_mm();
                    let strain = bent_beam_strain(hook.wall_mm, 0.3 + most - least, free);
                    assert!(strain <= filament.strain_for_years() + 1e-12, "{filament:?} {strain}");
                    assert!(hook.leg_mm < 40.0, "{filament:?}: a leg of {}", hook.leg_mm);
                }
            }
        }
    }

    #[test]
    fn the_tip_leads_the_edge_in() {
        let hook = Hook::grips([8.0, 0.3], 2.4, 12.0, &Printer::default());
        let leg = hook.left_leg();
        assert!(leg[1].x < 0.0 && leg[2].x > 0.0 && leg[1].y < leg[2].y);
        assert!(leg[1].x - leg[0].x >= 1.6 - 1e-9, "two thirds of the wall are left at the tip");
    }
}

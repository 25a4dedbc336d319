//! What clips and hooks share: legs over the edge of a sheet, drawn as a profile that is printed on its side.
//!
//! The sheet stands between `x = 0` and `x = gap`, its edge at `y = 0`, its faces running down. Lines of the print run
//! around the legs, which so bend without splitting.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::mate::{Form, Mate};
use crate::mates::OFF_GROUND_MM;
use crate::printer::Printer;
use crate::strain::beam_length_mm;

/// Where a leg that grips leans in, it is so much closer than the sheet is thick at its thinnest place, mm: it holds there
/// as well, and a line that comes out a little thin is no loss. Our judgement.
pub(crate) const GRIP_MM: f64 = 0.3;

/// The hollow beside a root is so many of its radii wide.
pub(crate) const HOLLOW_ROUNDS: f64 = 2.5;
/// Rounds that would be smaller are none, mm: no printer makes them.
const LEAST_ROUND_MM: f64 = 0.25;

/// Radius at the root of a leg that bends: half its thickness, at which guides to snap fits say a corner no longer gathers
/// the strain (from memory); less where so many hollows would not have room, and none where they would be too small.
pub(crate) fn round_mm(wall_mm: f64, room_mm: f64, hollows: f64) -> f64 {
    // A tenth more: the leaning leg's face goes on into the hollow.
    let round = (0.5 * wall_mm).min(room_mm / (1.1 * HOLLOW_ROUNDS * hollows));
    if round < LEAST_ROUND_MM { 0.0 } else { round }
}

/// A left leg and the gap beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hook {
    /// Distance between the legs at their root: the sheet and the clearance on both sides.
    pub(crate) gap_mm: f64,
    /// Thickness of the legs.
    pub(crate) wall_mm: f64,
    /// Thickness of the back: so much more than the legs' where it is hollowed beside the root of one that grips.
    pub(crate) back_mm: f64,
    /// Radius at the root of a leg that grips; see [`round_mm`].
    pub(crate) round_mm: f64,
    /// How much narrower the gap is at the leg's tip; 0: it hangs by its weight.
    pub(crate) bite_mm: f64,
    /// Length of the left leg.
    pub(crate) leg_mm: f64,
}

impl Hook {
    /// Legs that hang on a sheet of this thickness by their weight.
    pub(crate) fn hangs(sheet_mm: f64, wall_mm: f64, leg_mm: f64, printer: &Printer) -> Self {
        let gap_mm = sheet_mm + 2.0 * printer.clearance_mm;
        // Of three lines at least: the tip, where it leads the edge in, is left with two.
        let wall_mm = printer.wall_mm(wall_mm.max(1.5 * printer.least_wall_mm()));
        Self { gap_mm, wall_mm, back_mm: wall_mm, round_mm: 0.0, bite_mm: 0.0, leg_mm }
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
        let round_mm = round_mm(hook.wall_mm, hook.gap_mm - printer.least_wall_mm(), 1.0);
        let hook = Self { round_mm, back_mm: printer.wall_mm(hook.wall_mm + round_mm), ..hook };
        Self { leg_mm: least_leg_mm.max(free_mm + hook.tip_mm()), ..hook }
    }

    /// Length of the tip, from where it touches the sheet to its end.
    pub(crate) fn tip_mm(&self) -> f64 {
        2.0 * (self.lead_mm() + self.bite_mm)
    }

    fn lead_mm(&self) -> f64 {
        self.wall_mm / 3.0
    }

    /// How far outside the gap the tip's outer corner is: two thirds of the wall are left across the tip where its inside runs
    /// out by half of its length.
    fn tip_out_mm(&self) -> f64 {
        let across = if self.bite_mm > 0.0 { 1.25_f64.sqrt() } else { 1.0 };
        self.lead_mm() + across * (self.wall_mm - self.lead_mm())
    }

    /// The left leg from the outer corner of its tip to its root, to go on with from there to the right. The tip is
    /// chamfered, to be pushed over the edge. Beside the root of one that grips, the back is hollowed out in a round, so
    /// that the sheet's edge lies on what is left.
    pub(crate) fn left_leg(&self) -> Vec<(DVec2, f64)> {
        let contact = self.tip_mm() - self.leg_mm;
        let mut corners = vec![
            (dvec2(-self.tip_out_mm(), -self.leg_mm), 0.0),
            (dvec2(-self.lead_mm(), -self.leg_mm), 0.0),
            (dvec2(self.bite_mm, contact), 0.0),
        ];
        let round = self.round_mm;
        if round > 0.0 {
            // The leg's face goes straight on into the round.
            let root = dvec2(self.bite_mm * round / contact, round);
            let far = root.x + HOLLOW_ROUNDS * round;
            corners.extend([(root, round), (dvec2(far, round), round), (dvec2(far, 0.0), 0.0)]);
        } else {
            corners.push((DVec2::ZERO, 0.0));
        }
        corners
    }

    /// The outside of the left leg, from the corner of the back above it down, where the profile closes: it leans as the
    /// inside does, so that the leg is of one thickness down to its tip.
    pub(crate) fn left_outside(&self) -> Vec<(DVec2, f64)> {
        let mut corners = vec![(dvec2(-self.wall_mm, self.back_mm), 0.0)];
        if self.bite_mm > 0.0 {
            let contact = self.tip_mm() - self.leg_mm;
            corners.extend([
                (dvec2(-self.wall_mm, 0.0), 0.0),
                (dvec2(self.bite_mm - self.wall_mm, contact), 0.0),
            ]);
        }
        corners
    }
}

impl Hook {
    /// The sheet between the legs, its thickness told: below the hollow at the root, from where a leg that grips leans in.
    pub(crate) fn mate(&self, sheet_mm: f64, width_mm: f64, printer: &Printer) -> Mate {
        let below = below_root_mm(self.round_mm);
        let leaning = self.bite_mm * below / (self.leg_mm - self.tip_mm());
        let between = Between {
            at: dvec2(0.5 * self.gap_mm, -below),
            along: DVec2::NEG_Y,
            ground_mm: self.gap_mm - leaning,
            mouth_mm: self.gap_mm - self.bite_mm,
        };
        between.mate(sheet_mm, width_mm, printer)
    }
}

/// Where the round of a root has run out for sure, measured from the sheet's edge, mm.
pub(crate) fn below_root_mm(round_mm: f64) -> f64 {
    (0.25 * round_mm).max(OFF_GROUND_MM)
}

/// What is between two legs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Between {
    /// Near the ground.
    pub(crate) at: DVec2,
    /// From there to the mouth.
    pub(crate) along: DVec2,
    /// How wide it is at that place.
    pub(crate) ground_mm: f64,
    /// How wide it is between the tips, where it is narrowest.
    pub(crate) mouth_mm: f64,
}

impl Between {
    /// With a sheet in it.
    pub(crate) fn mate(&self, sheet_mm: f64, width_mm: f64, printer: &Printer) -> Mate {
        let height_mm = printer.height_mm(width_mm);
        let Self { at, along, ground_mm, mouth_mm } = *self;
        Mate {
            with: "sheet",
            size_mm: sheet_mm,
            band_mm: [sheet_mm; 2],
            form: Form::Slot { along, mouth_mm: Some(mouth_mm - sheet_mm) },
            at: at.extend(0.5 * height_mm),
            heights_mm: [0.0, height_mm],
            play_mm: ground_mm - sheet_mm,
            loss_mm: 0.0,
        }
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
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8, 1.2] {
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
            for nozzle_mm in [0.25, 0.4, 0.6, 0.8, 1.2] {
                let printer = Printer { nozzle_mm, filament, ..Printer::default() };
                for [least, most] in SHEETS {
                    let hook = Hook::grips([most, most - least], 2.4, 12.0, &printer);
                    let free = hook.leg_mm - hook.tip_mm();
                    let strain = bent_beam_strain(hook.wall_mm, 0.3 + most - least, free);
                    assert!(strain <= filament.strain_for_years() + 1e-12, "{filament:?} {strain}");
                    assert!(hook.leg_mm < 45.0, "{filament:?}: a leg of {}", hook.leg_mm);
                }
            }
        }
    }

    #[test]
    fn the_tip_leads_the_edge_in() {
        let hook = Hook::grips([8.0, 0.3], 2.4, 12.0, &Printer::default());
        let leg = hook.left_leg();
        let [outer, inner, contact] = [leg[0].0, leg[1].0, leg[2].0];
        assert!(inner.x < 0.0 && contact.x > 0.0 && inner.y < contact.y);
        assert!(inner.x - outer.x >= 1.6 - 1e-9, "two thirds of the wall are left at the tip");
    }

    /// The strain is reckoned for a beam of one thickness.
    #[test]
    fn a_leg_that_grips_is_of_one_thickness_and_round_at_its_root() {
        for sheet in [2.0, 8.0, 20.0] {
            let hook = Hook::grips([sheet, 1.2], 2.4, 12.0, &Printer::default());
            let (inside, outside) = (hook.left_leg(), hook.left_outside());
            let thick = |y: f64| {
                let at = |a: DVec2, b: DVec2| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
                at(inside[2].0, inside[3].0) - at(outside[2].0, outside[1].0)
            };
            let contact = inside[2].0.y;
            for share in [0.0, 0.3, 0.7, 1.0] {
                assert!((thick(share * contact) - 2.4).abs() < 1e-9, "{sheet} {share}");
            }
            // The sheet's edge has its seat, and the back is nowhere thinner than the leg.
            assert!(inside[5].0.x <= hook.gap_mm - 0.8 && inside[5].0.y.abs() < 1e-12);
            assert!(hook.back_mm - inside[4].0.y >= 2.4 - 1e-9);
            assert!(inside[3].1 >= if sheet > 4.0 { 1.2 } else { 0.6 });
        }
    }
}

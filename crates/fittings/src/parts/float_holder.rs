//! A holder for a float switch, clamped on an edge and adjustable in height.

use glam::dvec2;
use plate::{Contour, Cut, Face, Plate, Shape};

use super::hook::Hook;
use crate::error::{Error, check_wall};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::nut::ScrewSize;
use crate::printer::Printer;
use crate::stand::{OnEdge, Stand};

/// The kind.
pub(crate) const FLOAT_HOLDER: Kind = Kind {
    name: "float-switch-holder",
    what_for: "is clamped on the upper edge of a wall by a screw and holds a side-mounted float switch at a height that can be set",
    is_jig: false,
    stand: Stand::on_edge(OnEdge::Hook),
    in_pieces: None,
    advice: "nut and screw of PA: the nut is laid into its pocket from the side, the screw comes from outside and is tightened by two fingers until the holder cannot be moved by hand; look after a week whether it still is. Tie the cable to the two holes. Push the float by hand through its whole way after each change; a switch that guards against flooding needs a second one that does not hang on the same part",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "thread",
            "diameter of the switch's thread or stem",
            [5.0, 10.0, 18.0],
            "common practice: side-mounted switches have M8 to M16",
        ),
        Measure::mm(
            "drop",
            "from the wall's edge to the highest setting",
            [15.0, 40.0, 150.0],
            PRACTICE,
        ),
        Measure::mm(
            "travel",
            "from the highest to the lowest setting",
            [5.0, 40.0, 80.0],
            PRACTICE,
        ),
        Measure::mm(
            "off",
            "from the wall to the middle of the thread",
            [25.0, 25.0, 50.0],
            "common practice: a float clears the wall",
        ),
        Measure::width([15.0, 18.0, 40.0]),
        Measure::mm("fin", "thickness of what holds the switch", [4.0, 6.0, 12.0], PRACTICE),
        Measure::screw("the screw that clamps it; with a nut"),
    ],
    make: float_holder,
};

/// Thickness of back and inner leg, mm: what two fingers put on a plastic screw must not open them; our judgement.
const WALL_MM: f64 = 4.8;
/// What is left around the nut, mm; common practice.
const AROUND_MM: f64 = 3.2;
/// What is left under the nut at least, mm; common practice.
const FLOOR_MM: f64 = 2.0;
/// The nut's upper corner is so far below the leg's face, mm.
const UNDER_FACE_MM: f64 = 0.3;
/// Rounding of the lower corners, mm, for the hand.
const ROUND_MM: f64 = 3.0;
/// A nut's seat, over its thread; common practice.
const SEAT: f64 = 1.8;
/// Holes for a cable tie: their diameter and where they are, mm from the leg and from each other; common practice.
const TIE_MM: f64 = 4.0;
const TIE_FROM_LEG_MM: f64 = 6.0;
const TIE_APART_MM: f64 = 8.0;
/// How far cuts reach beyond the edges that they run out over.
const BEYOND_MM: f64 = 1.0;

/// A clamp over the sheet's edge, as wide as asked, and a thinner fin beside it with a slot, in which the switch's thread
/// is held by its own nuts; the thread runs along the wall. Printed lying on the fin: slot, and the pocket of the
/// clamp's nut, stand upright and are open above.
fn float_holder(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (thread, drop, travel) = (m.get("thread"), m.get("drop"), m.get("travel"));
    let clamp = Clamp::new(m, printer);
    let hook = Hook::hangs(m.get("sheet"), WALL_MM, clamp.leg_mm, printer);
    let (gap, wall) = (hook.gap_mm, hook.wall_mm);
    let fin = printer.height_mm(m.get("fin"));
    let width = printer.height_mm(m.get("width").max(fin));
    // The nuts' seats lie whole on the fin.
    let (middle, edge) = (gap + m.get("off") - printer.clearance_mm, 1.1 * thread);
    let beside = middle - 0.5 * SEAT * thread - gap - wall;
    if drop - 0.5 * SEAT * thread < clamp.leg_mm && beside < 0.0 {
        check_wall(
            "room beside the leg for the nut of `thread`, by `off` or `drop`,",
            Some("off"),
            beside,
            printer,
        )?;
    }
    let lowest = drop + travel + edge;
    let outline = Contour::rounded_polygon(&[
        (dvec2(-clamp.thick_mm, -clamp.leg_mm), 0.0),
        (dvec2(0.0, -clamp.leg_mm), 0.0),
        (dvec2(0.0, 0.0), 0.0),
        (dvec2(gap, 0.0), 0.0),
        (dvec2(gap, -lowest), ROUND_MM),
        (dvec2(middle + edge, -lowest), ROUND_MM),
        (dvec2(middle + edge, wall), ROUND_MM),
        (dvec2(-clamp.thick_mm, wall), ROUND_MM),
    ]);
    let mut plate = Plate::new(outline, width);
    if width > fin + 1e-9 {
        let (far, low) = (middle + edge + BEYOND_MM, -lowest - BEYOND_MM);
        let around_fin = Contour::polygon(&[
            dvec2(0.5 * gap, low),
            dvec2(far, low),
            dvec2(far, wall + BEYOND_MM),
            dvec2(gap + wall, wall + BEYOND_MM),
            dvec2(gap + wall, -clamp.leg_mm),
            dvec2(0.5 * gap, -clamp.leg_mm),
        ]);
        plate.cuts.push(Cut::pocket(around_fin, Face::Top, width - fin));
    }
    plate.cuts.extend(clamp.cuts(width, printer));
    let radius = 0.5 * printer.hole_mm(thread) + printer.clearance_mm;
    let slot = Contour::slot(dvec2(middle, -drop - travel), dvec2(middle, -drop), radius);
    plate.cuts.push(Cut::through(slot));
    for away in [0.0, TIE_APART_MM] {
        let at = dvec2(gap + wall + TIE_FROM_LEG_MM + away, 0.0);
        plate.cuts.push(Cut::through(Contour::circle(at, 0.5 * printer.hole_mm(TIE_MM))));
    }
    Fitting::new(Shape::Sheet(plate), "on its side, fin down", printer)
}

/// The outer leg, with a nut in a pocket and a way for the screw through it, both open to the side.
struct Clamp {
    screw: ScrewSize,
    /// Width of the nut's pocket.
    pocket_mm: f64,
    /// Length of the pocket along the screw.
    nut_mm: f64,
    /// Between pocket and the sheet; the outside, where the nut pulls, is thicker.
    inner_mm: f64,
    /// Thickness and length of the leg.
    thick_mm: f64,
    leg_mm: f64,
}

impl Clamp {
    fn new(m: &Measures, printer: &Printer) -> Self {
        let screw = ScrewSize::of(m.get("screw"));
        let pocket_mm = screw.nut_across_flats_mm() + printer.clearance_mm;
        let nut_mm = screw.nut_height_mm() + 2.0 * printer.clearance_mm;
        let outer_mm = printer.wall_mm(AROUND_MM);
        let inner_mm = printer.least_wall_mm();
        let (thick_mm, leg_mm) = (inner_mm + nut_mm + outer_mm, 2.0 * outer_mm + pocket_mm);
        Self { screw, pocket_mm, nut_mm, inner_mm, thick_mm, leg_mm }
    }

    /// The pocket, in which the nut lies on a corner, and the way of the screw.
    ///
    /// Both are open above, for nothing prints over them. So the nut lies as high as it can, its upper corner just below the
    /// leg's face: what joins the leg's end to its back is all that is left under the way.
    fn cuts(&self, width: f64, printer: &Printer) -> [Cut; 2] {
        let axis = -0.5 * self.leg_mm;
        let corners = self.screw.nut_across_flats_mm() * 2.0 / 3.0_f64.sqrt();
        let layers = ((width - corners - UNDER_FACE_MM) / printer.layer_mm + 1e-9).floor();
        let floor = (layers * printer.layer_mm).max(printer.height_mm(FLOOR_MM));
        let pocket = Contour::rectangle(
            dvec2(-self.inner_mm - self.nut_mm, axis - 0.5 * self.pocket_mm),
            dvec2(-self.inner_mm, axis + 0.5 * self.pocket_mm),
        );
        let half = 0.5 * self.screw.diameter_mm() + printer.clearance_mm;
        let way = Contour::rectangle(
            dvec2(-self.thick_mm - BEYOND_MM, axis - half),
            dvec2(BEYOND_MM, axis + half),
        );
        // The nut's corner stands on the floor, so its middle is half its width across corners above it.
        let screw = floor + self.screw.nut_across_flats_mm() / 3.0_f64.sqrt();
        let under = ((screw - half) / printer.layer_mm).floor() * printer.layer_mm;
        [Cut::pocket(pocket, Face::Top, width - floor), Cut::pocket(way, Face::Top, width - under)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_clamp_and_fin_less_their_cuts() {
        let holder = FLOAT_HOLDER.made([], &FLAT).expect("a holder");
        // M5: the pocket 8.25 by 5.2, walls of 3.2 and 0.8 beside it: a leg of 9.2 by 14.65.
        let (thick, leg) = (9.2, 14.65);
        let corner = (1.0 - 0.25 * PI) * 9.0;
        let clamp = (thick + 8.5 + 4.8) * 4.8 + (thick + 4.8) * leg - corner;
        // The nut, 9.24 across corners, 8.4 above the bed, its middle 4.62 higher; the way 5.5 wide, its floor at 10.2.
        let pocket = 8.25 * 5.2 * 9.6;
        let way = 5.5 * ((thick - 5.2) * 7.8);
        // The fin to 11 beyond the middle of the thread, less what is under the leg's 4.8.
        let across = 24.75 + 11.0;
        let slot = 40.0 * 10.7 + PI * 5.35 * 5.35;
        let ties = 2.0 * PI * 2.1 * 2.1;
        let fin = across * 91.0 - 4.8 * leg + (across - 4.8) * 4.8 - slot - ties - 3.0 * corner;
        is_close(volume_mm3(&holder), clamp * 18.0 - pocket - way + fin * 6.0);
    }

    #[test]
    fn the_thread_slides_in_its_slot_over_the_whole_travel() {
        for thread in [8.0, 10.0, 15.0, 18.0] {
            let holder = FLOAT_HOLDER.made([("thread", thread)], &FLAT).expect("a holder");
            let [lo, hi] = holes(&holder)[0].bounds().expect("a slot");
            let comes_out = hi.x - lo.x - FLAT.hole_loss_mm;
            is_close(comes_out, thread + 2.0 * FLAT.clearance_mm);
            is_close(hi.y - lo.y - (hi.x - lo.x), 40.0);
        }
    }

    #[test]
    fn every_nut_lies_whole_in_its_pocket_and_the_screw_meets_its_middle() {
        for (screw, size) in [4.0, 5.0, 6.0].into_iter().zip(ScrewSize::ALL) {
            let holder =
                FLOAT_HOLDER.made([("screw", screw), ("width", 15.0)], &FLAT).expect("a holder");
            let Shape::Sheet(plate) = &holder.shape else { panic!("it is flat") };
            let [pocket, way] = [&plate.cuts[1], &plate.cuts[2]];
            let across_corners = size.nut_across_flats_mm() * 2.0 / 3.0_f64.sqrt();
            assert!(pocket.depth >= across_corners, "it stands out of the leg");
            let ([lo, hi], [low, high]) =
                (pocket.contour.bounds().expect("a pocket"), way.contour.bounds().expect("a way"));
            assert!(hi.x - lo.x > size.nut_height_mm() && hi.y - lo.y > size.nut_across_flats_mm());
            assert!(hi.y - lo.y < across_corners, "it cannot turn");
            is_close(lo.y + hi.y, low.y + high.y);
            let play = plate.thickness
                - way.depth
                - (plate.thickness - pocket.depth)
                - 0.5 * (across_corners - screw);
            assert!(
                (-FLAT.clearance_mm - FLAT.layer_mm..=1e-9 - FLAT.clearance_mm).contains(&play),
                "{play}"
            );
        }
    }

    #[test]
    fn a_clamp_narrower_than_15_mm_is_refused_by_name() {
        let refusal =
            FLOAT_HOLDER.made([("width", 14.0)], &FLAT).expect_err("too narrow").to_string();
        assert_eq!(refusal, "`width` is 14 mm; it goes from 15 to 40 mm");
    }
}

//! A holder for a float switch, adjustable in height.

use glam::dvec2;
use plate::{Contour, Cut, Plate, Shape};

use super::hook::{Hold, Hook};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const FLOAT_HOLDER: Kind = Kind {
    name: "float-switch-holder",
    what_for: "hangs on a wall and holds a side-mounted float switch at a height that can be set",
    is_jig: false,
    advice: "it only hangs on the wall: fix it with a dab of aquarium silicone or a plastic screw, tie the cable down, and see that lifting the float by hand switches and does not lift the holder. Push the float by hand through its whole way after each change; a switch that guards against flooding needs a second one that does not hang on the same part",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "thread",
            "diameter of the switch's thread",
            [5.0, 10.0, 16.0],
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
            [15.0, 20.0, 40.0],
            "common practice: a float clears the wall",
        ),
        Measure::width([5.0, 6.0, 12.0]),
    ],
    make: float_holder,
};

/// Thickness of the hook's leg and back, mm; common practice.
const WALL_MM: f64 = 3.2;
/// Length of the outer leg, mm; common practice.
const LEG_MM: f64 = 20.0;
/// Rounding of the lower corners, mm, for the hand.
const ROUND_MM: f64 = 3.0;

/// A hook whose inner leg is a fin with a slot along it, in which the switch's thread is clamped by its own nuts. The
/// thread runs along the wall. Printed lying on the fin, so the slot stands upright.
fn float_holder(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (thread, drop, travel) = (m.get("thread"), m.get("drop"), m.get("travel"));
    let hook = Hook::new(m.get("sheet"), WALL_MM, Hold::Hangs, printer);
    let gap = hook.gap_mm;
    // The nuts' seats, 1.8 times the thread across, lie whole on the fin.
    let (middle, edge) = (gap + m.get("off") - printer.clearance_mm, 1.1 * thread);
    let lowest = drop + travel + edge;
    let mut corners: Vec<_> = hook.left_leg(LEG_MM).into_iter().map(|p| (p, 0.0)).collect();
    corners.extend([
        (dvec2(gap, 0.0), 0.0),
        (dvec2(gap, -lowest), ROUND_MM),
        (dvec2(middle + edge, -lowest), ROUND_MM),
        (dvec2(middle + edge, hook.wall_mm), ROUND_MM),
        (hook.left_shoulder(), 0.0),
    ]);
    let outline = Contour::rounded_polygon(&corners);
    let mut plate = Plate::new(outline, printer.height_mm(m.get("width")));
    let radius = 0.5 * printer.hole_mm(thread) + printer.clearance_mm;
    let slot = Contour::slot(dvec2(middle, -drop - travel), dvec2(middle, -drop), radius);
    plate.cuts.push(Cut::through(slot));
    Fitting::new(Shape::Sheet(plate), "on its side, fin down")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_hook_and_fin_less_the_slot() {
        let holder = FLOAT_HOLDER.made([], &FLAT).expect("a holder");
        // The middle of the thread 20 from the wall, which stands 0.25 off the fin; 11 beyond it.
        let fin = 19.75 + 11.0;
        let back = (3.2 + 8.5 + fin) * 3.2;
        let lead = 3.2 / 3.0;
        let leg = 3.2 * 20.0 - 0.5 * lead * 2.0 * lead;
        let slot = 40.0 * 10.7 + PI * 5.35 * 5.35;
        let area = back + leg + fin * 91.0 - slot - 3.0 * (1.0 - 0.25 * PI) * 9.0;
        is_close(volume_mm3(&holder), area * 6.0);
    }

    #[test]
    fn the_thread_slides_in_its_slot_over_the_whole_travel() {
        for thread in [8.0, 10.0, 16.0] {
            let holder = FLOAT_HOLDER.made([("thread", thread)], &FLAT).expect("a holder");
            let [lo, hi] = holes(&holder)[0].bounds().expect("a slot");
            let comes_out = hi.x - lo.x - FLAT.hole_loss_mm;
            is_close(comes_out, thread + 2.0 * FLAT.clearance_mm);
            is_close(hi.y - lo.y - (hi.x - lo.x), 40.0);
        }
    }
}

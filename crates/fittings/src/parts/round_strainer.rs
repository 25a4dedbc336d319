//! A strainer for a round hole.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Segment, Shape};

use super::strainer::{ADVICE, BEYOND_MM, FLANGE_MM, OVERLAP_MM, SLOT, WALL_MM, bar_mm, places};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const ROUND_STRAINER: Kind = Kind {
    name: "round-strainer",
    what_for: "is pushed into a round hole and keeps animals and leaves out",
    is_jig: false,
    advice: ADVICE,
    measures: &[
        Measure::sheet(),
        Measure::mm("hole", "diameter of the hole", [20.0, 50.0, 120.0], PRACTICE),
        SLOT,
    ],
    make: round_strainer,
};

/// Shorter slots beside the longer ones are left out, mm.
const SHORTEST_MM: f64 = 4.0;

/// A round flange with slots, and a collar on it that stands in the hole; printed flange down.
fn round_strainer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hole = 0.5 * m.get("hole");
    let collar = hole - printer.clearance_mm;
    let inside = collar - printer.wall_mm(WALL_MM);
    let (flange, high) = (printer.height_mm(FLANGE_MM), printer.height_mm(m.get("sheet")));
    let outline = Contour::circle(DVec2::ZERO, hole + OVERLAP_MM);
    let mut plate = Plate::new(outline, flange + high);
    for side in [1.0, -1.0] {
        let around = half_ring(collar, hole + OVERLAP_MM + BEYOND_MM, side);
        plate.cuts.push(Cut::pocket(around, Face::Top, high));
    }
    let well = Contour::circle(DVec2::ZERO, inside);
    plate.cuts.push(Cut::pocket(well, Face::Top, high));
    let (slot, bar) = (m.get("slot"), bar_mm(m.get("slot"), printer));
    let reach = inside - 0.5 * bar;
    for x in places(2.0 * reach, slot, bar) {
        let corner = x.abs() + 0.5 * slot;
        let half = (reach * reach - corner * corner).max(0.0).sqrt();
        if 2.0 * half > SHORTEST_MM {
            let slot =
                Contour::rectangle(dvec2(x - 0.5 * slot, -half), dvec2(x + 0.5 * slot, half));
            plate.cuts.push(Cut::through(slot));
        }
    }
    Fitting::new(Shape::Sheet(plate), "flange down, collar up")
}

/// The half of the ring between two radii above (1) or below (−1) the x axis.
fn half_ring(inner: f64, outer: f64, side: f64) -> Contour {
    let (i, o) = (dvec2(side * inner, 0.0), dvec2(side * outer, 0.0));
    let mut arcs = [Segment::arc(DVec2::ZERO, o, PI), Segment::arc(DVec2::ZERO, -i, -PI)];
    (arcs[0].end, arcs[1].end) = (-o, i);
    Contour(vec![arcs[0], Segment::line(-o, -i), arcs[1], Segment::line(i, o)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};

    #[test]
    fn volume_is_flange_and_collar_less_the_slots() {
        let made = ROUND_STRAINER.made([], &FLAT).expect("a strainer");
        // Collar 24.75 and 23.15; slots end 22.35 from the middle: ten have room, 2.3 + 4.6 k from the middle.
        let half = |k: f64| (22.35_f64.powi(2) - (2.3 + 4.6 * k + 1.5).powi(2)).sqrt();
        let slots: f64 = [0.0, 1.0, 2.0, 3.0].into_iter().map(|k| 2.0 * 3.0 * 2.0 * half(k)).sum();
        let last = 2.0 * half(4.0);
        assert!(last > SHORTEST_MM || last.is_nan() || holes(&made).len() == 8);
        let slots = if last > SHORTEST_MM { slots + 2.0 * 3.0 * last } else { slots };
        let flange = (PI * 31.0 * 31.0 - slots) * 2.4;
        let collar = PI * (24.75 * 24.75 - 23.15 * 23.15) * 8.0;
        is_close(volume_mm3(&made), flange + collar);
    }

    #[test]
    fn slots_are_as_wide_as_asked_and_lie_inside_the_collar() {
        for width in [1.0, 3.0, 5.0] {
            let made = ROUND_STRAINER.made([("slot", width)], &FLAT).expect("a strainer");
            assert!(!holes(&made).is_empty());
            for slot in holes(&made) {
                let [lo, hi] = slot.bounds().expect("a slot");
                is_close(hi.x - lo.x, width);
                assert!(lo.length().max(hi.length()) < 23.15);
            }
        }
    }
}

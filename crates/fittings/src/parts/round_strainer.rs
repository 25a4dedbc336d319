//! A strainer for a round hole.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Segment, Shape};

use super::hump::{HALF_MM, PRESS_MM, half_turned, hump};
use super::strainer::{ADVICE, BEYOND_MM, FLANGE_MM, OVERLAP_MM, SLOT, WALL_MM, bar_mm, places};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const ROUND_STRAINER: Kind = Kind {
    name: "round-strainer",
    what_for: "is pressed into a round hole and keeps animals and leaves out",
    is_jig: false,
    advice: ADVICE,
    measures: &[
        Measure::sheet(),
        Measure::mm("hole", "diameter of the hole", [25.0, 50.0, 120.0], PRACTICE),
        SLOT,
    ],
    make: round_strainer,
};

/// Shorter slots beside the longer ones are left out, mm.
const SHORTEST_MM: f64 = 4.0;

/// A round flange with slots, and a collar on it that stands in the hole; printed flange down.
///
/// Two humps opposite each other press it oval: a ring with two loads W gives way by δ = 0.0744 W R³ / (E I) at each, with
/// the moment 0.318 W R (Roark's Formulas for Stress and Strain, table of circular rings), so it is strained by
/// 2.14 t δ / R². At the flange, which holds the ring round, the hump itself is squeezed.
fn round_strainer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hole = 0.5 * m.get("hole");
    let collar = hole - printer.clearance_mm;
    let inside = collar - printer.wall_mm(WALL_MM);
    let (flange, high) = (printer.height_mm(FLANGE_MM), printer.height_mm(m.get("sheet")));
    let outline = Contour::circle(DVec2::ZERO, hole + OVERLAP_MM);
    let mut plate = Plate::new(outline, flange + high);
    let above = half_ring(collar, printer.clearance_mm + PRESS_MM, hole + OVERLAP_MM + BEYOND_MM);
    for half in [half_turned(&above), above] {
        plate.cuts.push(Cut::pocket(Contour(half), Face::Top, high));
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
    Fitting::new(Shape::Sheet(plate), "flange down, collar up", printer)
}

/// What is cut away above the x axis between a collar with a hump and the outside; counter-clockwise.
fn half_ring(collar: f64, hump_mm: f64, outer: f64) -> Vec<Segment> {
    let (i, o) = (dvec2(collar, 0.0), dvec2(outer, 0.0));
    let y = (collar * collar - HALF_MM * HALF_MM).sqrt();
    let bow = hump(y, collar, hump_mm);
    let beside = libm::atan2(y, HALF_MM);
    let arc = |start: DVec2, end: DVec2, sweep: f64| {
        let mut arc = Segment::arc(DVec2::ZERO, start, sweep);
        arc.end = end;
        arc
    };
    vec![
        Segment::line(i, o),
        arc(o, -o, PI),
        Segment::line(-o, -i),
        arc(-i, bow.start, -beside),
        bow,
        arc(bow.end, i, -beside),
    ]
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
        // A hump: the bow of its circle through (±4, y) and (0, 25.2) less that of the collar.
        let y = (24.75_f64 * 24.75 - 16.0).sqrt();
        let bow = |r: f64| r * r * ((4.0 / r).asin() - (4.0 / r) * (1.0 - 16.0 / (r * r)).sqrt());
        let high = 25.2 - y;
        let humps = 2.0 * (bow((16.0 + high * high) / (2.0 * high)) - bow(24.75));
        let collar = (PI * (24.75 * 24.75 - 23.15 * 23.15) + humps) * 8.0;
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

    #[test]
    fn its_humps_press_on_the_hole_and_its_ring_stands_it_by_any_nozzle() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            for clearance_mm in [0.1, 0.4] {
                let printer = Printer { nozzle_mm, clearance_mm, ..FLAT };
                let made = ROUND_STRAINER.made([("hole", 25.0)], &printer).expect("a strainer");
                let Shape::Sheet(plate) = &made.shape else { panic!("it is flat") };
                let tops = plate.cuts[..2].iter().map(|cut| cut.contour.0[4].midpoint());
                for (top, y) in tops.zip([-12.7, 12.7]) {
                    assert!(top.x.abs() < 1e-9 && (top.y - y).abs() < 1e-9, "{top}");
                }
                let wall = printer.wall_mm(1.6);
                let radius = 12.5 - clearance_mm - 0.5 * wall;
                let strain = 2.14 * wall * 0.2 / (radius * radius);
                assert!(strain <= printer.filament.strain_for_years(), "{strain}");
            }
        }
    }
}

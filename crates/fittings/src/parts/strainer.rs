//! A strainer for a rectangular opening.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const STRAINER: Kind = Kind {
    name: "strainer",
    what_for: "is pushed into a rectangular opening and keeps animals and leaves out",
    is_jig: false,
    advice: ADVICE,
    measures: &[
        Measure::sheet(),
        Measure::mm("width", "width of the opening", [20.0, 60.0, 120.0], PRACTICE),
        Measure::mm(
            "height",
            "height of the opening, along the slots",
            [20.0, 40.0, 120.0],
            PRACTICE,
        ),
        SLOT,
    ],
    make: strainer,
};

/// What to know of strainers.
pub(crate) const ADVICE: &str = "bars take away from a third to half of the opening, and growth the rest: check the level with it, never put it on the only emergency way, clean it weekly. Slots of 1 to 2 mm keep fry and shrimp out, 3 mm most snails and fish; all common practice";

/// The slots.
pub(crate) const SLOT: Measure = Measure::mm(
    "slot",
    "width of the slots: less than the smallest animal to be kept",
    [1.0, 3.0, 8.0],
    "common practice: 3 mm",
);

/// How far the flange reaches over the opening's edge, mm; common practice.
pub(crate) const OVERLAP_MM: f64 = 6.0;
/// Thickness of flange and bars, mm; common practice.
pub(crate) const FLANGE_MM: f64 = 2.4;
/// Thickness of the collar in the opening and of bars, mm; common practice. Bars are as thick as half a slot at least.
pub(crate) const WALL_MM: f64 = 1.6;
/// Longer slots are divided by a bar across, mm; our judgement: bars of 1.6 mm that long are still stiff.
const LONGEST_MM: f64 = 40.0;
/// How far cuts reach beyond the edges that they run out over.
pub(crate) const BEYOND_MM: f64 = 1.0;

/// A flange with slots, and a collar on it that stands in the opening; printed flange down.
fn strainer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let opening = 0.5 * dvec2(m.get("width"), m.get("height"));
    let collar = opening - printer.clearance_mm;
    let inside = collar - printer.wall_mm(WALL_MM);
    let outline = opening + OVERLAP_MM;
    let (flange, high) = (printer.height_mm(FLANGE_MM), printer.height_mm(m.get("sheet")));
    let rectangle = |half: DVec2| Contour::rectangle(-half, half);
    let mut plate = Plate::new(rectangle(outline), flange + high);
    // Around the collar: two strips as long as the flange and two between them.
    let far = outline + BEYOND_MM;
    for side in [-1.0, 1.0] {
        let strip = |a: DVec2, b: DVec2| Contour::rectangle(a.min(b), a.max(b));
        let along = strip(dvec2(-far.x, side * collar.y), dvec2(far.x, side * far.y));
        let beside = strip(dvec2(side * collar.x, -collar.y), dvec2(side * far.x, collar.y));
        plate.cuts.push(Cut::pocket(along, Face::Top, high));
        plate.cuts.push(Cut::pocket(beside, Face::Top, high));
    }
    plate.cuts.push(Cut::pocket(rectangle(inside), Face::Top, high));
    let (slot, bar) = (m.get("slot"), bar_mm(m.get("slot"), printer));
    let margin = inside - 0.5 * bar;
    for x in places(2.0 * margin.x, slot, bar) {
        let rows = (2.0 * margin.y / LONGEST_MM).ceil().max(1.0);
        let long = (2.0 * margin.y - (rows - 1.0) * bar) / rows;
        for y in places(2.0 * margin.y, long, bar) {
            let half = 0.5 * dvec2(slot, long);
            let middle = dvec2(x, y);
            plate.cuts.push(Cut::through(Contour::rectangle(middle - half, middle + half)));
        }
    }
    Fitting::new(Shape::Sheet(plate), "flange down, collar up")
}

/// Thickness of the bars between slots of this width.
pub(crate) fn bar_mm(slot_mm: f64, printer: &Printer) -> f64 {
    printer.wall_mm(WALL_MM.max(0.5 * slot_mm))
}

/// Middles of as many gaps as have room beside each other with bars between them, about 0.
pub(crate) fn places(room_mm: f64, gap_mm: f64, bar_mm: f64) -> Vec<f64> {
    let pitch = gap_mm + bar_mm;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most an opening over a slot: small; negative becomes none"
    )]
    let count = ((room_mm + bar_mm) / pitch + 1e-9).floor() as u32;
    let first = -0.5 * pitch * (f64::from(count) - 1.0);
    (0..count).map(|k| first + pitch * f64::from(k)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};

    #[test]
    fn volume_is_flange_and_collar_less_the_slots() {
        let made = STRAINER.made([], &FLAT).expect("a strainer");
        // Inside the collar 56.3 by 36.3; bars of 1.6: slots of 34.7 in one row, (54.7 + 1.6) / 4.6 = 12.2 of them.
        let flange = (72.0 * 52.0 - 12.0 * 3.0 * 34.7) * 2.4;
        let collar = (59.5 * 39.5 - 56.3 * 36.3) * 8.0;
        is_close(volume_mm3(&made), flange + collar);
    }

    #[test]
    fn the_collar_goes_into_the_opening_and_no_slot_is_wider_than_asked() {
        let made = STRAINER.made([("height", 90.0), ("slot", 2.0)], &FLAT).expect("a strainer");
        for slot in holes(&made) {
            let [lo, hi] = slot.bounds().expect("a slot");
            assert!((hi.x - lo.x - 2.0).abs() < 1e-9 && hi.y - lo.y <= LONGEST_MM);
        }
        let Shape::Sheet(plate) = &made.shape else { panic!("it is flat") };
        let beside = plate.cuts[1].contour.bounds().expect("a strip");
        is_close(2.0 * -beside[1].x, 60.0 - 2.0 * FLAT.clearance_mm);
    }
}

//! Rows of slots or holes with a number at each: gauges, and the coupons that a printer is set by.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Plate, Shape};

use super::number;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Stand};

/// A row of slots around the nominal thickness.
pub(crate) const THICKNESS_GAUGE: Kind = Kind {
    name: "thickness-gauge",
    what_for: "tells a sheet's thickness by the narrowest slot that slides over it",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "try all edges and the middle of each: sheet is not equally thick. The slots are made with `[printing] \
             clearance`, so print the clearance coupon first. What it says goes into `measured` of the sheet; a caliper \
             says it more finely",
    measures: &[
        Measure::mm(
            "sheet",
            "nominal thickness of the sheet, in the middle of the row",
            [2.0, 8.0, 25.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::Sheet),
        // Even the most and widest steps leave the first slot a thickness.
        Measure::mm("step", "from one slot to the next", [0.05, 0.1, 0.25], PRACTICE),
        Measure::count("slots", "how many slots", [3.0, 9.0, 13.0], PRACTICE),
    ],
    make: thickness_gauge,
};

/// A row of slots, each with more clearance, for a sheet that was measured.
pub(crate) const CLEARANCE_COUPON: Kind = Kind {
    name: "clearance-coupon",
    what_for: "finds the clearance of printer and filament: a row of slots for the sheet, each a little wider",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "print it in the filament of the fittings. Slide the sheet, where it is thickest, into the slots from the \
             tightest on: the number at the first that slides freely over its whole depth goes into `[printing] clearance`",
    measures: &[
        Measure::mm(
            "sheet",
            "thickness of the sheet, by caliper, where it is thickest",
            [2.0, 8.0, 25.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::Sheet),
        Measure::mm(
            "least",
            "clearance of the tightest slot, each side",
            [0.0, 0.1, 0.5],
            "common practice: 0.1 to 0.4 mm",
        ),
        Measure::mm("step", "from one slot to the next", [0.02, 0.05, 0.2], PRACTICE),
        Measure::count("slots", "how many slots", [3.0, 8.0, 12.0], PRACTICE),
    ],
    make: clearance_coupon,
};

/// A row of upright holes, each a little larger than a pin.
pub(crate) const HOLE_COUPON: Kind = Kind {
    name: "hole-coupon",
    what_for: "finds how much smaller upright holes come out: a row of holes for a pin, each a little larger",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "take the shank of a drill or a rod, measured by caliper. The number at the first hole that it drops through \
             by its own weight goes into `[printing] hole_loss`",
    measures: &[
        Measure::mm("pin", "diameter of the pin, by caliper", [2.0, 8.0, 20.0], PRACTICE),
        Measure::mm("step", "from one hole to the next, in diameter", [0.02, 0.1, 0.2], PRACTICE),
        Measure::count(
            "holes",
            "how many holes, the first of the pin's own size",
            [3.0, 7.0, 12.0],
            PRACTICE,
        ),
    ],
    make: hole_coupon,
};

/// How far a sheet goes into a slot, mm: as into a usual channel; common practice.
const SLOT_DEPTH_MM: f64 = 12.0;
/// Length of the slots along the sheet's edge, mm: it must be led, not only touched; common practice.
const SLOT_THICK_MM: f64 = 8.0;
/// Thickness around holes, mm; common practice: that of a flange or foot.
const HOLE_THICK_MM: f64 = 5.0;
/// Teeth between slots and walls around holes are at least this thick, mm: they must not give way; common practice.
const TOOTH_MM: f64 = 3.2;

fn thickness_gauge(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let row = |slots: u32| {
        let middle = 0.5 * (f64::from(slots) - 1.0);
        let thickness = |k: u32| m.get("sheet") + (f64::from(k) - middle) * m.get("step");
        let slot = |k| Numbered {
            width: thickness(k) + 2.0 * printer.clearance_mm,
            words: number(thickness(k)),
        };
        (0..slots).map(slot).collect()
    };
    comb(m.count("slots"), row, printer)
}

fn clearance_coupon(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let clearance = |k: u32| m.get("least") + f64::from(k) * m.get("step");
    let slot =
        |k| Numbered { width: m.get("sheet") + 2.0 * clearance(k), words: number(clearance(k)) };
    comb(m.count("slots"), |slots| (0..slots).map(slot).collect(), printer)
}

/// A slot or hole and what stands at it.
struct Numbered {
    width: f64,
    words: String,
}

/// Where each of a row has its middle, and where the row ends: teeth between them, and room for the numbers.
fn places(row: &[Numbered], lettering: &Lettering, tooth: f64) -> (Vec<f64>, f64) {
    let mut end = 0.5 * tooth;
    let middles = row.iter().map(|one| {
        let room = lettering.room_mm(&one.words).x + 2.0 * lettering.margin_mm();
        let cell = (one.width + tooth).max(room);
        end += cell;
        end - 0.5 * cell
    });
    let middles = middles.collect();
    (middles, end + 0.5 * tooth)
}

/// As many of a row as the bed is long, but [`LEAST_OF_ROW`] at least, and what to say of those left out.
fn on_bed(
    asked: u32,
    row: impl Fn(u32) -> Vec<Numbered>,
    lettering: &Lettering,
    printer: &Printer,
) -> (Vec<Numbered>, String) {
    let long = printer.bed_mm[0] - 2.0 * BED_EDGE_MM;
    let fits = |n: &u32| places(&row(*n), lettering, printer.wall_mm(TOOTH_MM)).1 <= long;
    let count = (LEAST_OF_ROW..=asked).rev().find(fits).unwrap_or(asked.min(LEAST_OF_ROW));
    let words = match count < asked {
        true => format!(", {count} of the {asked} asked for, which is as many as the bed is long"),
        false => String::new(),
    };
    (row(count), words)
}

/// Fewer than these are no row.
const LEAST_OF_ROW: u32 = 3;
/// Left free at the edges of the bed, mm; common practice.
const BED_EDGE_MM: f64 = 5.0;

/// Slots open to one edge, their numbers below them with a tick from each to its slot, lying flat.
fn comb(
    asked: u32,
    row: impl Fn(u32) -> Vec<Numbered>,
    printer: &Printer,
) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let (row, left_out) = on_bed(asked, row, &lettering, printer);
    let (middles, end) = places(&row, &lettering, printer.wall_mm(TOOTH_MM));
    let below = printer
        .wall_mm(lettering.height_mm() + 2.0 * (lettering.margin_mm() + printer.least_wall_mm()));
    let top = below + SLOT_DEPTH_MM;
    let mut corners = vec![DVec2::ZERO, dvec2(end, 0.0), dvec2(end, top)];
    for (slot, x) in row.iter().zip(&middles).rev() {
        let (left, right) = (x - 0.5 * slot.width, x + 0.5 * slot.width);
        corners.extend([
            dvec2(right, top),
            dvec2(right, below),
            dvec2(left, below),
            dvec2(left, top),
        ]);
    }
    corners.push(dvec2(0.0, top));
    let mut plate = Plate::new(Contour::polygon(&corners), printer.height_mm(SLOT_THICK_MM));
    for (slot, &x) in row.iter().zip(&middles) {
        plate.cuts.extend(lettering.cuts(&slot.words, dvec2(x, 0.5 * below), DVec2::X));
        let text_top = 0.5 * (below + lettering.height_mm());
        let ends = [text_top + 0.5 * lettering.margin_mm(), below - 0.5 * printer.nozzle_mm];
        plate.cuts.push(lettering.tick(x, ends));
    }
    let words = format!("lying flat, numbers up{left_out}");
    Fitting::new(Shape::Sheet(plate), &words, printer)
}

fn hole_coupon(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let larger = |k: u32| f64::from(k) * m.get("step");
    let row: Vec<Numbered> = (0..m.count("holes"))
        .map(|k| Numbered { width: m.get("pin") + larger(k), words: number(larger(k)) })
        .collect();
    let tooth = printer.wall_mm(TOOTH_MM);
    let (middles, end) = places(&row, &lettering, tooth);
    let below = printer
        .wall_mm(lettering.height_mm() + 2.0 * (lettering.margin_mm() + printer.least_wall_mm()));
    let widest = row.iter().map(|hole| hole.width).fold(0.0, f64::max);
    let (y, top) = (below + 0.5 * widest, below + widest + tooth);
    let outline = Contour::rectangle(DVec2::ZERO, dvec2(end, top));
    let mut plate = Plate::new(outline, printer.height_mm(HOLE_THICK_MM));
    for (hole, &x) in row.iter().zip(&middles) {
        plate.cuts.push(Cut::through(Contour::circle(dvec2(x, y), 0.5 * hole.width)));
        plate.cuts.extend(lettering.cuts(&hole.words, dvec2(x, 0.5 * below), DVec2::X));
    }
    Fitting::new(Shape::Sheet(plate), "lying flat, numbers up", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;
    use std::f64::consts::PI;

    fn footprint(kind: &Kind, printer: &Printer) -> [f64; 2] {
        kind.made([], printer).expect("a row").print.bed_footprint_mm
    }

    #[test]
    fn slots_are_the_sheet_and_twice_the_clearance() {
        let printer = Printer::default();
        let [x, y] = footprint(&CLEARANCE_COUPON, &printer);
        // 0.10 to 0.45 mm in eight slots: 8 × 8 mm and twice 2.2 mm.
        let volume = 8.0 * (x * y - 12.0 * (64.0 + 2.0 * 2.2));
        let made = volume_without_text(&CLEARANCE_COUPON, &[], &printer);
        assert!((made - volume).abs() < 1e-6, "{made} {volume}");
        // One short print: it covers less than a sixth of a usual bed.
        assert!(x * y < 200.0 * 200.0 / 6.0 && x < 120.0, "{x} {y}");
    }

    #[test]
    fn the_gauge_tells_thickness_with_the_clearance_that_was_found() {
        let printer = Printer { clearance_mm: 0.1, ..Printer::default() };
        let [x, y] = footprint(&THICKNESS_GAUGE, &printer);
        // Nine slots of 7.6 to 8.4 mm and 0.2 mm more.
        let volume = 8.0 * (x * y - 12.0 * (72.0 + 9.0 * 0.2));
        let made = volume_without_text(&THICKNESS_GAUGE, &[], &printer);
        assert!((made - volume).abs() < 1e-6, "{made} {volume}");
    }

    #[test]
    fn holes_grow_from_the_pin_on_whatever_the_printer_loses() {
        for hole_loss_mm in [0.0, 0.3] {
            let printer = Printer { hole_loss_mm, ..Printer::default() };
            let [x, y] = footprint(&HOLE_COUPON, &printer);
            let holes: f64 = (0..7).map(|k| PI * (4.0 + 0.05 * f64::from(k)).powi(2)).sum();
            let made = volume_without_text(&HOLE_COUPON, &[], &printer);
            assert!((made - 5.0 * (x * y - holes)).abs() < 1e-6, "{made}");
        }
    }
}

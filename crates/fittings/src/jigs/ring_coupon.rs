//! A row of round holes and a peg to break off: the clearance of round parts that go into each other.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Segment, Shape};

use super::number;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::Stand;

/// The kind.
pub(crate) const RING_COUPON: Kind = Kind {
    name: "ring-coupon",
    what_for: "finds the clearance of round printed parts that go into each other: a row of holes, each a little wider, \
               and a peg to break off",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "print the hole coupon first: the holes are drawn larger by `[printing] hole_loss`. The number at the first hole \
             that the peg turns in freely is the clearance of round parts; where the slots of the clearance coupon say \
             more, theirs counts",
    measures: &[
        Measure::mm("peg", "diameter of the peg", [8.0, 12.0, 60.0], PRACTICE),
        Measure::mm(
            "least",
            "clearance of the tightest hole, each side",
            [0.0, 0.1, 0.5],
            "common practice: 0.1 to 0.4 mm",
        ),
        Measure::mm("step", "from one hole to the next", [0.02, 0.05, 0.2], PRACTICE),
        Measure::count("holes", "how many holes", [3.0, 5.0, 10.0], PRACTICE),
    ],
    make: ring_coupon,
};

/// How deep the peg goes into a hole, mm: it must be led, not only touched; common practice.
const LED_MM: f64 = 6.0;
/// Thickness of the peg's foot, by which it is held, and how far it reaches beyond the peg, mm; common practice.
const GRIP_MM: f64 = 2.0;
const GRIP_BEYOND_MM: f64 = 3.0;
/// Walls around holes are at least this thick, mm: they must not give way; common practice.
const WALL_MM: f64 = 3.2;
/// Length of the neck between plate and peg, and its least height, mm: it is broken by hand; our judgement.
const NECK_MM: f64 = 2.0;
const NECK_HEIGHT_MM: f64 = 0.6;
/// How far cuts reach beyond the edges that they run out over.
const BEYOND_MM: f64 = 1.0;

fn ring_coupon(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let wall = printer.wall_mm(WALL_MM);
    let clearance = |k: u32| m.get("least") + f64::from(k) * m.get("step");
    let holes: Vec<(f64, String)> = (0..m.count("holes"))
        .map(|k| (printer.hole_mm(m.get("peg") + 2.0 * clearance(k)), number(clearance(k))))
        .collect();
    let widest = holes.iter().map(|(diameter, _)| *diameter).fold(0.0, f64::max);
    let room = holes.iter().map(|(_, words)| lettering.room_mm(words).x).fold(widest, f64::max);
    let pitch = (widest + wall).max(room + 2.0 * lettering.margin_mm());
    let below = printer.wall_mm(lettering.height_mm() + 2.0 * lettering.margin_mm() + wall);
    let end = pitch * f64::from(m.count("holes")) + wall;
    let (middle, top) = (below + 0.5 * widest, below + widest + wall);

    let tab = Tab {
        middle: dvec2(end + NECK_MM + 0.5 * m.get("peg") + GRIP_BEYOND_MM, middle),
        half: 0.5 * m.get("peg") + GRIP_BEYOND_MM,
        radius: 0.5 * m.get("peg"),
    };
    let neck = 0.5 * printer.wall_mm(2.0 * printer.nozzle_mm);
    let [lo, hi] = [tab.middle - tab.half, tab.middle + tab.half];
    let outline = Contour::polygon(&[
        DVec2::ZERO,
        dvec2(end, 0.0),
        dvec2(end, middle - neck),
        dvec2(lo.x, middle - neck),
        lo,
        dvec2(hi.x, lo.y),
        hi,
        dvec2(lo.x, hi.y),
        dvec2(lo.x, middle + neck),
        dvec2(end, middle + neck),
        dvec2(end, top),
        dvec2(0.0, top),
    ]);
    let grip = printer.height_mm(GRIP_MM);
    let led = printer.height_mm(LED_MM);
    let mut plate = Plate::new(outline, grip + led);
    plate.cuts = tab.around_the_peg().map(|side| Cut::pocket(side, Face::Top, led)).to_vec();
    let over_neck = Contour::rectangle(
        dvec2(end, middle - neck - BEYOND_MM),
        dvec2(lo.x, middle + neck + BEYOND_MM),
    );
    let neck_height = printer.height_mm(NECK_HEIGHT_MM);
    plate.cuts.push(Cut::pocket(over_neck, Face::Top, grip + led - neck_height));
    for ((diameter, words), k) in holes.iter().zip(0_u32..) {
        let x = 0.5 * wall + pitch * (f64::from(k) + 0.5);
        plate.cuts.push(Cut::through(Contour::circle(dvec2(x, middle), 0.5 * diameter)));
        let at = dvec2(x, lettering.margin_mm() + 0.5 * wall + 0.5 * lettering.height_mm());
        plate.cuts.extend(lettering.cuts(words, at, DVec2::X));
    }
    Fitting::new(Shape::Sheet(plate), "lying flat, numbers and peg up", printer)
}

/// The square foot that the peg stands on.
struct Tab {
    middle: DVec2,
    half: f64,
    radius: f64,
}

impl Tab {
    /// Everything of the foot that is beside the peg, in two halves; beyond its edges but for the one at the neck.
    fn around_the_peg(&self) -> [Contour; 2] {
        let (c, far) = (self.middle, self.half + BEYOND_MM);
        let half = |side: f64, reach: f64| {
            let at = |x: f64, y: f64| c + dvec2(side * x, side * y);
            let (from, to) = (at(0.0, self.radius), at(0.0, -self.radius));
            let mut around = Segment::arc(c, from, -PI);
            around.end = to;
            let corners = [to, at(0.0, -far), at(reach, -far), at(reach, far), at(0.0, far), from];
            let lines = corners.windows(2).map(|pair| Segment::line(pair[0], pair[1]));
            Contour(std::iter::once(around).chain(lines).collect())
        };
        [half(1.0, far), half(-1.0, self.half)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;

    #[test]
    fn volume_is_plate_neck_and_peg() {
        let printer = Printer::default();
        let given = [("peg", 20.0)];
        let made = RING_COUPON.made(given, &printer).expect("a coupon");
        let [x, y] = made.print.bed_footprint_mm;
        // Peg of 20 on a foot of 26 by 26 mm, 2 mm thick and 6 mm more; neck of 0.8 by 2 by 0.6 mm; holes 20.4 to 20.8.
        let holes: f64 = (0..5).map(|k| PI * (10.2 + 0.05 * f64::from(k)).powi(2)).sum();
        let end = x - 26.0 - 2.0;
        let foot = 26.0 * 26.0 * 2.0 + PI * 100.0 * 6.0 + 0.8 * 2.0 * 0.6;
        let volume = 8.0 * (end * y - holes) + foot;
        let told = volume_without_text(&RING_COUPON, &given, &printer);
        assert!((told - volume).abs() < 1e-6 * volume, "{told} {volume}");
    }

    #[test]
    fn the_peg_has_its_clearance_in_each_hole_once_the_printer_has_taken_its_share() {
        let printer = Printer { hole_loss_mm: 0.3, ..Printer::default() };
        let given = [("peg", 15.0), ("least", 0.2), ("step", 0.1), ("holes", 3.0)];
        let made = RING_COUPON.made(given, &printer).expect("a coupon");
        let holes = crate::testing::holes(&made);
        let diameters = holes.iter().filter_map(|hole| hole.as_circle()).map(|(_, r)| 2.0 * r);
        for (diameter, clearance) in diameters.zip([0.2, 0.3, 0.4]) {
            assert!((diameter - 0.3 - 15.0 - 2.0 * clearance).abs() < 1e-9, "{diameter}");
        }
    }
}

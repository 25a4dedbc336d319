//! The stepped gap that tells what a blade or beam takes away.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use super::number;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::Stand;

/// The kind.
pub(crate) const KERF_GAUGE: Kind = Kind {
    name: "kerf-gauge",
    what_for: "tells the kerf of a laser or saw by a test piece that is cut without allowance for it",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "cut a piece of the width `piece`, the middle of the cut on its lines; slide it into the gap until it stops. \
             The last number that it passed is the kerf. The gap is made with `[printing] clearance`, so print the \
             clearance coupon first; a caliper over the piece says the same more finely",
    measures: &[
        Measure::mm(
            "piece",
            "width that the test piece is drawn with",
            [15.0, 30.0, 80.0],
            PRACTICE,
        ),
        Measure::mm(
            "least",
            "least kerf that it tells",
            [0.05, 0.1, 5.0],
            "common practice: a laser takes 0.1 to 0.4 mm, a saw 2 to 3.5 mm",
        ),
        Measure::mm("step", "from one kerf to the next", [0.05, 0.1, 0.5], PRACTICE),
        Measure::count("steps", "how many kerfs it tells", [3.0, 6.0, 12.0], PRACTICE),
    ],
    make: kerf_gauge,
};

/// Thickness: the piece is led, not only touched, mm; common practice.
const THICK_MM: f64 = 5.0;
/// Width of the arm without numbers and of the base, mm; common practice.
const ARM_MM: f64 = 8.0;
/// Length over which the gap narrows from one step to the next, mm: it leads the piece's corner; our judgement.
const LEAD_MM: f64 = 1.0;
/// Least length of a step along the piece, mm; common practice.
const LEAST_STEP_MM: f64 = 6.0;

/// Two arms on a base, lying flat. The gap between them narrows from step to step towards the base.
fn kerf_gauge(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let steps = m.count("steps");
    let kerf = |k: u32| m.get("least") + f64::from(k) * m.get("step");
    let words: Vec<String> = (0..steps).map(|k| number(kerf(k))).collect();
    let room = |words: &String| lettering.room_mm(words) + 2.0 * lettering.margin_mm();
    let widest = words.iter().map(room).fold(DVec2::ZERO, DVec2::max);
    let (length, base) = (LEAST_STEP_MM.max(widest.y), printer.wall_mm(ARM_MM));
    // What just slides is narrower than its gap by a clearance on both sides.
    let gap = |k: u32| m.get("piece") - kerf(k) + 2.0 * printer.clearance_mm;
    let right = gap(0) + printer.wall_mm(widest.x);
    let top = base + f64::from(steps) * length;
    let mut corners = vec![dvec2(-base, 0.0), dvec2(right, 0.0), dvec2(right, top)];
    let mut plate_words = Vec::new();
    // From the mouth inwards; the first kerf leaves the widest gap.
    for (k, words) in (0..steps).zip(&words) {
        let from = top - f64::from(k) * length;
        let lead = if k == 0 { 0.0 } else { LEAD_MM };
        corners.extend([dvec2(gap(k), from - lead), dvec2(gap(k), from - length)]);
        let middle = dvec2(0.5 * (gap(0) + right), from - 0.5 * length);
        plate_words.extend(lettering.cuts(words, middle, DVec2::X));
    }
    corners.extend([dvec2(0.0, base), dvec2(0.0, top), dvec2(-base, top)]);
    let mut plate = Plate::new(Contour::polygon(&corners), printer.height_mm(THICK_MM));
    plate.cuts = plate_words;
    Fitting::new(Shape::Sheet(plate), "lying flat, numbers up", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;

    #[test]
    fn the_gap_of_each_step_is_the_piece_less_its_kerf() {
        let printer = Printer { clearance_mm: 0.15, ..Printer::default() };
        let given = [("piece", 40.0), ("least", 2.0), ("steps", 4.0)];
        let made = KERF_GAUGE.made(given, &printer).expect("a gauge");
        let Shape::Sheet(plate) = &made.shape else { panic!("a plate") };
        let corners = plate.outline.0.iter().map(|s| s.start.x);
        let mut gaps: Vec<f64> = corners.filter(|x| (30.0..39.0).contains(x)).collect();
        gaps.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        // Kerfs of 2 to 2.3 mm, and 0.15 mm on both sides to slide.
        let expected = [38.3, 38.2, 38.1, 38.0];
        assert!(gaps.iter().zip(expected).all(|(gap, e)| (gap - e).abs() < 1e-9), "{gaps:?}");
        assert_eq!(gaps.len(), 4);
        // The footprint less the gap; a wedge of 0.1 by 1 mm leads from each step to the next.
        let given = [("piece", 40.0), ("least", 2.0), ("steps", 4.0)];
        let [x, y] = made.print.bed_footprint_mm;
        let length = (y - 8.0) / 4.0;
        let gap = (38.3 + 38.2 + 38.1 + 38.0) * length + 3.0 * 0.5 * 0.1;
        let volume = volume_without_text(&KERF_GAUGE, &given, &printer);
        assert!((volume - 5.0 * (x * y - gap)).abs() < 1e-6, "{volume}");
    }
}

//! A bracket for a return's nozzle on the rim.

use super::rim_cap::RimCap;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Holds, OnEdge, Stand};

/// The kind.
pub(crate) const NOZZLE_BRACKET: Kind = Kind {
    name: "nozzle-bracket",
    what_for: "sits on a rim and keeps the pipe of a return or a drain upright beside the wall",
    is_jig: false,
    stand: Stand::on_edge(OnEdge::Cap).holding(Holds::Upright),
    in_pieces: None,
    advice: "it keeps a pipe from swinging; the pipe's weight and the pump's thrust go into a glued clamp or the plumbing",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "pipe",
            "outer diameter of the pipe",
            [8.0, 25.0, 63.0],
            "common practice: a return of 20 to 32 mm",
        )
        .follows(Follows::Pipe),
        Measure::mm("off", "between the wall and the pipe", [4.0, 10.0, 60.0], PRACTICE),
    ],
    make: nozzle_bracket,
};

/// A cap with one hole, deeper on the rim than one for probes, for it takes a push.
fn nozzle_bracket(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let cap = RimCap {
        sheet_mm: m.get("sheet"),
        groove_mm: 18.0,
        floor_mm: 4.0,
        diameter_mm: m.get("pipe"),
        count: 1,
        off_mm: m.get("off"),
        wall_mm: 4.0,
        slit_mm: 0.0,
    };
    cap.made(printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};
    use plate::Shape;
    use std::f64::consts::PI;

    #[test]
    fn volume_is_the_block_less_groove_and_hole() {
        let bracket = NOZZLE_BRACKET.made([], &FLAT).expect("a bracket");
        // The hole 25.7, walls of 4, the groove 8.5 wide.
        let (length, depth) = (25.7 + 8.0, 4.0 + 8.5 + 10.0 + 25.7 + 4.0);
        let area = length * depth - (4.0 - PI) * 4.0 - 0.25 * PI * 25.7 * 25.7;
        is_close(volume_mm3(&bracket), area * 22.0 - length * 8.5 * 18.0);
    }

    #[test]
    fn it_goes_over_every_place_of_the_measured_rim() {
        for [least, most] in [[7.7, 8.0], [9.6, 10.1]] {
            let bracket = NOZZLE_BRACKET.made([("sheet", most)], &FLAT).expect("a bracket");
            let Shape::Sheet(plate) = &bracket.shape else { panic!("it is flat") };
            let [lo, hi] = plate.cuts[0].contour.bounds().expect("a groove");
            let play = hi.y - lo.y - most;
            is_close(play, 2.0 * FLAT.clearance_mm);
            assert!(hi.y - lo.y - least < 1.1, "it does not tip on the thinnest place");
            assert!(holes(&bracket).len() == 1);
        }
    }
}

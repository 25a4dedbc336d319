//! A plug for a hole that is not used.

use glam::dvec2;
use plate::{Shape, Turned};

use super::hump::Fit;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Flange, Follows, OnLid, Stand};

/// The kind.
pub(crate) const DRAIN_CAP: Kind = Kind {
    name: "drain-hole-cap",
    what_for: "is pressed into a drilled hole that is not used, against splashes, dust and animals",
    is_jig: false,
    stand: Stand { on_lid: Some(OnLid::Plug), ..Stand::pressed(Flange::Either) },
    in_pieces: None,
    advice: "push it in until it jams, in a tight hole before its flange lies on. It does not hold water back: a hole below any level, running or failed, is closed by a bulkhead with a blind cap or by a glued disc",
    measures: &[
        Measure::sheet(),
        Measure::cut(),
        Measure::mm("hole", "diameter of the hole", [8.0, 25.0, 90.0], PRACTICE)
            .follows(Follows::RoundHole),
    ],
    make: drain_cap,
};

/// How far the flange reaches over the hole's edge, and its thickness, mm; common practice.
const OVERLAP_MM: f64 = 5.0;
const FLANGE_MM: f64 = 2.0;
/// Thickness of the plug's wall: soft enough to give; common practice.
const WALL_MM: f64 = 1.2;
const WALL_SHARE: f64 = 0.05;
/// How far the plug reaches beyond the sheet, mm.
const BEYOND_MM: f64 = 2.0;

/// A closed flange and a hollow plug that tapers from a little over the radius of the widest hole, where it jams before the
/// flange lies on, to a clearance under that of the narrowest; printed flange down.
fn drain_cap(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hole = 0.5 * m.get("hole");
    let wall = printer.wall_mm(WALL_MM.max(WALL_SHARE * hole));
    let flange = printer.height_mm(FLANGE_MM);
    let top = flange + printer.height_mm(m.get("sheet") + BEYOND_MM);
    let fit = Fit::new(m, printer);
    let (root, tip) = (hole + fit.press_mm(), hole - fit.play_mm());
    let profile = vec![
        dvec2(0.0, 0.0),
        dvec2(hole + OVERLAP_MM, 0.0),
        dvec2(hole + OVERLAP_MM, flange),
        dvec2(root, flange),
        dvec2(tip, top),
        dvec2(tip - wall, top),
        dvec2(root - wall, flange),
        dvec2(0.0, flange),
    ];
    Fitting::new(Shape::Turned(Turned { profile }), "flange down, plug up", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_flange_and_tapered_wall() {
        let cap = DRAIN_CAP.made([], &FLAT).expect("a cap");
        // A wall of 1.2 between cones: at each height π ((r)² − (r − 1.2)²), linear in r; r from 12.7 to 12.15.
        let mean = 0.5 * (12.7 + 12.15) - 0.6;
        is_close(volume_mm3(&cap), PI * 17.5 * 17.5 * 2.0 + 2.0 * PI * mean * 1.2 * 10.0);
    }

    #[test]
    fn it_goes_in_and_jams_before_the_flange_in_every_sheet() {
        for (least, most) in [(7.7, 8.0), (5.8, 6.1), (3.0, 3.0)] {
            let cap = DRAIN_CAP.made([("sheet", most)], &FLAT).expect("a cap");
            let Shape::Turned(turned) = &cap.shape else { panic!("a cap is turned") };
            let [root, tip] = [turned.profile[3], turned.profile[4]];
            // The hole may be 0.2 mm off, in diameter.
            assert!(tip.x < 12.4 - 0.2 && 12.6 < root.x - 0.05);
            assert!(tip.y - root.y > most && least > 0.0, "it reaches through");
            assert!(turned.profile[2].x > 12.5 + 4.0, "the flange covers the hole");
        }
    }
}

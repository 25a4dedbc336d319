//! A holder for probes on the rim.

use super::rim_cap::RimCap;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Holds, OnEdge, Stand};

/// The kind.
pub(crate) const PROBE_HOLDER: Kind = Kind {
    name: "probe-holder",
    what_for: "sits on a rim and holds probes upright in the water",
    is_jig: false,
    stand: Stand::on_edge(OnEdge::Cap).holding(Holds::Upright),
    in_pieces: None,
    advice: "a rubber ring around each probe sets its height; cables go in through the slit. A probe's tip stays under water when the pump is off, and out of the bubbles",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "probe",
            "diameter of the probes",
            [8.0, 12.0, 30.0],
            "common practice: probes of 12, 16 and 25 mm",
        )
        .follows(Follows::Probe),
        Measure::count("count", "probes side by side", [1.0, 2.0, 4.0], PRACTICE),
        Measure::mm("off", "between the wall and the probes", [4.0, 8.0, 40.0], PRACTICE),
        Measure::mm(
            "slit",
            "width of the slit for the cable",
            [3.0, 6.0, 7.0],
            "common practice: cables of 5 mm",
        ),
    ],
    make: probe_holder,
};

/// A cap with a hole and a slit for each probe.
fn probe_holder(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let cap = RimCap {
        sheet_mm: m.get("sheet"),
        groove_mm: 12.0,
        floor_mm: 3.0,
        diameter_mm: m.get("probe"),
        count: m.count("count"),
        off_mm: m.get("off"),
        wall_mm: 3.2,
        slit_mm: m.get("slit"),
    };
    cap.made(printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_the_block_less_groove_holes_and_slits() {
        let holder = PROBE_HOLDER.made([], &FLAT).expect("a holder");
        // Holes of 12 + 0.2 + 0.5, walls of 3.2, the groove 8.5.
        let (d, wall) = (12.7, 3.2);
        let (length, depth) = (2.0 * d + 3.0 * wall, wall + 8.5 + 8.0 + d + wall);
        // A slit of 6 from the middle of a circle: what lies in the circle is counted once.
        let (r, a): (f64, f64) = (0.5 * d, 3.0);
        let common = a * (r * r - a * a).sqrt() + r * r * (a / r).asin();
        let cut = PI * r * r + 6.0 * (r + wall) - common;
        let corners = (4.0 - PI) * 4.0;
        let volume = (length * depth - corners - 2.0 * cut) * 15.0 - length * 8.5 * 12.0;
        is_close(volume_mm3(&holder), volume);
    }

    #[test]
    fn probes_of_12_16_and_25_slide_in() {
        for probe in [12.0, 16.0, 25.0] {
            let holder = PROBE_HOLDER.made([("probe", probe)], &FLAT).expect("a holder");
            let (_, radius) = holes(&holder)[0].as_circle().expect("a round hole");
            is_close(2.0 * radius - FLAT.hole_loss_mm, probe + 2.0 * FLAT.clearance_mm);
        }
    }
}

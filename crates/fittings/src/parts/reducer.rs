//! A ring that makes the hole of a sock holder smaller.

use glam::dvec2;
use plate::{Shape, Turned};

use crate::error::{Error, check_wall};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::printer::Printer;
use crate::sock_ring::{BORE_CHAMFER_MM, FLANGE_MM, FLANGE_OVERLAP_MM, NOSE_MM, RIM_CHAMFER_MM};
use crate::stand::{Follows, Stand};

/// The kind.
pub(crate) const REDUCER: Kind = Kind {
    name: "reducer",
    what_for: "lines a large hole of a sock holder for a smaller sock or cup",
    is_jig: false,
    stand: Stand { in_holder: true, ..Stand::NOWHERE },
    in_pieces: None,
    advice: "it carries a sock that drains; one that is clogged and stands full of water must overflow, not hang. Do not lift a full sock by it",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "hole",
            "diameter of the hole in the holder",
            [100.0, 180.0, 260.0],
            "common practice: socks of 7 inches",
        )
        .follows(Follows::SockHole),
        Measure::mm(
            "bore",
            "diameter that the smaller sock's bag passes through",
            [20.0, 106.0, 200.0],
            "common practice: socks of 4 inches and their play",
        ),
    ],
    make: reducer,
};

/// Thickness of the spigot, mm; common practice.
const WALL_MM: f64 = 2.4;
/// Thickness of the plate between spigot and bore, as a share of its width: at least the flange's; our judgement.
const PLATE_SHARE: f64 = 0.12;

/// As the sock ring, but its flange reaches inwards to the smaller bore; printed on it, used turned over.
fn reducer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (hole, bore) = (0.5 * m.get("hole"), 0.5 * m.get("bore"));
    let spigot = hole - printer.clearance_mm;
    let inside = spigot - printer.wall_mm(WALL_MM);
    check_wall(
        "reducer's plate between `hole` and `bore`",
        Some("bore"),
        inside - bore - BORE_CHAMFER_MM,
        printer,
    )?;
    let plate = printer.height_mm(FLANGE_MM.max(PLATE_SHARE * (inside - bore)));
    let straight = plate + printer.height_mm(m.get("sheet"));
    let (flange, top) = (hole + FLANGE_OVERLAP_MM, straight + printer.height_mm(NOSE_MM));
    // Half of the wall is left at the tip of the nose, or two lines.
    let tip = inside + (0.5 * (spigot - inside)).max(printer.least_wall_mm());
    let profile = vec![
        dvec2(bore + BORE_CHAMFER_MM, 0.0),
        dvec2(flange - RIM_CHAMFER_MM, 0.0),
        dvec2(flange, RIM_CHAMFER_MM),
        dvec2(flange, plate),
        dvec2(spigot, plate),
        dvec2(spigot, straight),
        dvec2(tip, top),
        dvec2(inside, top),
        dvec2(inside, plate),
        dvec2(bore, plate),
        dvec2(bore, BORE_CHAMFER_MM),
    ];
    Fitting::new(Shape::Turned(Turned { profile }), "flange down, spigot up", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_plate_spigot_and_nose() {
        let made = REDUCER.made([], &FLAT).expect("a reducer");
        // Spigot 89.75, inside 87.35, bore 53: the plate is 0.12 × 34.35 = 4.122, in layers 4.2 thick.
        let ring = |a: f64, b: f64, h: f64| PI * (b * b - a * a) * h;
        let turn = |area: f64, r: f64| 2.0 * PI * area * r;
        let plate =
            ring(53.0, 98.0, 4.2) - turn(0.5, 53.0 + 1.0 / 3.0) - turn(0.125, 98.0 - 0.5 / 3.0);
        let spigot = ring(87.35, 89.75, 8.0);
        let nose = ring(87.35, 88.55, 3.0) + turn(0.5 * 1.2 * 3.0, 88.55 + 0.4);
        is_close(volume_mm3(&made), plate + spigot + nose);
    }

    #[test]
    fn it_goes_into_the_hole_through_the_thickest_sheet() {
        for sheet in [6.1, 8.0] {
            let made = REDUCER.made([("sheet", sheet)], &FLAT).expect("a reducer");
            let Shape::Turned(turned) = &made.shape else { panic!("it is turned") };
            let [lower, upper] = [turned.profile[4], turned.profile[5]];
            is_close(2.0 * lower.x, 180.0 - 2.0 * FLAT.clearance_mm);
            assert!(upper.y - lower.y >= sheet - 1e-9);
        }
    }

    #[test]
    fn a_bore_as_wide_as_the_hole_is_a_sock_ring() {
        let refusal = REDUCER.made([("hole", 110.0)], &FLAT).expect_err("refused").to_string();
        assert!(refusal.contains("plate between `hole` and `bore` would be"), "{refusal}");
    }
}

//! The block that holds two sheets square while their corner is glued.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use super::number;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Stand};

/// The kind.
pub(crate) const CORNER_BLOCK: Kind = Kind {
    name: "corner-block",
    what_for: "holds two sheets square while they are glued, from inside their corner",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "check it with a try square before use; clamp through its legs, one at each end of the seam. Its cut-off \
             corner keeps it away from the glue: wipe what runs farther",
    measures: &[
        Measure::mm("leg", "length of each leg along its sheet", [30.0, 60.0, 150.0], PRACTICE),
        Measure::mm("height", "height along the seam", [8.0, 25.0, 100.0], PRACTICE),
        Measure::mm(
            "sheet",
            "thickness of the sheet that is glued: the corner is cut off by so much",
            [2.0, 8.0, 20.0],
            "common practice: glue seldom runs farther than the sheet is thick",
        )
        .follows(Follows::Sheet),
    ],
    make: corner_block,
};

/// Width of a leg for its length: stiff under a clamp; common practice.
const WIDTH_SHARE: f64 = 0.2;
/// Least width of a leg, mm; common practice.
const LEAST_WIDTH_MM: f64 = 10.0;
/// Radius between the legs inside, where they would crack, mm; common practice.
const FILLET_MM: f64 = 4.0;

/// Two legs at right angles, on their side; the corner outside is cut off at 45°, and its number stands on a leg.
fn corner_block(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let (leg, relief) = (m.get("leg"), m.get("sheet"));
    let width = printer.wall_mm((WIDTH_SHARE * leg).max(LEAST_WIDTH_MM));
    // The cut-off corner must leave a leg behind it, and a face for the sheet along at least half of the leg.
    let (face, least_mm) = (leg - relief, 0.5 * leg);
    if face < least_mm {
        return Err(Error::ThinWall {
            what: "face along the sheet, by `leg` and `sheet`,",
            measure: Some("leg"),
            wall_mm: face,
            least_mm,
        });
    }
    // Across the corner: from the cut to the inner corner along the diagonal.
    let across = (2.0 * width - relief) / std::f64::consts::SQRT_2;
    let least_mm = printer.wall_mm(0.3 * width);
    if across < least_mm {
        return Err(Error::ThinWall {
            what: "corner, by `leg` and `sheet`,",
            measure: Some("sheet"),
            wall_mm: across,
            least_mm,
        });
    }
    let outline = Contour::rounded_polygon(&[
        (dvec2(relief, 0.0), 0.0),
        (dvec2(leg, 0.0), 0.0),
        (dvec2(leg, width), 0.0),
        (dvec2(width, width), FILLET_MM),
        (dvec2(width, leg), 0.0),
        (dvec2(0.0, leg), 0.0),
        (dvec2(0.0, relief), 0.0),
    ]);
    let mut plate = Plate::new(outline, printer.height_mm(m.get("height")));
    let words = number(relief);
    let room = lettering.room_mm(&words) + 2.0 * lettering.margin_mm();
    let from = width.max(relief) + FILLET_MM;
    if room.y <= width && room.x <= leg - from {
        let middle = dvec2(0.5 * (from + leg), 0.5 * width);
        plate.cuts = lettering.cuts(&words, middle, DVec2::X);
    }
    Fitting::new(Shape::Sheet(plate), "on its side, legs along the bed", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;
    use std::f64::consts::PI;

    #[test]
    fn volume_is_two_legs_less_the_corner_and_its_faces_are_square() {
        // Legs of 60 by 12 mm, 25 mm high; corner of 8 mm off, fillet of 4 mm.
        let area = 60.0 * 12.0 + 48.0 * 12.0 - 0.5 * 64.0 + (1.0 - 0.25 * PI) * 16.0;
        let volume = volume_without_text(&CORNER_BLOCK, &[], &Printer::default());
        assert!((volume - 25.0 * area).abs() < 1e-6, "{volume}");
    }

    #[test]
    fn a_corner_that_leaves_no_face_or_no_block_is_refused() {
        let made = |leg: f64, sheet: f64| {
            CORNER_BLOCK.made([("leg", leg), ("sheet", sheet)], &Printer::default())
        };
        assert!(made(30.0, 15.0).is_ok());
        assert!(matches!(made(30.0, 16.0), Err(Error::ThinWall { .. })));
        assert!(made(150.0, 20.0).is_ok());
    }
}

//! A knob to lift a lid by.

use glam::dvec2;
use plate::{Shape, Turned};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::nut::ScrewSize;
use crate::printer::Printer;
use crate::stand::{OnLid, Stand};

/// The kind.
pub(crate) const LID_HANDLE: Kind = Kind {
    name: "lid-handle",
    what_for: "is glued on a lid, or screwed on through it from below, to lift it by",
    is_jig: false,
    stand: Stand { on_lid: Some(OnLid::Foot), ..Stand::NOWHERE },
    in_pieces: None,
    advice: "screwed it stands more than glued: a hole through the lid as wide as the screw, the thread cut into the core hole with a tap, a PA screw from below with its head on a washer, longer than the lid is thick by twice its diameter or more. No metal: stainless steel too rusts in salt spray and drips into the water",
    measures: &[
        Measure::mm("diameter", "diameter of the head", [22.0, 32.0, 60.0], PRACTICE),
        Measure::mm(
            "height",
            "height of the whole, to the nearest layer",
            [16.0, 25.0, 50.0],
            PRACTICE,
        ),
        Measure::choice(
            "screwed",
            "a core hole for a screw through the lid; otherwise it is glued",
            false,
            PRACTICE,
        ),
        Measure::screw("the screw, if it is screwed").only("screwed", true),
    ],
    make: lid_handle,
};

/// Shares of the head's radius and of the height; our judgement: two fingers go under the head.
const NECK_SHARE: f64 = 0.55;
const FOOT_SHARE: f64 = 0.8;
const HEAD_SHARE: f64 = 0.35;
const SLOPE_SHARE: f64 = 0.15;
const CONE_SHARE: f64 = 0.25;
/// The screw stands in this share of the height.
const THREAD_SHARE: f64 = 0.7;
/// Height of the foot's rim, mm.
const RIM_MM: f64 = 2.0;
/// A neck lower than this is none, mm.
const HAIR_MM: f64 = 1e-3;
/// Chamfer around the head, mm.
const CHAMFER_MM: f64 = 1.0;

/// Head, neck and foot, printed head down, so that the face on the lid is the last and level; the foot widens by no
/// more than 45°.
fn lid_handle(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (head, height) = (0.5 * m.get("diameter"), printer.nearest_height_mm(m.get("height")));
    let foot = FOOT_SHARE * head;
    let neck = (NECK_SHARE * head).max(foot - CONE_SHARE * height);
    let grip = printer.height_mm(HEAD_SHARE * height);
    let slope = printer.height_mm(SLOPE_SHARE * height);
    let chamfer = printer.height_mm(CHAMFER_MM);
    let rim = height - printer.height_mm(RIM_MM);
    let cone = printer.height_mm(foot - neck);
    let mut profile = vec![
        dvec2(0.0, 0.0),
        dvec2(head - CHAMFER_MM, 0.0),
        dvec2(head, chamfer),
        dvec2(head, grip),
        dvec2(neck, grip + slope),
    ];
    // Of a low one the cone begins where the slope ends.
    if rim - cone - grip - slope > HAIR_MM {
        profile.push(dvec2(neck, rim - cone));
    }
    profile.extend([dvec2(foot, rim), dvec2(foot, height)]);
    if m.is("screwed") {
        let core = 0.5 * printer.hole_mm(ScrewSize::of(m.get("screw")).core_mm());
        let bottom = height - printer.height_mm(THREAD_SHARE * height);
        profile.extend([dvec2(core, height), dvec2(core, bottom), dvec2(0.0, bottom)]);
    } else {
        profile.push(dvec2(0.0, height));
    }
    Fitting::new(Shape::Turned(Turned { profile }), "head down", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};
    use std::f64::consts::PI;

    /// π h/3 (r² + r R + R²)
    fn frustum(r: f64, s: f64, height: f64) -> f64 {
        PI / 3.0 * height * (r * r + r * s + s * s)
    }

    #[test]
    fn volume_is_that_of_its_cylinders_and_cones() {
        // Head 16, foot 12.8, neck 8.8; 25 high, the head 8.8 (35 % in whole layers), its slope 3.8.
        let glued = LID_HANDLE.made([], &FLAT).expect("a handle");
        let head = frustum(15.0, 16.0, 1.0) + PI * 256.0 * 7.8 + frustum(16.0, 8.8, 3.8);
        let neck = PI * 8.8 * 8.8 * (23.0 - 4.0 - 12.6);
        let foot = frustum(8.8, 12.8, 4.0) + PI * 12.8 * 12.8 * 2.0;
        is_close(volume_mm3(&glued), head + neck + foot);
        let screwed = LID_HANDLE.made([("screwed", 1.0)], &FLAT).expect("a handle");
        // M5: 4.2 and the hole's loss of 0.2, 17.6 deep (70 % in whole layers).
        is_close(volume_mm3(&screwed), head + neck + foot - PI * 2.2 * 2.2 * 17.6);
    }

    #[test]
    fn every_height_is_of_whole_layers() {
        for (layer_mm, height) in [(0.12, 16.0), (0.2, 25.0), (0.28, 33.3), (0.15, 50.0)] {
            let printer = Printer { layer_mm, ..FLAT };
            for screwed in [0.0, 1.0] {
                let handle = LID_HANDLE.made([("height", height), ("screwed", screwed)], &printer);
                let Shape::Turned(turned) = handle.expect("a handle").shape else {
                    panic!("it is turned")
                };
                for corner in &turned.profile {
                    let layers = corner.y / layer_mm;
                    assert!((layers - layers.round()).abs() < 1e-6, "{layer_mm}: {corner}");
                }
            }
        }
    }
}

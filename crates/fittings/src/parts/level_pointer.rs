//! A pointer that marks a level on the edge of a pane.

use glam::dvec2;

use super::hook::{Hold, Hook, on_its_side, sharp};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const LEVEL_POINTER: Kind = Kind {
    name: "level-pointer",
    what_for: "slides on the upright edge of a pane and points at a level",
    is_jig: false,
    advice: "its upper face is the mark: print it in a colour that stands out, and set it by a level seen at rest",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "reach",
            "length of the beak beyond the leg, along the pane",
            [8.0, 20.0, 80.0],
            PRACTICE,
        ),
        Measure::width([5.0, 8.0, 30.0]),
    ],
    make: level_pointer,
};

/// Thickness of legs and back, mm; common practice.
const WALL_MM: f64 = 2.4;
/// Length of the legs, mm; common practice.
const LEG_MM: f64 = 12.0;
/// Thickness of the beak at its end, mm: at least two lines of the nozzle.
const TIP_MM: f64 = 0.8;

/// A clip whose plain leg grips and whose other leg runs out into a beak along the pane; printed on its lower face, so
/// that the upper one is level.
fn level_pointer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hook = Hook::new(m.get("sheet"), WALL_MM, Hold::Grips, printer);
    let (gap, wall, tip) = (hook.gap_mm, hook.wall_mm, printer.wall_mm(TIP_MM));
    let mut corners = hook.left_leg(LEG_MM);
    corners.extend([
        dvec2(gap, 0.0),
        dvec2(gap, -LEG_MM - m.get("reach")),
        dvec2(gap + tip, -LEG_MM - m.get("reach")),
        dvec2(gap + wall, -LEG_MM),
        dvec2(gap + wall, wall),
        hook.left_shoulder(),
    ]);
    on_its_side(&sharp(corners), m.get("width"), printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};

    #[test]
    fn volume_is_clip_and_beak() {
        let pointer = LEVEL_POINTER.made([], &FLAT).expect("a pointer");
        let back = (2.4 + 8.5 + 2.4) * 2.4;
        // The leg that grips: less its lead-in, with its lean (bite 0.9).
        let lean = 0.5 * 0.9 * (12.0 - 3.4) + 0.5 * 0.9 * 1.8;
        let legs = 2.0 * 2.4 * 12.0 - 0.5 * 0.8 * 1.6 + lean;
        let beak = 0.5 * (0.8 + 2.4) * 20.0;
        is_close(volume_mm3(&pointer), (back + legs + beak) * 8.0);
    }

    #[test]
    fn the_mark_is_level_and_at_a_whole_layer() {
        for width in [5.0, 7.9, 8.0] {
            let pointer = LEVEL_POINTER.made([("width", width)], &FLAT).expect("a pointer");
            let layers = pointer.print.height_mm / FLAT.layer_mm;
            assert!(
                (layers - layers.round()).abs() < 1e-9 && pointer.print.height_mm >= width - 1e-9
            );
        }
    }
}

//! A clip over the rim that carries the edge of a lid.

use glam::dvec2;

use super::hook::{Hold, Hook, on_its_side, sharp};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const LID_CLIP: Kind = Kind {
    name: "lid-clip",
    what_for: "hangs on the rim and carries the edge of a lid inside it, just above the rim",
    is_jig: false,
    advice: "drops run back into the sump from a lid that lies inside; it carries a lid, not a hand that leans on it: take four or more",
    measures: &[
        Measure::sheet(),
        Measure::mm("lid", "thickness of the lid", [2.0, 4.0, 10.0], PRACTICE),
        Measure::mm("ledge", "how far it reaches under the lid", [6.0, 12.0, 30.0], PRACTICE),
        Measure::width([8.0, 20.0, 60.0]),
    ],
    make: lid_clip,
};

/// Thickness of legs and ledge, mm; common practice.
const WALL_MM: f64 = 2.4;
/// Length of the outer leg, mm; common practice.
const LEG_MM: f64 = 15.0;

/// A hook whose inner leg has a ledge with a brace of 45° under it; printed on its side.
fn lid_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (lid, ledge) = (m.get("lid"), m.get("ledge"));
    let hook = Hook::new(m.get("sheet"), WALL_MM, Hold::Hangs, printer);
    let (gap, wall) = (hook.gap_mm, hook.wall_mm);
    // The lid's upper face is level with the clip's back, which lies on the rim.
    let under = wall - lid;
    let mut corners = hook.left_leg(LEG_MM);
    corners.extend([
        dvec2(gap, 0.0),
        dvec2(gap, under - wall - ledge),
        dvec2(gap + wall, under - wall - ledge),
        dvec2(gap + wall + ledge, under - wall),
        dvec2(gap + wall + ledge, under),
        dvec2(gap + wall, under),
        dvec2(gap + wall, wall),
        hook.left_shoulder(),
    ]);
    on_its_side(&sharp(corners), m.get("width"), printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};

    #[test]
    fn volume_is_hook_ledge_and_brace() {
        let clip = LID_CLIP.made([], &FLAT).expect("a clip");
        let back = (8.5 + 2.4 + 2.4) * 2.4;
        let outer = 2.4 * 15.0 - 0.5 * 0.8 * 1.6;
        let inner = 2.4 * (4.0 - 2.4 + 2.4 + 12.0);
        let ledge = 12.0 * 2.4 + 0.5 * 12.0 * 12.0;
        is_close(volume_mm3(&clip), (back + outer + inner + ledge) * 20.0);
    }

    #[test]
    fn the_lid_is_flush_with_the_back() {
        for lid in [2.0, 4.0, 5.9] {
            let clip = LID_CLIP.made([("lid", lid)], &FLAT).expect("a clip");
            let top = outline(&clip).bounds().expect("a profile")[1].y;
            let shelf = outline(&clip).0.iter().filter(|s| s.start.x > 8.5 + 2.4 + 1.0);
            let shelf = shelf.map(|s| s.start.y).fold(f64::NEG_INFINITY, f64::max);
            assert!((top - shelf - lid).abs() < 1e-9);
        }
    }
}

//! A clip that a flat strip is pressed into.

use glam::{DVec2, dvec2};

use super::hook::{Hold, Hook, on_its_side, sharp};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const STRIP_CLIP: Kind = Kind {
    name: "strip-clip",
    what_for: "holds a strip of sheet upright on a wall or the bottom: a small weir, a mat's edge, a label",
    is_jig: false,
    advice: "it holds by bending, and a bent clip slackens in warm water over months: nothing that must stay shut may hang on it alone",
    measures: &[
        Measure::sheet(),
        Measure::mm("depth", "how deep the strip stands in it", [8.0, 12.0, 30.0], PRACTICE),
        Measure::width([5.0, 15.0, 60.0]),
    ],
    make: strip_clip,
};

/// Least thickness of a leg, and its share of the depth: soft enough to open by half a nozzle's width each; our
/// judgement.
const LEG_MM: f64 = 2.0;
const LEG_SHARE: f64 = 0.16;
/// Thickness of the foot and how far it reaches beyond the legs, mm; common practice.
const FOOT_MM: f64 = 3.0;
const BEYOND_MM: f64 = 4.0;

/// Two legs on a foot that is glued; printed on its side.
fn strip_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (sheet, depth) = (m.get("sheet"), m.get("depth"));
    let hook = Hook::new(sheet, LEG_MM.max(LEG_SHARE * depth), Hold::Grips, printer);
    let (half, leg) = (0.5 * hook.gap_mm, hook.wall_mm);
    let (foot, lead) = (printer.wall_mm(FOOT_MM), leg / 3.0);
    let bite = 0.5 * hook.bite_mm;
    let right = [
        dvec2(half + leg + BEYOND_MM, -foot),
        dvec2(half + leg + BEYOND_MM, 0.0),
        dvec2(half + leg, 0.0),
        dvec2(half + leg, depth),
        dvec2(half + lead, depth),
        dvec2(half - bite, depth - 2.0 * (lead + bite)),
        dvec2(half, 0.0),
    ];
    let left = right.iter().rev().map(|p| dvec2(-p.x, p.y));
    let corners: Vec<DVec2> = right.iter().copied().chain(left).collect();
    on_its_side(&sharp(corners), m.get("width"), printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};

    #[test]
    fn volume_is_foot_and_two_legs() {
        // Sheet 8, leg 2.0, depth 12, gap 8.5: each leg leans in by 0.45 mm and leads in by 2/3 mm.
        let clip = STRIP_CLIP.made([], &FLAT).expect("a clip");
        let foot = (8.5 + 2.0 * (2.0 + 4.0)) * 3.2;
        let lead = 2.0 / 3.0;
        let lean = 0.5 * 0.45 * (12.0 - 2.0 * (lead + 0.45)) + 0.5 * 0.45 * (2.0 * 0.45);
        let leg = 2.0 * 12.0 - 0.5 * lead * 2.0 * lead + lean;
        is_close(volume_mm3(&clip), (foot + 2.0 * leg) * 15.0);
    }

    #[test]
    fn the_mouth_holds_the_thinnest_place_and_lets_the_thickest_to_the_ground() {
        for [least, most] in [[7.7, 8.0], [5.8, 6.1], [2.8, 3.1]] {
            let clip = STRIP_CLIP.made([("sheet", most)], &FLAT).expect("a clip");
            let inner: Vec<f64> = outline(&clip)
                .0
                .iter()
                .map(|s| s.start)
                .filter(|p| p.y >= 0.0)
                .map(|p| p.x.abs())
                .collect();
            let mouth = 2.0 * inner.iter().copied().fold(f64::INFINITY, f64::min);
            assert!(mouth < least && mouth > most - 0.5, "{mouth}");
            assert!(inner.iter().any(|x| (2.0 * x - most - 0.5).abs() < 1e-9));
        }
    }
}

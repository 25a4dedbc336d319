//! A clip over the rim that carries the edge of a lid.

use glam::dvec2;

use super::hook::{Hook, on_its_side, sharp};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{OnEdge, Stand};

/// The kind.
pub(crate) const LID_CLIP: Kind = Kind {
    name: "lid-clip",
    what_for: "hangs on the upper edge of a wall and carries the edge of a lid inside it, level with its own top",
    is_jig: false,
    stand: Stand::on_edge(OnEdge::Hook),
    in_pieces: None,
    advice: "only where no rim lies on the wall. The lid's weight turns it until its long leg lies on the wall's inner face: so the lid sinks by its play, less than half a millimetre, and no more. Take four or more; it carries a lid, not a hand that leans on it. Drops run back into the sump from a lid that lies inside",
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
/// Under its load it turns no farther in its play than this, in radians: 2°; our judgement.
const MOST_TILT: f64 = 0.035;
/// What the sheet may be thinner than its thickest place, mm: by caliper on panels of cast sheet.
const SPREAD_MM: f64 = 0.3;

/// A hook whose inner leg has a ledge with a brace of 45° under it; printed on its side.
///
/// The lid's weight W lies inside the wall, at e from its inner face. It is held by the edge under the back, and against
/// turning by two forces: the lower end of the inner leg on the inner face, at the depth d, and the root of the outer
/// leg on the outer face, H = W e / d each. Neither asks for friction, so it does not tip, whatever the weight; it only
/// turns by its play over d, for which the inner leg is long enough.
fn lid_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (lid, ledge) = (m.get("lid"), m.get("ledge"));
    let hook = Hook::hangs(m.get("sheet"), WALL_MM, LEG_MM, printer);
    let (gap, wall) = (hook.gap_mm, hook.wall_mm);
    // The lid's upper face is level with the clip's back, which lies on the rim.
    let under = wall - lid;
    let play = 2.0 * printer.clearance_mm + SPREAD_MM;
    // The leg ends with the brace, or a wall below it: less would leave a sliver of an edge there.
    let brace = under - wall - ledge;
    let foot = match brace + play / MOST_TILT {
        more if more > 0.0 => brace - more.max(printer.least_wall_mm()),
        _ => brace,
    };
    let mut corners = hook.left_leg();
    corners.extend(sharp(vec![dvec2(gap, 0.0), dvec2(gap, foot), dvec2(gap + wall, foot)]));
    if foot < brace {
        corners.push((dvec2(gap + wall, brace), 0.0));
    }
    corners.extend(sharp(vec![
        dvec2(gap + wall + ledge, under - wall),
        dvec2(gap + wall + ledge, under),
        dvec2(gap + wall, under),
        dvec2(gap + wall, wall),
    ]));
    corners.extend(hook.left_outside());
    let mate = hook.mate(m.get("sheet"), m.get("width"), printer);
    Ok(on_its_side(&corners, m.get("width"), printer)?.mating(vec![mate]))
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
        // 0.8 mm of play at 2°.
        let inner = 2.4 * (0.8 / 0.035);
        let ledge = 12.0 * 2.4 + 0.5 * 12.0 * 12.0;
        is_close(volume_mm3(&clip), (back + outer + inner + ledge) * 20.0);
    }

    #[test]
    fn a_loaded_clip_turns_by_two_degrees_at_most_and_its_lid_sinks_by_less_than_half_a_millimetre()
    {
        for (clearance_mm, ledge) in [(0.1, 6.0), (0.25, 12.0), (0.4, 30.0)] {
            let printer = Printer { clearance_mm, ..FLAT };
            let clip = LID_CLIP.made([("ledge", ledge)], &printer).expect("a clip");
            let inner = outline(&clip).0.iter().map(|s| s.start).filter(|p| p.x > 8.0);
            let depth = -inner.map(|p| p.y).fold(0.0, f64::min);
            let tilt = (8.0 + 2.0 * clearance_mm - 7.7) / depth;
            assert!(tilt <= 0.035 + 1e-9, "{tilt}");
            // The middle of the ledge.
            assert!(ledge > 12.0 || tilt * (2.4 + 0.5 * ledge) < 0.5);
        }
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

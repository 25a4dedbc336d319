//! A clip that a flat strip is pressed into.

use glam::{DVec2, dvec2};

use super::hook::{Between, GRIP_MM, HOLLOW_ROUNDS, below_root_mm, on_its_side, round_mm};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{OnBottom, Side, Stand};
use crate::strain::beam_length_mm;

/// The kind.
pub(crate) const STRIP_CLIP: Kind = Kind {
    name: "strip-clip",
    what_for: "is glued to a wall or the bottom; a strip of sheet is pressed into it: a small weir, a mat's edge, a label",
    is_jig: false,
    stand: Stand {
        on_bottom: Some(OnBottom { by: Side::Foot, is_glued: true, stacks_by: None }),
        ..Stand::glued(Side::Foot, Side::Top)
    },
    in_pieces: None,
    advice: "it holds by bending, and a bent clip slackens in warm water over months: nothing that must stay shut may hang on it alone",
    measures: &[
        Measure::sheet(),
        Measure::spread(),
        Measure::mm(
            "depth",
            "how deep the strip stands in it; deeper where its legs need it to bend",
            [8.0, 12.0, 30.0],
            PRACTICE,
        ),
        Measure::width([5.0, 15.0, 60.0]),
    ],
    make: strip_clip,
};

/// Least thickness of a leg, and its share of the depth; our judgement.
const LEG_MM: f64 = 2.0;
const LEG_SHARE: f64 = 0.16;
/// Thickness of the foot and how far it reaches beyond the legs, mm; common practice.
const FOOT_MM: f64 = 3.0;
const BEYOND_MM: f64 = 4.0;

/// Two legs of one thickness on a foot that is glued; printed on its side. Beside their roots the foot is hollowed out in a
/// round, which no corner gathers the strain in, so that the strip's edge lies on what is left.
fn strip_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (sheet, spread, depth) = (m.get("sheet"), m.get("spread"), m.get("depth"));
    // Of three lines at least: the tip, where it leads the strip in, is left with two.
    let leg = printer.wall_mm(LEG_MM.max(LEG_SHARE * depth).max(1.5 * printer.least_wall_mm()));
    let half = 0.5 * sheet + printer.clearance_mm;
    // At the roots, half a leg's thickness; less where the strip's edge would find no seat between them.
    let round = round_mm(leg, 2.0 * half - printer.least_wall_mm(), 2.0);
    let (foot, lead) = (printer.wall_mm(FOOT_MM + round), leg / 3.0);
    // Both legs bend alike.
    let bent_by = 0.5 * (GRIP_MM + spread);
    let bite = printer.clearance_mm + bent_by;
    let tip = 2.0 * (lead + bite);
    let free = beam_length_mm(leg, bent_by, printer.filament.strain_for_years());
    let depth = depth.max(free + tip);
    // The leg's face goes straight on into the round.
    let root = half + bite * round / (depth - tip);
    let tip_out = lead + 1.25_f64.sqrt() * (leg - lead);
    let mut right = vec![
        (dvec2(half + leg + BEYOND_MM, -foot), 0.0),
        (dvec2(half + leg + BEYOND_MM, 0.0), 0.0),
        (dvec2(half + leg, 0.0), round),
        (dvec2(half + leg - bite, depth - tip), 0.0),
        (dvec2(half + tip_out, depth), 0.0),
        (dvec2(half + lead, depth), 0.0),
        (dvec2(half - bite, depth - tip), 0.0),
    ];
    if round > 0.0 {
        let far = root - HOLLOW_ROUNDS * round;
        right.extend([(dvec2(root, -round), round), (dvec2(far, -round), round)]);
        right.push((dvec2(far, 0.0), 0.0));
    } else {
        right.push((dvec2(half, 0.0), 0.0));
    }
    let left = right.iter().rev().map(|(p, round)| (dvec2(-p.x, p.y), *round));
    let corners: Vec<(DVec2, f64)> = right.iter().copied().chain(left).collect();
    let below = below_root_mm(round);
    let between = Between {
        at: dvec2(0.0, below),
        along: DVec2::Y,
        ground_mm: 2.0 * (half - bite * below / (depth - tip)),
        mouth_mm: 2.0 * (half - bite),
    };
    let mate = between.mate(sheet, m.get("width"), printer);
    Ok(on_its_side(&corners, m.get("width"), printer)?.mating(vec![mate]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_foot_and_two_legs() {
        // Sheet 8, leg 2.0, gap 8.5: each leg leans in by 0.55 mm and leads in by 2/3 mm; bent by 0.3 mm, at 1 % for
        // years, it is 9.49 mm long and its tip 2.43 mm.
        let clip = STRIP_CLIP.made([("depth", 8.0)], &FLAT).expect("a clip");
        let free = (1.5_f64 * 2.0 * 0.3 / 0.01).sqrt();
        // At the roots rounds of 1.0: outside one that fills, inside two in a hollow of 2.5 by 1.0.
        let lean = 0.55 / free;
        let fillet = |angle: f64| (0.5 * angle).tan() - 0.5 * angle;
        let hollow = 2.5 - 0.5 * lean - fillet(0.5 * PI + lean.atan()) - fillet(0.5 * PI);
        let foot = (8.5 + 2.0 * (2.0 + 4.0)) * 4.0 - 2.0 * hollow;
        let lead = 2.0 / 3.0;
        let tip = 2.0 * (lead + 0.55);
        let leg = 2.0 * (free + tip) - 0.5 * lead * 2.0 * lead + 0.5 * 0.55 * (2.0 * 0.55)
            - 0.5 * 0.55 * tip
            + 0.5 * (4.0 / 3.0) * (1.25_f64.sqrt() - 1.0) * tip
            + fillet(0.5 * PI - lean.atan());
        is_close(volume_mm3(&clip), (foot + 2.0 * leg) * 15.0);
    }

    #[test]
    fn the_mouth_holds_the_thinnest_place_and_lets_the_thickest_to_the_ground() {
        for ([least, most], nozzle_mm) in
            [[7.7, 8.0], [5.8, 6.1], [2.8, 3.1]].into_iter().zip([0.25, 0.6, 0.8])
        {
            let printer = Printer { nozzle_mm, ..FLAT };
            let clip = STRIP_CLIP.made([("sheet", most)], &printer).expect("a clip");
            let inner: Vec<f64> = outline(&clip)
                .0
                .iter()
                .map(|s| s.start)
                .filter(|p| p.y > 0.1)
                .map(|p| p.x.abs())
                .collect();
            let mouth = 2.0 * inner.iter().copied().fold(f64::INFINITY, f64::min);
            is_close(mouth, least - 0.3);
        }
    }
}

//! A pointer that marks a level below the edge of a sheet.

use glam::dvec2;

use super::hook::{Hook, on_its_side};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{OnEdge, Stand};

/// The kind.
pub(crate) const LEVEL_POINTER: Kind = Kind {
    name: "level-pointer",
    what_for: "is pushed on the upper edge of a wall or leaf; its tip marks a level inside",
    is_jig: false,
    stand: Stand::on_edge(OnEdge::Grip { tip_marks: true }),
    in_pieces: None,
    advice: "the point of its beak is the mark: the water is right when it just touches it, at rest. It stands 6 mm off the sheet, where the water no longer climbs. `drop` is from the sheet's upper edge down to it. Print it in a colour that stands out; where a rim lies on the wall, put it on a leaf",
    measures: &[
        Measure::sheet(),
        Measure::spread(),
        Measure::mm(
            "drop",
            "from the sheet's upper edge down to the mark",
            [20.0, 60.0, 180.0],
            PRACTICE,
        ),
        Measure::width([6.0, 10.0, 30.0]),
    ],
    make: level_pointer,
};

/// Thickness of legs and back, mm; common practice.
const WALL_MM: f64 = 2.4;
/// Least length of the leg outside, mm; common practice.
const LEG_MM: f64 = 12.0;
/// How far the beak's point stands away from the sheet, mm: on the sheet water climbs by about twice its capillary length,
/// 2.7 mm (from its density and surface tension), and falls off by e over each length away from it; our judgement.
const AWAY_MM: f64 = 6.0;

/// A clip whose outer leg grips and whose inner one runs down the sheet and out, at 45°, into a beak that ends in a point
/// of two lines.
fn level_pointer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hook = Hook::grips([m.get("sheet"), m.get("spread")], WALL_MM, LEG_MM, printer);
    let (gap, wall) = (hook.gap_mm, hook.wall_mm);
    let drop = m.get("drop");
    // Two lines across the beak at 45°.
    let tip = std::f64::consts::SQRT_2 * printer.least_wall_mm();
    let mut corners = hook.left_leg();
    let beak = [
        dvec2(gap, 0.0),
        dvec2(gap, AWAY_MM - drop),
        dvec2(gap + AWAY_MM, -drop),
        dvec2(gap + AWAY_MM + tip, -drop),
        dvec2(gap + wall, AWAY_MM + 2.0 * wall - drop),
        dvec2(gap + wall, hook.back_mm),
    ];
    corners.extend(beak.map(|corner| (corner, 0.0)));
    corners.extend(hook.left_outside());
    let mate = hook.mate(m.get("sheet"), m.get("width"), printer);
    Ok(on_its_side(&corners, m.get("width"), printer)?.mating(vec![mate]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_clip_and_beak() {
        let pointer = LEVEL_POINTER.made([], &FLAT).expect("a pointer");
        let lean = 1.1 / (1.5_f64 * 2.4 * 0.6 / 0.01).sqrt();
        let angle = 0.5 * PI + lean.atan();
        let rounds = 1.44 * ((0.5 * angle).tan() - 0.5 * angle + 1.0 - 0.25 * PI);
        let back = (2.4 + 8.5 + 2.4) * 3.6 - (3.0 * 1.2 - 0.5 * lean * 1.44 - rounds);
        // The leg that grips: 0.6 mm at 1 % for years, its tip of 3.8 mm; less its lead-in, with its lean of 1.1 mm.
        let free = (1.5_f64 * 2.4 * 0.6 / 0.01).sqrt();
        let outer = 2.4 * (free + 3.8) - 0.5 * 0.8 * 1.6 + 0.5 * 1.1 * 2.2 - 0.5 * 1.1 * 3.8
            + 0.5 * 1.6 * (1.25_f64.sqrt() - 1.0) * 3.8;
        // Down to 49.2; the beak between its underside from 54 to 60 and its back from there.
        let tip = 0.8 * 2.0_f64.sqrt();
        let (high, wide) = (10.8, 6.0 + tip - 2.4);
        let beak = 2.4 * high + 0.5 * high * wide - 0.5 * 36.0;
        let inner = 2.4 * 49.2 + beak;
        is_close(volume_mm3(&pointer), (back + outer + inner) * 10.0);
    }

    #[test]
    fn the_mark_is_so_far_below_the_edge_as_is_told_by_any_nozzle() {
        for (drop, nozzle_mm) in [(20.0, 0.25), (60.0, 0.4), (77.7, 0.6), (180.0, 0.8)] {
            let printer = Printer { nozzle_mm, ..FLAT };
            let pointer = LEVEL_POINTER.made([("drop", drop)], &printer).expect("a pointer");
            // The edge lies under the back, at y = 0.
            let [lo, hi] = outline(&pointer).bounds().expect("a profile");
            is_close(lo.y, -drop);
            is_close(hi.y, printer.wall_mm(printer.wall_mm(2.4) + 0.5 * printer.wall_mm(2.4)));
        }
    }
}

//! A ledge that egg-crate lies on.

use super::hook::on_its_side;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Held, OnFace, Side, Stand};

/// The kind.
pub(crate) const EGGCRATE_LEDGE: Kind = Kind {
    name: "egg-crate-ledge",
    what_for: "is glued to a wall and carries the edge of egg-crate or a false floor",
    is_jig: false,
    stand: Stand {
        on_face: Some(OnFace {
            by: Side::Left,
            up: Side::Crown,
            held: Held::Glued,
            carries_below_top: Some("grid"),
        }),
        ..Stand::NOWHERE
    },
    in_pieces: None,
    advice: "for a sponge, a mat or a light bag; stone and ceramic stand on the bottom, not on glued ledges. Plastic creeps under a load that stays: look at it after a month",
    measures: &[
        Measure::mm(
            "grid",
            "thickness of the egg-crate",
            [8.0, 13.0, 20.0],
            "common practice: egg-crate is 12 to 15 mm thick",
        ),
        Measure::mm("depth", "how far the egg-crate lies on it", [8.0, 15.0, 40.0], PRACTICE),
        Measure::mm("length", "length along the wall", [15.0, 40.0, 150.0], PRACTICE),
        Measure::choice("lip", "a lip in front keeps the grid on it", false, PRACTICE),
    ],
    make: eggcrate_ledge,
};

/// Thickness of back, ledge and lip, mm; common practice.
const WALL_MM: f64 = 3.2;
/// The lip stands up by this share of the grid's thickness.
const LIP_SHARE: f64 = 0.5;

/// An angle with a brace of 45° under it, drawn with the wall at x = 0; printed standing on its end, so that a load
/// bends lines and does not part layers.
fn eggcrate_ledge(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (grid, depth, wall) = (m.get("grid"), m.get("depth"), printer.wall_mm(WALL_MM));
    // A grid that hangs over the lip's place needs room to be set down.
    let seat = depth + printer.clearance_mm;
    let lip = if m.is("lip") { wall } else { 0.0 };
    let (front, floor) = (wall + seat + lip, seat + lip + wall);
    let mut corners = vec![(0.0, 0.0), (wall, 0.0), (front, floor - wall)];
    if m.is("lip") {
        let up = floor + LIP_SHARE * grid;
        corners.extend([(front, up), (front - lip, up), (front - lip, floor)]);
    } else {
        corners.push((front, floor));
    }
    corners.extend([(wall, floor), (wall, floor + grid), (0.0, floor + grid)]);
    let corners: Vec<_> = corners.into_iter().map(|p| (p.into(), 0.0)).collect();
    on_its_side(&corners, m.get("length"), printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};

    #[test]
    fn volume_is_back_ledge_brace_and_lip() {
        let plain = EGGCRATE_LEDGE.made([], &FLAT).expect("a ledge");
        let (seat, wall) = (15.25, 3.2);
        let area = wall * (seat + wall + 13.0) + seat * wall + 0.5 * seat * seat;
        is_close(volume_mm3(&plain), area * 40.0);
        let lip = EGGCRATE_LEDGE.made([("lip", 1.0)], &FLAT).expect("a ledge");
        let out = seat + wall;
        let area = wall * (out + wall + 13.0) + out * wall + 0.5 * out * out + wall * 6.5;
        is_close(volume_mm3(&lip), area * 40.0);
    }

    #[test]
    fn grids_of_12_to_15_lie_behind_the_lip() {
        for grid in [12.0, 13.0, 15.0] {
            let ledge =
                EGGCRATE_LEDGE.made([("lip", 1.0), ("grid", grid)], &FLAT).expect("a ledge");
            let [_, hi] = outline(&ledge).bounds().expect("a profile");
            is_close(hi.x, 3.2 + 15.25 + 3.2);
            is_close(hi.y, 15.25 + 3.2 + 3.2 + grid);
        }
    }
}

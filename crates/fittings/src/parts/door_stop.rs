//! A stop that limits how far a door moves.

use glam::dvec2;

use super::hook::{Hook, on_its_side};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{OnEdge, Side, Stand};

/// The kind.
pub(crate) const DOOR_STOP: Kind = Kind {
    name: "door-stop",
    what_for: "limits how far a door slides",
    is_jig: false,
    stand: Stand {
        instead: Some(("glued", &Stand::glued(Side::Foot, Side::Top))),
        ..Stand::on_edge(OnEdge::Grip { tip_marks: false })
    },
    in_pieces: None,
    advice: "a clip stays where it is pushed and can be moved: it holds by staying bent, so try once a year whether it still does; a block is glued on",
    measures: &[
        Measure::sheet().only("glued", false),
        Measure::spread().only("glued", false),
        Measure::mm(
            "door",
            "thickness of the door that runs against it",
            [3.0, 8.0, 20.0],
            PRACTICE,
        ),
        Measure::mm(
            "reach",
            "how far it reaches in from the sheet's edge",
            [14.0, 25.0, 80.0],
            PRACTICE,
        ),
        Measure::width([8.0, 15.0, 40.0]),
        Measure::choice("glued", "a block to be glued instead of a clip", false, PRACTICE),
    ],
    make: door_stop,
};

/// Thickness of the clip's back and its plain leg, mm; common practice.
const WALL_MM: f64 = 2.4;
/// Least length of the plain leg, mm; common practice.
const LEG_MM: f64 = 12.0;

/// A clip over the edge of the leaf whose second leg is as thick as the door and reaches into its way; or that leg
/// alone.
fn door_stop(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (reach, thick) = (m.get("reach"), printer.wall_mm(m.get("door")));
    if m.is("glued") {
        let block = [(0., 0.), (reach, 0.), (reach, thick), (0., thick)];
        return on_its_side(&block.map(|p| (p.into(), 0.0)), m.get("width"), printer);
    }
    let hook = Hook::grips([m.get("sheet"), m.get("spread")], WALL_MM, LEG_MM, printer);
    let gap = hook.gap_mm;
    let mut corners = hook.left_leg();
    corners.extend([
        (dvec2(gap, 0.0), 0.0),
        (dvec2(gap, -reach), 0.0),
        (dvec2(gap + thick, -reach), 0.0),
        (dvec2(gap + thick, hook.back_mm), 0.0),
    ]);
    corners.extend(hook.left_outside());
    let mate = hook.mate(m.get("sheet"), m.get("width"), printer);
    Ok(on_its_side(&corners, m.get("width"), printer)?.mating(vec![mate]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};

    #[test]
    fn volumes_are_those_of_their_rectangles() {
        let block = DOOR_STOP.made([("glued", 1.0)], &FLAT).expect("a stop");
        is_close(volume_mm3(&block), 25.0 * 8.0 * 15.0);
        // Gap 8.5, bite 1.1: back, second leg, first leg less its lead-in and with its lean.
        let clip = DOOR_STOP.made([], &FLAT).expect("a stop");
        let back = (2.4 + 8.5 + 8.0) * 3.6 - hollow();
        let first = 2.4 * leg() - 0.5 * 0.8 * 1.6 + tip();
        is_close(volume_mm3(&clip), (back + 25.0 * 8.0 + first) * 15.0);
    }

    /// A leg of 2.4 mm that is bent by 0.6 mm, at 1 % for years, and its tip of 3.8 mm.
    fn leg() -> f64 {
        (1.5_f64 * 2.4 * 0.6 / 0.01).sqrt() + 3.8
    }

    /// How far the tip stands out over the leg: 1.6 mm are left across it at a slope of 1 in 2.
    const OUT: f64 = 1.6 * (1.118_033_988_749_895 - 1.0);

    /// Inside of the tip a triangle from the bite to where the lead-in meets the face; outside, what the lean takes.
    fn tip() -> f64 {
        0.5 * 1.1 * 2.2 - 0.5 * 1.1 * 3.8 + 0.5 * OUT * 3.8
    }

    /// Beside the leg's root: 3 mm by 1.2 mm, its two corners rounded, and the sliver of the leaning face.
    fn hollow() -> f64 {
        let lean = 1.1 / (leg() - 3.8);
        let angle = 0.5 * std::f64::consts::PI + lean.atan();
        let round = 1.44 * ((0.5 * angle).tan() - 0.5 * angle);
        let square = 1.44 * (1.0 - 0.25 * std::f64::consts::PI);
        3.0 * 1.2 - 0.5 * lean * 1.44 - round - square
    }

    #[test]
    fn it_stands_as_far_out_as_the_door_is_thick() {
        for door in [3.0, 5.1, 8.0] {
            let clip = DOOR_STOP.made([("door", door)], &FLAT).expect("a stop");
            let thick = clip.print.bed_footprint_mm[0] - 2.4 - OUT - 8.5;
            assert!((door - 1e-9..door + 0.4).contains(&thick), "{thick}");
        }
    }
}

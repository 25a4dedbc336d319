//! The guide that sets a pilot hole at its distance from two edges of a sheet.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape};

use super::number;
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Stand};

/// The kind.
pub(crate) const DRILLING_GUIDE: Kind = Kind {
    name: "drilling-guide",
    what_for: "sets the pilot hole of a through-wall fitting at its distance from two edges of the sheet",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "lay it over a corner with both fences against the edges, clamp it, drill the pilot hole slowly, take it off, \
             then use the hole saw. The number on each fence is the distance from that edge. For the mirrored corner drill \
             from the sheet's other face. Drill before gluing",
    measures: &[
        Measure::mm(
            "hole",
            "diameter of the pilot drill",
            [2.0, 6.35, 13.0],
            "common practice: the pilot drill of most hole saws is 1/4 in",
        )
        .follows(Follows::RoundHole),
        Measure::mm(
            "across",
            "distance of the hole's middle from one edge",
            [10.0, 60.0, 180.0],
            PRACTICE,
        ),
        Measure::mm(
            "up",
            "distance of the hole's middle from the other edge",
            [10.0, 60.0, 180.0],
            PRACTICE,
        ),
        Measure::mm(
            "sheet",
            "thickness of the sheet: the fences are no higher",
            [3.0, 8.0, 20.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::Sheet),
    ],
    make: drilling_guide,
};

/// Length of the way that leads the drill, in its diameters; common practice: one and a half to two.
const LEAD: f64 = 1.5;
/// Least thickness of the plate, mm; common practice.
const LEAST_PLATE_MM: f64 = 4.0;
/// What is left around the hole, mm; common practice.
const AROUND_MM: f64 = 10.0;
/// Fences reach over this share of the sheet's edge, so that the sheet still lies flat on the bench; our judgement.
const FENCE_SHARE: f64 = 0.7;
/// Radius of the relief where the fences meet: the sheet's corner, and its burr, must not ride on a rounded one, mm.
const RELIEF_MM: f64 = 1.5;

/// A plate with two fences, plate down. In use it is turned over.
fn drilling_guide(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    let distances = [m.get("across"), m.get("up")];
    let words = distances.map(number);
    let fence = printer
        .wall_mm(lettering.height_mm() + 2.0 * (lettering.margin_mm() + printer.least_wall_mm()));
    let hole = printer.hole_mm(m.get("hole"));
    let base = printer.height_mm((LEAD * m.get("hole")).max(LEAST_PLATE_MM));
    let edge = printer.height_mm(FENCE_SHARE * m.get("sheet"));
    let least_mm = 0.5 * hole + printer.least_wall_mm();
    for (what, measure, wall_mm) in
        [("distance `across`", "across", distances[0]), ("distance `up`", "up", distances[1])]
    {
        if wall_mm < least_mm {
            return Err(Error::ThinWall { what, measure: Some(measure), wall_mm, least_mm });
        }
    }
    let middle = dvec2(fence + distances[0], fence + distances[1]);
    // Fences are also as long as their numbers.
    let long = |words: &str| fence + lettering.room_mm(words).x + 2.0 * lettering.margin_mm();
    let text = dvec2(long(&words[1]), long(&words[0]));
    let outer = (middle + 0.5 * hole + AROUND_MM).max(text);
    let mut plate = Plate::new(Contour::rectangle(DVec2::ZERO, outer), base + edge);
    let bay = Contour::rectangle(DVec2::splat(fence), outer + 1.0);
    let relief = Contour::circle(DVec2::splat(fence), RELIEF_MM);
    plate.cuts = vec![
        Cut::pocket(bay, Face::Top, edge),
        Cut::pocket(relief, Face::Top, edge),
        Cut::through(Contour::circle(middle, 0.5 * hole)),
    ];
    // The fence along x is that of `up`, the one along y that of `across`.
    let places = [
        (&words[0], dvec2(0.5 * fence, 0.5 * (fence + outer.y)), DVec2::Y),
        (&words[1], dvec2(0.5 * (fence + outer.x), 0.5 * fence), DVec2::X),
    ];
    for (words, at, along) in places {
        plate.cuts.extend(lettering.cuts(words, at, along));
    }
    Fitting::new(Shape::Sheet(plate), "plate down, fences up", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;
    use std::f64::consts::PI;

    const PRINTER: Printer = Printer {
        nozzle_mm: 0.4,
        layer_mm: 0.2,
        bed_mm: [250.0; 3],
        clearance_mm: 0.25,
        hole_loss_mm: 0.2,
        foot_mm: 0.2,
        filament: crate::Filament::Petg,
    };

    #[test]
    fn volume_is_plate_and_fences_less_relief_and_hole() {
        let given = [("hole", 6.0), ("across", 40.0), ("up", 50.0), ("sheet", 10.0)];
        let fence = PRINTER.wall_mm(Lettering::least(&PRINTER).height_mm() + 4.6);
        let (x, y) = (fence + 40.0 + 13.1, fence + 50.0 + 13.1);
        // 9 mm of plate, 7 mm of fence; three quarters of the relief lie in the fences.
        let volume = 9.0 * x * y + 7.0 * (x * y - (x - fence) * (y - fence))
            - 7.0 * 0.75 * PI * 1.5 * 1.5
            - 9.0 * PI * 3.1 * 3.1;
        let made = volume_without_text(&DRILLING_GUIDE, &given, &PRINTER);
        assert!((made - volume).abs() < 1e-6, "{made} {volume}");
    }

    #[test]
    fn the_hole_lies_at_its_distances_from_the_fences() {
        let made =
            DRILLING_GUIDE.made([("across", 33.0), ("up", 71.0)], &PRINTER).expect("a guide");
        let Shape::Sheet(plate) = made.shape else { panic!("a plate") };
        let [lo, _] = plate.cuts[0].contour.bounds().expect("the bay");
        let (middle, radius) = plate.cuts[2].contour.as_circle().expect("the hole");
        assert!(middle.distance(lo + dvec2(33.0, 71.0)) < 1e-9);
        assert!((2.0 * radius - 6.55).abs() < 1e-9);
    }
}

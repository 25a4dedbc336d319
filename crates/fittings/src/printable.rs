//! Whether a part can be printed as it lies: a flat face on the bed, nothing printed into the air.

use plate::{Plate, Shape, Tolerance, Turned, arrange};

use crate::error::{Error, LEAST_WALL_MM};

/// Faces that look down may lean this far from the vertical (degrees); common practice for
/// extruded filament, where each line still rests on half of the one below.
pub const MOST_OVERHANG_DEG: f64 = 45.0;

/// Checks that a shape is a sound part that stands on `z = 0` with a flat face and has no face
/// looking down, other than that, that overhangs by more than [`MOST_OVERHANG_DEG`].
///
/// Short ceilings that a printer would bridge are refused as well.
pub fn check_printable(shape: &Shape) -> Result<(), Error> {
    match shape {
        Shape::Sheet(plate) => check_sheet(plate),
        Shape::Turned(turned) => check_turned(turned),
    }
}

/// Walls of a sheet are upright; only the ceilings of cuts from below look down.
fn check_sheet(plate: &Plate) -> Result<(), Error> {
    let tol = Tolerance { least_wall: LEAST_WALL_MM, ..Tolerance::default() };
    let arrangement = arrange(plate, &tol)?;
    if let Some(defect) = arrangement.defects(&tol).into_iter().next() {
        return Err(Error::Defect(defect));
    }
    let bottoms = arrangement.cells.iter().flatten().map(|[bottom, _]| *bottom);
    let lowest_mm = bottoms.clone().fold(f64::INFINITY, f64::min);
    if lowest_mm > 0.0 {
        return Err(Error::NoFlatFace { lowest_mm });
    }
    match bottoms.filter(|z| *z > 0.0).min_by(f64::total_cmp) {
        Some(height_mm) => {
            Err(Error::Overhang { height_mm, overhang_deg: 90.0, most_deg: MOST_OVERHANG_DEG })
        }
        None => Ok(()),
    }
}

/// The profile runs counter-clockwise, so a side that runs outwards looks down.
fn check_turned(turned: &Turned) -> Result<(), Error> {
    turned.check()?;
    let (_, [lowest_mm, _]) = turned.extent();
    let on_bed = |z: f64| z.abs() < 1e-9;
    let mut stands = false;
    for [p, q] in turned.sides().filter(|[p, q]| q.x > p.x) {
        if on_bed(p.y) && on_bed(q.y) {
            stands = true;
            continue;
        }
        let overhang_deg = libm::atan2(q.x - p.x, (q.y - p.y).abs()).to_degrees();
        if overhang_deg > MOST_OVERHANG_DEG + 1e-6 {
            let height_mm = p.y.min(q.y);
            return Err(Error::Overhang { height_mm, overhang_deg, most_deg: MOST_OVERHANG_DEG });
        }
    }
    if stands && on_bed(lowest_mm) { Ok(()) } else { Err(Error::NoFlatFace { lowest_mm }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DVec2, dvec2};
    use plate::{Contour, Cut, Face};

    fn sheet(cuts: Vec<Cut>) -> Shape {
        let outline = Contour::rectangle(DVec2::ZERO, dvec2(40.0, 30.0));
        Shape::Sheet(Plate { cuts, ..Plate::new(outline, 6.0) })
    }

    fn turned(profile: &[(f64, f64)]) -> Shape {
        Shape::Turned(Turned { profile: profile.iter().map(|&p| p.into()).collect() })
    }

    fn pocket(face: Face) -> Cut {
        Cut::pocket(Contour::rectangle(dvec2(10.0, 10.0), dvec2(20.0, 20.0)), face, 2.0)
    }

    #[track_caller]
    fn check_refused(shape: &Shape, words: &str) {
        let refusal = check_printable(shape).expect_err("not printable").to_string();
        assert!(refusal.contains(words), "{refusal}");
    }

    #[test]
    fn cuts_from_above_print_and_ceilings_do_not() {
        assert_eq!(check_printable(&sheet(vec![pocket(Face::Top)])), Ok(()));
        check_refused(
            &sheet(vec![pocket(Face::Bottom)]),
            "at 2.00 mm above the bed overhangs by 90°",
        );
    }

    #[test]
    fn a_sheet_must_be_sound_and_stand_on_the_bed() {
        let across = Contour::rectangle(dvec2(10.0, -5.0), dvec2(20.0, 40.0));
        check_refused(&sheet(vec![Cut::through(across)]), "divide the part into 2 pieces");
        let near_edge = Contour::rectangle(dvec2(0.5, 10.0), dvec2(20.0, 20.0));
        check_refused(&sheet(vec![Cut::through(near_edge)]), "only 0.500 mm are left");
        let all = Contour::rectangle(dvec2(-5.0, -5.0), dvec2(50.0, 40.0));
        check_refused(&sheet(vec![Cut::pocket(all, Face::Bottom, 2.0)]), "lowest point is at 2 mm");
    }

    #[test]
    fn cones_up_to_45_degrees_print() {
        let cone = |reach: f64| turned(&[(0., 0.), (10., 0.), (10. + reach, 5.), (0., 5.)]);
        assert_eq!(check_printable(&cone(5.0)), Ok(()));
        check_refused(&cone(5.1), "at 0.00 mm above the bed overhangs by 46°");
        assert_eq!(check_printable(&cone(-8.0)), Ok(()));
    }

    #[test]
    fn a_flange_prints_down_but_not_up() {
        let down = turned(&[(5., 0.), (20., 0.), (20., 3.), (10., 3.), (10., 12.), (5., 12.)]);
        assert_eq!(check_printable(&down), Ok(()));
        let up = turned(&[(5., 0.), (10., 0.), (10., 9.), (20., 9.), (20., 12.), (5., 12.)]);
        check_refused(&up, "at 9.00 mm above the bed overhangs by 90°");
        // A bore that narrows upwards overhangs inside.
        let inside = turned(&[(8., 0.), (20., 0.), (20., 9.), (5., 9.), (5., 2.)]);
        check_refused(&inside, "overhangs by 56°");
    }

    #[test]
    fn a_turned_part_must_stand_on_the_bed() {
        let raised = turned(&[(0., 1.), (9., 1.), (9., 4.), (0., 4.)]);
        check_refused(&raised, "overhangs by 90°");
        let on_a_point = turned(&[(0., 0.), (3., 5.), (0., 5.)]);
        check_refused(&on_a_point, "no flat face on the print bed");
        check_refused(&turned(&[(0., 0.), (3., 5.)]), "2 corners");
    }
}

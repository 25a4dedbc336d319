//! Whether a part can be printed as it lies: a flat face on the bed, nothing printed into the air.

use glam::DVec2;
use plate::{Arrangement, Defect, Plate, Segment, Shape, Tolerance, Turned, arrange};

use crate::error::Error;
use crate::foot::drawn_in_mm;
use crate::lettering::without_text;
use crate::printer::Printer;

/// Faces that look down may lean this far from the vertical (degrees); common practice for
/// extruded filament, where each line still rests on half of the one below.
pub const MOST_OVERHANG_DEG: f64 = 45.0;

/// Checks that a shape is a sound part that stands on `z = 0` with a flat face and has no face
/// looking down, other than that, that overhangs by more than [`MOST_OVERHANG_DEG`].
///
/// Short ceilings that a printer would bridge are refused as well. The least wall is that of the usual printer.
pub fn check_printable(shape: &Shape) -> Result<(), Error> {
    check_as_drawn(shape, &Printer::default())
}

/// As [`check_printable`], with the least wall of this printer.
pub(crate) fn check_as_drawn(shape: &Shape, printer: &Printer) -> Result<(), Error> {
    check(shape, &Step::none(printer))
}

/// As [`check_printable`], but lets the step against the elephant's foot pass: along the edges on the bed, at most
/// two layers high and half a nozzle wide. So much thinner may walls be there.
pub fn check_printable_by(shape: &Shape, printer: &Printer) -> Result<(), Error> {
    check(shape, &Step::of(printer))
}

/// The largest step that is let pass.
pub(crate) struct Step {
    height_mm: f64,
    width_mm: f64,
    /// How far walls are drawn in at their foot, each side.
    drawn_in_mm: f64,
    /// The least wall beside it.
    least_wall_mm: f64,
    layer_mm: f64,
}

impl Step {
    fn none(printer: &Printer) -> Self {
        let (least_wall_mm, layer_mm) = (printer.least_wall_mm(), printer.layer_mm);
        Self { height_mm: 0.0, width_mm: 0.0, drawn_in_mm: 0.0, least_wall_mm, layer_mm }
    }

    /// The step of this printer.
    pub(crate) fn of(printer: &Printer) -> Self {
        let (height_mm, width_mm) = (2.0 * printer.layer_mm, 0.5 * printer.nozzle_mm);
        Self { height_mm, width_mm, drawn_in_mm: drawn_in_mm(printer), ..Self::none(printer) }
    }
}

fn check(shape: &Shape, step: &Step) -> Result<(), Error> {
    match shape {
        Shape::Sheet(plate) => check_arranged(plate, &arrange(plate, &Tolerance::default())?, step),
        Shape::Turned(turned) => check_turned(turned, step),
    }
}

/// Walls of a sheet are upright; only the ceilings of cuts from below look down. The arrangement is the plate's.
pub(crate) fn check_arranged(
    plate: &Plate,
    arrangement: &Arrangement,
    step: &Step,
) -> Result<(), Error> {
    // A hair of rounding is no reason to refuse a wall of just the least size.
    let least_wall = step.least_wall_mm - 2.0 * step.drawn_in_mm - 1e-9;
    let tol = Tolerance { least_wall, ..Tolerance::default() };
    let defects = match without_text(plate) {
        None => arrangement.defects(&tol),
        // Walls are judged as if nothing were written on them.
        Some(bare) => {
            let mut defects = arrangement.defects(&Tolerance { least_wall: 0.0, ..tol });
            let is_wall = |d: &Defect| matches!(d, Defect::ThinWall { .. });
            defects.extend(arrange(&bare, &tol)?.defects(&tol).into_iter().filter(is_wall));
            defects
        }
    };
    if let Some(defect) = defects.into_iter().next() {
        return Err(Error::Defect(defect));
    }
    let bottoms = arrangement.cells.iter().flatten().map(|[bottom, _]| *bottom);
    let lowest_mm = bottoms.clone().fold(f64::INFINITY, f64::min);
    if lowest_mm > 0.0 {
        return Err(Error::NoFlatFace { lowest_mm });
    }
    let too_high = bottoms.filter(|z| *z > step.height_mm + 1e-9).min_by(f64::total_cmp);
    match too_high.or_else(|| wide_ceiling(arrangement, step.width_mm)) {
        Some(height_mm) => {
            Err(Error::Overhang { height_mm, overhang_deg: 90.0, most_deg: MOST_OVERHANG_DEG })
        }
        None => Ok(()),
    }
}

/// Height of a ceiling that reaches farther from the edges of the part than `most_mm`.
///
/// Where a ceiling ends at what stands on the bed, an edge of the part must be near: just so near beside the middle of
/// each piece, and on the mitre of a square corner near its ends, or all along a short one between corners. And all
/// ceilings together must not be larger than a band of that width along the edges, mitres included.
fn wide_ceiling(a: &Arrangement, most_mm: f64) -> Option<f64> {
    let bottom = |cell: usize| a.cells[cell].map(|[bottom, _]| bottom);
    let is_ceiling = |cell: usize| bottom(cell).is_some_and(|z| z > 0.0);
    let between = |other: fn(Option<f64>) -> bool| {
        let edges = a.edges.iter().filter(move |e| {
            (is_ceiling(e.left) && other(bottom(e.right)))
                || (is_ceiling(e.right) && other(bottom(e.left)))
        });
        edges.map(|e| a.segment(e)).collect::<Vec<Segment>>()
    };
    let free = between(|z| z.is_none());
    let inner = between(|z| z.is_some_and(|z| z <= 0.0));
    let boxes: Vec<[DVec2; 2]> = free.iter().map(Segment::bounds).collect();
    let mitre_mm = std::f64::consts::SQRT_2 * most_mm + 1e-6;
    let is_near = |p: DVec2, reach: f64| {
        let near = |[lo, hi]: [DVec2; 2]| p.clamp(lo, hi).distance(p) <= reach;
        free.iter().zip(&boxes).any(|(s, b)| near(*b) && s.distance(p) <= reach)
    };
    let reaches_far = inner.iter().any(|s| {
        let ends = [0.25, 0.75].into_iter().any(|t| !is_near(s.point_at(t), mitre_mm));
        let is_short = s.length() < 4.0 * most_mm;
        ends || !is_near(s.midpoint(), if is_short { mitre_mm } else { most_mm + 1e-6 })
    });
    let ceilings = a.cell_areas().into_iter().enumerate().filter(|&(cell, _)| is_ceiling(cell));
    let area: f64 = ceilings.map(|(_, area)| area).sum();
    // Around an arc the band is larger by half its angle times its width squared; at a square corner by the latter.
    let turned = |s: &Segment| 1.0 + s.arc.map_or(0.0, |arc| 0.5 * arc.sweep.abs());
    let band: f64 = free.iter().map(|s| most_mm * (s.length() + most_mm * turned(s))).sum();
    let heights = a.cells.iter().flatten().map(|[bottom, _]| *bottom).filter(|z| *z > 0.0);
    heights.min_by(f64::total_cmp).filter(|_| reaches_far || area > band)
}

/// The profile runs counter-clockwise, so a side that runs outwards looks down.
fn check_turned(turned: &Turned, step: &Step) -> Result<(), Error> {
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
        let is_step = (on_bed(p.y) || on_bed(q.y))
            && p.y.max(q.y) <= step.height_mm + 1e-9
            && q.x - p.x <= step.width_mm + 1e-9;
        if overhang_deg > MOST_OVERHANG_DEG + 1e-6 && !is_step {
            let height_mm = p.y.min(q.y);
            return Err(Error::Overhang { height_mm, overhang_deg, most_deg: MOST_OVERHANG_DEG });
        }
    }
    if !stands || !on_bed(lowest_mm) {
        return Err(Error::NoFlatFace { lowest_mm });
    }
    let thinnest = thinnest_of_turned_mm(turned, step.layer_mm);
    if thinnest < step.least_wall_mm - 1e-9 {
        let (wall_mm, least_mm) = (thinnest, step.least_wall_mm);
        return Err(Error::ThinWall { what: TURNED_WALL, measure: None, wall_mm, least_mm });
    }
    Ok(())
}

const TURNED_WALL: &str = "thinnest wall around the axis";

/// The thinnest wall of a turned body in any layer, mm: measured along the radius, as its lines lie side by side. Where
/// it is full up to the axis, that is its diameter.
///
/// Between two heights of corners the width changes evenly, so it is least at one of them. What ends within the first
/// layer is the step at the bed.
pub fn thinnest_of_turned_mm(turned: &Turned, layer_mm: f64) -> f64 {
    let (_, [lowest, _]) = turned.extent();
    let mut heights: Vec<f64> = turned.profile.iter().map(|p| p.y).collect();
    heights.sort_by(f64::total_cmp);
    let bands = heights.windows(2).filter(|w| w[1] - w[0] > HAIR_MM);
    let above_step = bands.filter(|w| w[1] - lowest > layer_mm + HAIR_MM);
    let ends = above_step.flat_map(|w| [w[0] + 0.1 * HAIR_MM, w[1] - 0.1 * HAIR_MM]);
    ends.map(|z| thinnest_ring_mm(turned, z)).fold(f64::INFINITY, f64::min)
}

/// Lengths that differ by less are equal, mm.
const HAIR_MM: f64 = 1e-6;

fn thinnest_ring_mm(turned: &Turned, z: f64) -> f64 {
    let crossing = |[p, q]: [DVec2; 2]| {
        let crosses = (p.y < z) != (q.y < z);
        crosses.then(|| p.x + (q.x - p.x) * (z - p.y) / (q.y - p.y))
    };
    let mut radii: Vec<f64> = turned.sides().filter_map(crossing).collect();
    radii.sort_by(f64::total_cmp);
    let wall = |pair: &[f64]| match pair {
        [inner, outer] if *inner < HAIR_MM => 2.0 * outer,
        [inner, outer] => outer - inner,
        _ => f64::INFINITY,
    };
    radii.chunks(2).map(wall).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
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

    #[test]
    fn the_step_against_the_foot_passes_and_nothing_wider_or_higher() {
        let printer = Printer::default();
        let strip = |width: f64, depth: f64| {
            let along = Contour::rectangle(dvec2(-1.0, -1.0), dvec2(41.0, width));
            sheet(vec![Cut::pocket(along, Face::Bottom, depth)])
        };
        assert_eq!(check_printable_by(&strip(0.2, 0.2), &printer), Ok(()));
        assert_eq!(check_printable_by(&strip(0.2, 0.4), &printer), Ok(()));
        assert!(check_printable(&strip(0.2, 0.2)).is_err());
        for (width, depth) in [(0.21, 0.2), (0.2, 0.41), (5.0, 0.2)] {
            assert!(check_printable_by(&strip(width, depth), &printer).is_err(), "{width} {depth}");
        }
        // A ceiling in the middle of the part is none, however low.
        assert!(check_printable_by(&sheet(vec![pocket(Face::Bottom)]), &printer).is_err());
        let low = Contour::rectangle(dvec2(10.0, 10.0), dvec2(20.0, 20.0));
        let low = sheet(vec![Cut::pocket(low, Face::Bottom, 0.2)]);
        assert!(check_printable_by(&low, &printer).is_err());
        let chamfer = |reach: f64, high: f64| {
            turned(&[(0., 0.), (10., 0.), (10. + reach, high), (10. + reach, 9.), (0., 9.)])
        };
        assert_eq!(check_printable_by(&chamfer(0.2, 0.1), &printer), Ok(()));
        assert!(check_printable(&chamfer(0.2, 0.1)).is_err());
        assert!(check_printable_by(&chamfer(0.3, 0.1), &printer).is_err());
    }
}

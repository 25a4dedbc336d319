//! The step against the elephant's foot: edges on the bed are drawn in, because the first layer spreads.

use glam::{DVec2, dvec2};
use plate::{Arrangement, Contour, Cut, Face, Plate, Segment, Shape, Tolerance, Turned, arrange};

use crate::error::Error;
use crate::offset::offset;
use crate::printable::{Step, check_arranged, check_printable_by};
use crate::printer::Printer;

/// How far edges on the bed are drawn in, mm: as far as the layer spreads, but at most half a nozzle, or the next
/// layer's outer line would lie on nothing.
pub(crate) fn drawn_in_mm(printer: &Printer) -> f64 {
    printer.foot_mm.clamp(0.0, 0.5 * printer.nozzle_mm)
}

/// The shape with its edges on the bed drawn in over one layer: a sheet in a step, a turned body in a chamfer. It is
/// checked to be printable still.
pub(crate) fn with_step(shape: Shape, printer: &Printer) -> Result<Shape, Error> {
    let (foot, layer) = (drawn_in_mm(printer), printer.layer_mm);
    if foot < LEAST_MM {
        return Ok(shape);
    }
    match shape {
        Shape::Sheet(plate) => {
            let (made, arrangement) = stepped(plate, foot, layer)?;
            check_arranged(&made, &arrangement, &Step::of(printer))?;
            Ok(Shape::Sheet(made))
        }
        Shape::Turned(turned) => {
            let made = Shape::Turned(chamfered(&turned, foot, layer));
            check_printable_by(&made, printer)?;
            Ok(made)
        }
    }
}

/// A smaller step is none.
const LEAST_MM: f64 = 0.01;

/// Strips along the outline and wider mouths of all that goes through are taken away from below. All are equally
/// deep, so the arrangement makes one step of them.
fn stepped(plate: Plate, foot: f64, layer: f64) -> Result<(Plate, Arrangement), Error> {
    let refused = |at: DVec2| Error::Foot { x_mm: at.x, y_mm: at.y, foot_mm: foot };
    let outline = counter_clockwise(&plate.outline);
    let inner = offset(&outline, foot).map_err(refused)?;
    let mut steps: Vec<Contour> =
        outline.0.iter().zip(&inner.0).map(|(edge, inside)| strip(*edge, *inside)).collect();
    for cut in plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness) {
        let hole = counter_clockwise(&cut.contour);
        steps.push(offset(&hole, -foot).map_err(refused)?);
    }
    let n_own = plate.cuts.len();
    let mut made = plate;
    made.cuts.extend(steps.into_iter().map(|c| Cut::pocket(c, Face::Bottom, layer)));
    let tol = Tolerance::default();
    let mut arrangement = arrange(&made, &tol)?;
    // Where a hole runs out over an edge, nothing is left of the edge to be drawn in.
    let idle: Vec<usize> =
        arrangement.missed.iter().chain(&arrangement.swallowed).copied().collect();
    if idle.iter().any(|cut| *cut >= n_own) {
        let cuts = std::mem::take(&mut made.cuts).into_iter().enumerate();
        let kept = cuts.filter(|(cut, _)| *cut < n_own || !idle.contains(cut));
        made.cuts = kept.map(|(_, cut)| cut).collect();
        arrangement = arrange(&made, &tol)?;
    }
    Ok((made, arrangement))
}

fn counter_clockwise(contour: &Contour) -> Contour {
    if contour.signed_area() < 0.0 { contour.reversed() } else { contour.clone() }
}

/// What lies between a piece of the outline and the same piece drawn in.
fn strip(edge: Segment, inside: Segment) -> Contour {
    Contour(vec![
        edge,
        Segment::line(edge.end, inside.end),
        inside.reversed(),
        Segment::line(inside.start, edge.start),
    ])
}

/// Both ends of every side on the bed are drawn in, unless what rises there leans out as far already.
fn chamfered(turned: &Turned, foot: f64, layer: f64) -> Turned {
    let corners = &turned.profile;
    let n = corners.len();
    let on_bed = |i: usize| corners[i % n].y.abs() < 1e-9;
    let mut profile = Vec::with_capacity(n + 4);
    for (i, &corner) in corners.iter().enumerate() {
        let (before, after) = (i + n - 1, i + 1);
        let is_outer = on_bed(i) && on_bed(before) && !on_bed(after);
        let is_inner = on_bed(i) && !on_bed(before) && on_bed(after) && corner.x > 0.0;
        if !is_outer && !is_inner {
            profile.push(corner);
            continue;
        }
        let rising = corners[if is_outer { after } else { before } % n];
        // Where the rising side leaves the layer, or its end if it is lower.
        let leaves = corner.lerp(rising, (layer / rising.y).min(1.0));
        let inwards = if is_outer { -foot } else { foot };
        let drawn = dvec2(leaves.x + inwards, 0.0);
        let ends_there = leaves.distance(rising) < LEAST_MM;
        let is_drawn_in = (corner.x - drawn.x) * inwards.signum() > -1e-9;
        let mut added = match (is_drawn_in, ends_there) {
            (true, _) => vec![corner],
            (false, true) => vec![drawn],
            (false, false) => vec![drawn, leaves],
        };
        if is_inner {
            added.reverse();
        }
        profile.extend(added);
    }
    Turned { profile }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    const PRINTER: Printer = Printer {
        nozzle_mm: 0.4,
        layer_mm: 0.3,
        bed_mm: [200.0; 3],
        clearance_mm: 0.25,
        hole_loss_mm: 0.2,
        foot_mm: 0.15,
        filament: crate::filament::Filament::Petg,
    };

    fn volume(shape: &Shape) -> f64 {
        match shape {
            Shape::Sheet(plate) => {
                arrange(plate, &Tolerance::default()).expect("an arrangement").volume()
            }
            Shape::Turned(turned) => turned.volume_mm3(),
        }
    }

    #[track_caller]
    fn check(shape: &Shape, taken_mm3: f64) {
        let made = with_step(shape.clone(), &PRINTER).expect("a step");
        let taken = volume(shape) - volume(&made);
        assert!((taken - taken_mm3).abs() < 1e-9, "{taken} {taken_mm3}");
        assert_eq!(check_printable_by(&made, &PRINTER), Ok(()));
    }

    #[test]
    fn a_sheet_loses_a_step_along_its_outline_and_its_holes() {
        let outline = Contour::rectangle(DVec2::ZERO, dvec2(40.0, 30.0));
        let mut plate = Plate::new(outline, 6.0);
        let edge = 1200.0 - 39.7 * 29.7;
        check(&Shape::Sheet(plate.clone()), 0.3 * edge);
        plate.cuts.push(Cut::through(Contour::circle(dvec2(12.0, 15.0), 5.0)));
        let hole = PI * (5.15 * 5.15 - 25.0);
        check(&Shape::Sheet(plate.clone()), 0.3 * (edge + hole));
        // A pocket from above does not reach the bed.
        let pocket = Contour::rectangle(dvec2(25.0, -2.0), dvec2(35.0, 32.0));
        plate.cuts.push(Cut::pocket(pocket, Face::Top, 3.0));
        check(&Shape::Sheet(plate), 0.3 * (edge + hole));
    }

    #[test]
    fn a_notch_takes_its_edge_with_it() {
        let outline = Contour::rectangle(DVec2::ZERO, dvec2(40.0, 30.0));
        let mut plate = Plate::new(outline, 6.0);
        let end = Contour::rectangle(dvec2(30.0, -2.0), dvec2(42.0, 32.0));
        plate.cuts.push(Cut::through(end));
        check(&Shape::Sheet(plate), 0.3 * (900.0 - 29.7 * 29.7));
    }

    #[test]
    fn a_turned_body_gets_a_chamfer_inside_and_outside() {
        let ring = Shape::Turned(Turned::pipe(40.0, 20.0, 9.0));
        // Pappus: triangles of 0.15 by 0.3 mm.
        let (area, third) = (0.5 * 0.15 * 0.3, 0.05);
        check(&ring, 2.0 * PI * area * (20.0 - third + 10.0 + third));
        let disc = Shape::Turned(Turned::cylinder(40.0, 9.0));
        check(&disc, 2.0 * PI * area * (20.0 - third));
        // A chamfer that is there already is enough.
        let rim = [(0., 0.), (19., 0.), (20., 1.), (20., 9.), (0., 9.)];
        check(&Shape::Turned(Turned { profile: rim.map(DVec2::from).to_vec() }), 0.0);
    }

    #[test]
    fn the_step_is_never_wider_than_half_a_nozzle() {
        let wide = Printer { foot_mm: 0.9, ..PRINTER };
        assert!((drawn_in_mm(&wide) - 0.2).abs() < 1e-12);
        assert!(drawn_in_mm(&Printer { foot_mm: -1.0, ..PRINTER }).abs() < 1e-12);
    }
}

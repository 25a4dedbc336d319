//! The path beside one edge.

use cavalier_contours::polyline::{PlineSource, Polyline};
use plate::Contour;

use super::pline::{to_contour, to_pline};
use super::{EASE_MM, NoPath};

/// Where the middle of the tool runs to leave an edge: on the edge's right, a tool's radius away. Several loops where
/// the tool must be set in anew, none where it does not fit; the outermost last.
///
/// # Errors
/// When the edge crosses itself.
pub(crate) fn beside(edge: &Contour, radius_mm: f64) -> Result<Vec<Contour>, NoPath> {
    if let Some((centre, radius)) = edge.as_circle() {
        let is_hole = edge.signed_area() < 0.0;
        let radius = if is_hole { radius - radius_mm } else { radius + radius_mm };
        // A hole of just the tool's width: the tool goes straight in.
        let radius = if is_hole && radius.abs() < EASE_MM { EASE_MM } else { radius };
        let circle = Contour::circle(centre, radius);
        let circle = if is_hole { circle.reversed() } else { circle };
        return Ok(if radius > 0.0 { vec![circle] } else { Vec::new() });
    }
    let pline = to_pline(edge)?;
    let exact = offset(&pline, radius_mm);
    let eased = offset(&pline, radius_mm - EASE_MM);
    let mut loops = if gets_further(&eased, &exact) { eased } else { exact };
    loops.sort_by(|a, b| a.signed_area().abs().total_cmp(&b.signed_area().abs()));
    Ok(loops)
}

fn offset(pline: &Polyline<f64>, distance: f64) -> Vec<Contour> {
    pline.parallel_offset(-distance).iter().filter_map(to_contour).collect()
}

/// Whether the tool gets to places when it is a hair thinner that it does not get to else: its way is then longer by
/// more than the hair makes it.
pub(super) fn gets_further(eased: &[Contour], exact: &[Contour]) -> bool {
    let length = |loops: &[Contour]| loops.iter().map(Contour::length).sum::<f64>();
    length(eased) > length(exact) + 25.0 * EASE_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use std::f64::consts::PI;

    #[test]
    fn around_a_rectangle_the_corners_become_quarter_arcs() {
        let edge = Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.));
        let path = &beside(&edge, 3.0).unwrap()[..];
        assert_eq!(path.len(), 1);
        assert!((path[0].length() - (300.0 + 6.0 * PI)).abs() < 1e-9);
        assert_eq!(path[0].0.iter().filter(|s| s.arc.is_some()).count(), 4);
        assert!(path[0].signed_area() > 5000.0);
    }

    #[test]
    fn in_a_window_the_path_is_smaller_by_the_tool() {
        let edge = Contour::rounded_rectangle(dvec2(0., 0.), dvec2(100., 50.), 8.0).reversed();
        let path = beside(&edge, 3.0).unwrap();
        let expected = Contour::rounded_rectangle(dvec2(3., 3.), dvec2(97., 47.), 5.0);
        assert!((path[0].signed_area() + expected.signed_area()).abs() < 1e-9);
        assert_eq!(path[0].0.len(), 8);
    }

    #[test]
    fn a_tool_gets_into_a_slot_of_its_own_width_and_into_none_that_is_narrower() {
        let slot =
            |width: f64| Contour::slot(dvec2(0., 0.), dvec2(40., 0.), 0.5 * width).reversed();
        assert_eq!(beside(&slot(5.9), 3.0).unwrap(), []);
        let path = beside(&slot(6.0), 3.0).unwrap();
        assert_eq!(path.len(), 1);
        assert!((path[0].length() - 80.0).abs() < 0.1);
        let comb = Contour::polygon(
            &[
                (0., 0.),
                (50., 0.),
                (50., 30.),
                (28., 30.),
                (28., 10.),
                (22., 10.),
                (22., 30.),
                (0., 30.),
            ]
            .map(|(x, y)| dvec2(x, y)),
        );
        let path = beside(&comb, 3.0).unwrap();
        let deepest = path.iter().flat_map(|p| &p.0).map(|s| s.start.distance(dvec2(25.0, 13.0)));
        assert!(deepest.fold(f64::INFINITY, f64::min) < 0.01);
    }

    #[test]
    fn a_narrow_mouth_parts_the_path() {
        // A chamber of 20 × 20 behind a mouth 4 mm wide: the tool is set in anew.
        let edge = Contour::polygon(
            &[
                (0., 0.),
                (60., 0.),
                (60., 40.),
                (32., 40.),
                (32., 30.),
                (40., 30.),
                (40., 10.),
                (20., 10.),
                (20., 30.),
                (28., 30.),
                (28., 40.),
                (0., 40.),
            ]
            .map(|(x, y)| dvec2(x, y)),
        );
        let path = beside(&edge, 3.0).unwrap();
        assert_eq!(path.len(), 2);
        assert!(path[0].signed_area().abs() < path[1].signed_area().abs());
    }
}

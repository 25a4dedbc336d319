//! Guards laws that hold for every plate, on random plates with many coincidences (a grid of 5 mm).
use glam::{DVec2, dvec2};
use plate::{Face::*, *};
use proptest::prelude::*;

fn contour() -> impl Strategy<Value = Contour> {
    let at = (-2..22, -2..14, 1..10, 1..8).prop_map(|(x, y, w, h)| {
        (dvec2(x as f64, y as f64) * 5.0, dvec2(w as f64, h as f64) * 5.0)
    });
    (at, 0..4).prop_map(|((p, size), kind)| match kind {
        0 => Contour::rectangle(p, p + size),
        1 => Contour::circle(p, size.x),
        2 => Contour::slot(p, p + DVec2::X * size.x, 0.5 * size.y),
        _ => Contour::polygon(&[p, p + size, p + dvec2(-size.y, size.x)]),
    })
}

fn plate() -> impl Strategy<Value = Plate> {
    let cut = (contour(), any::<bool>(), 1..7).prop_map(|(contour, top, depth)| {
        Cut::pocket(contour, if top { Top } else { Bottom }, depth as f64)
    });
    prop::collection::vec(cut, 0..8).prop_map(|cuts| Plate {
        outline: Contour::rectangle(DVec2::ZERO, dvec2(100.0, 60.0)),
        thickness: 6.0,
        cuts,
        engravings: vec![],
    })
}

/// What must not change: volume, area, numbers of cells, edges, corners, bodies, defects; or the refusal.
fn summary(plate: &Plate) -> Result<([String; 2], [usize; 5]), std::mem::Discriminant<Error>> {
    let tol = Tolerance { least_edge: 0.0, ..Tolerance::default() };
    let a = arrange(plate, &tol).map_err(|e| std::mem::discriminant(&e))?;
    let rounded = [a.volume(), a.area()].map(|x| format!("{x:.4}"));
    Ok((
        rounded,
        [a.cells.len(), a.edges.len(), a.corners.len(), a.bodies(), a.defects(&tol).len()],
    ))
}

fn with_contours(plate: &Plate, change: impl Fn(&Contour) -> Contour) -> Plate {
    let cuts =
        plate.cuts.iter().map(|c| Cut { contour: change(&c.contour), ..c.clone() }).collect();
    Plate { outline: change(&plate.outline), cuts, ..plate.clone() }
}

/// The same contour with every segment written as two.
fn halved(contour: &Contour) -> Contour {
    let halves = contour.0.iter().flat_map(|s| {
        let arc = s.arc.map(|a| Arc { sweep: 0.5 * a.sweep, ..a });
        let middle = s.midpoint();
        [Segment { start: s.start, end: middle, arc }, Segment { start: middle, end: s.end, arc }]
    });
    Contour(halves.collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn nothing_depends_on_place_order_or_writing(plate in plate(), angle in 0.0..6.0, x in -1e3..1e3) {
        let expected = summary(&plate);
        prop_assert_eq!(&expected, &summary(&with_contours(&plate, |c| c.moved(|p| DVec2::from_angle(angle).rotate(p), false))));
        prop_assert_eq!(&expected, &summary(&with_contours(&plate, |c| c.moved(|p| dvec2(x - p.x, p.y), true))));
        prop_assert_eq!(&expected, &summary(&with_contours(&plate, Contour::reversed)));
        prop_assert_eq!(&expected, &summary(&with_contours(&plate, halved)));
        let twice = plate.cuts.iter().rev().chain(&plate.cuts).cloned().collect();
        prop_assert_eq!(&expected, &summary(&Plate { cuts: twice, ..plate.clone() }));
    }

    #[test]
    fn turning_the_plate_over_changes_nothing(plate in plate()) {
        let other = |c: &Cut| Cut { face: if c.face == Top { Bottom } else { Top }, ..c.clone() };
        let over = Plate { cuts: plate.cuts.iter().map(other).collect(), ..plate.clone() };
        prop_assert_eq!(summary(&plate), summary(&over));
    }

    #[test]
    fn a_further_cut_never_adds_material(plate in plate()) {
        let tol = Tolerance::default();
        let Ok(all) = arrange(&plate, &tol) else { return Ok(()) };
        let fewer = Plate { cuts: plate.cuts.iter().skip(1).cloned().collect(), ..plate.clone() };
        let Ok(fewer) = arrange(&fewer, &tol) else { return Ok(()) };
        prop_assert!(all.volume() <= fewer.volume() + 1e-6);
    }
}

//! Guards the meaning of cuts: each case against a volume written by hand, and against its own moved copies.
use plate::{Face::*, *};
use glam::{dvec2, DVec2};
use std::f64::consts::PI;

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Contour {
    Contour::rectangle(dvec2(x0, y0), dvec2(x1, y1))
}
fn circle(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(dvec2(x, y), r)
}
fn slot(x0: f64, y0: f64, x1: f64, y1: f64, r: f64) -> Contour {
    Contour::slot(dvec2(x0, y0), dvec2(x1, y1), r)
}
/// 100 × 60 × 6.
fn plate(cuts: Vec<Cut>) -> Plate {
    Plate { outline: rect(0., 0., 100., 60.), thickness: 6.0, cuts }
}
fn moved(plate: &Plate, move_point: impl Fn(DVec2) -> DVec2, mirrors: bool) -> Plate {
    let cut = |c: &Cut| Cut { contour: c.contour.moved(&move_point, mirrors), ..c.clone() };
    Plate {
        outline: plate.outline.moved(&move_point, mirrors),
        thickness: plate.thickness,
        cuts: plate.cuts.iter().map(cut).collect(),
    }
}

/// `removed` from the full plate; cells without the outside; edges after joining.
#[track_caller]
fn check(cuts: Vec<Cut>, removed: f64, cells: usize, edges: usize) {
    let tol = Tolerance::default();
    let plate = plate(cuts);
    let backwards = Plate { cuts: plate.cuts.iter().rev().cloned().collect(), ..plate.clone() };
    let reversed = Plate {
        cuts: plate.cuts.iter().map(|c| Cut { contour: c.contour.reversed(), ..c.clone() }).collect(),
        ..plate.clone()
    };
    let variants = [
        ("as given", plate.clone()),
        ("other order", backwards),
        ("contours reversed", reversed),
        ("shifted", moved(&plate, |p| p + dvec2(1234.5, -0.1), false)),
        ("rotated", moved(&plate, |p| DVec2::from_angle(1.234).rotate(p), false)),
        ("mirrored", moved(&plate, |p| dvec2(-p.x, p.y), true)),
    ];
    for (name, plate) in variants {
        let a = arrange(&plate, &tol).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!((a.volume() - (36000.0 - removed)).abs() < 1e-7, "{name}: volume {}", a.volume());
        assert_eq!((a.cells.len() - 1, a.edges.len()), (cells, edges), "{name}: cells, edges");
        assert_eq!(a.defects(&tol), [], "{name}");
        for edge in a.edges.iter().filter(|e| e.arc.is_some()) {
            let [p, q] = edge.ends.map(|v| a.corners[v].distance(edge.arc.unwrap().centre));
            assert!((p - q).abs() < 1e-9, "{name}: an arc's ends are not on its circle");
        }
    }
}

#[track_caller]
fn check_defect(cuts: Vec<Cut>, expected: fn(&Defect) -> bool) {
    let tol = Tolerance::default();
    let defects = arrange(&plate(cuts), &tol).unwrap().defects(&tol);
    assert!(defects.iter().any(expected), "{defects:?}");
}

#[test]
fn plain() {
    check(vec![], 0.0, 1, 4);
}
#[test]
fn rabbet_whose_contour_hangs_over() {
    check(vec![Cut::pocket(rect(90., -5., 110., 65.), Top, 2.)], 1200., 2, 7);
}
#[test]
fn rabbet_whose_contour_lies_on_the_outline() {
    check(vec![Cut::pocket(rect(90., 0., 100., 60.), Top, 2.)], 1200., 2, 7);
}
#[test]
fn rabbets_on_two_edges() {
    let cuts = vec![Cut::pocket(rect(90., -5., 110., 65.), Top, 2.), Cut::pocket(rect(0., 50., 100., 60.), Top, 3.)];
    check(cuts, 2. * 500. + 3. * 1000., 3, 10);
}
#[test]
fn grooves_crossing_on_two_faces() {
    let cuts = vec![Cut::pocket(rect(-10., 25., 110., 31.), Top, 2.), Cut::pocket(rect(40., -10., 46., 70.), Bottom, 2.)];
    check(cuts, 1200. + 720., 9, 24);
}
#[test]
fn pockets_sharing_an_edge_are_one_cell() {
    let cuts = vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::pocket(rect(40., 25., 60., 45.), Top, 3.)];
    check(cuts, 2400., 2, 12);
}
#[test]
fn round_notch() {
    check(vec![Cut::through(circle(50., 60., 10.))], 300. * PI, 1, 6);
}
#[test]
fn comb() {
    let tooth = |i: usize| Cut::through(rect(2.5 + 4.75 * i as f64, 20., 5. + 4.75 * i as f64, 65.));
    check((0..20).map(tooth).collect(), 6. * 20. * 2.5 * 40., 1, 84);
}
#[test]
fn hole_inside_a_pocket() {
    let cuts = vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(30., 30., 5.))];
    check(cuts, 1200. + 75. * PI, 3, 10);
}
#[test]
fn hole_touching_a_pocket_wall_from_inside() {
    let cuts = vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(35., 30., 5.))];
    check(cuts, 1200. + 75. * PI, 3, 11);
}
#[test]
fn hole_half_over_a_pocket() {
    let cuts = vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(40., 30., 5.))];
    check(cuts, 1200. + 150. * PI - 37.5 * PI, 3, 11);
}
#[test]
fn same_circle_three_times_is_two_arcs() {
    let cuts = vec![
        Cut::pocket(circle(50., 30., 10.), Top, 2.),
        Cut::through(circle(50., 30., 10.)),
        Cut::pocket(slot(50., 30., 50., 31., 9.), Bottom, 1.),
    ];
    check(cuts, 600. * PI, 2, 6);
}
#[test]
fn slot_tangent_to_a_wall() {
    let cuts = vec![Cut::pocket(rect(20., 25., 80., 50.), Top, 2.), Cut::through(slot(30., 30., 60., 30., 5.))];
    check(cuts, 3000. + 4. * (300. + 25. * PI), 3, 13);
}
#[test]
fn pockets_deeper_than_the_plate_together() {
    let cuts = vec![Cut::pocket(rect(20., 20., 50., 40.), Top, 4.), Cut::pocket(rect(40., 10., 60., 30.), Bottom, 4.)];
    check(cuts, 4. * 600. + 4. * 400. - 2. * 100., 4, 16);
}
#[test]
fn cut_beside_the_part_does_nothing() {
    check(vec![Cut::through(rect(140., -5., 150., 100.))], 0.0, 1, 4);
}

#[test]
fn defects_are_named() {
    let pocket = || Cut::pocket(rect(20., 20., 40., 40.), Top, 3.);
    check_defect(vec![pocket(), Cut::through(circle(50., 30., 10.))], |d| matches!(d, Defect::Pinch { .. }));
    check_defect(vec![pocket(), Cut::pocket(rect(40., 25., 60., 45.), Bottom, 3.)], |d| matches!(d, Defect::ZeroThickness { .. }));
    check_defect(vec![Cut::through(rect(40., -5., 50., 100.))], |d| matches!(d, Defect::SeveralBodies { count: 2 }));
    check_defect(vec![Cut::through(rect(-5., -5., 150., 100.))], |d| *d == Defect::Empty);
    check_defect(vec![pocket(), Cut::pocket(rect(20., 20., 40., 40.), Bottom, 2.95)], |d| matches!(d, Defect::ThinFloor { .. }));
}

#[track_caller]
fn check_refused(plate: Plate, words: &str) {
    let message = arrange(&plate, &Tolerance::default()).unwrap_err().to_string();
    assert!(message.contains(words), "{message}");
}

#[test]
fn refusals_say_why() {
    let pocket = |c, depth| plate(vec![Cut::pocket(c, Top, depth)]);
    check_refused(pocket(rect(f64::NAN, 20., 40., 40.), 1.), "cut 0 has a coordinate that is not a finite number");
    check_refused(pocket(rect(10., 20., 40., 40.), 0.), "depth must be positive");
    check_refused(pocket(rect(10., 20., 40., 20.), 1.), "cut 0");
    check_refused(pocket(Contour::polygon(&[dvec2(0., 0.), dvec2(50., 50.), dvec2(50., 0.), dvec2(0., 40.)]), 1.), "crosses or overlaps itself");
    check_refused(plate(vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(rect(40.00003, 20., 60., 40.))]), "make them meet, or keep");
    check_refused(plate(vec![Cut::through(circle(20., 30., 10.)), Cut::through(circle(40.00002, 30., 10.))]), "make them meet, or keep");
    check_refused(plate(vec![Cut::through(circle(20., 30., 10.)), Cut::pocket(rect(29.99998, 20., 40., 40.), Top, 1.)]), "make them meet, or keep");
    check_refused(plate(vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::pocket(rect(60., 20., 80., 40.), Top, 3.00002)]), "neither equal nor");
    let mut open = rect(0., 0., 9., 9.);
    open.0[2].end.x += 0.1;
    check_refused(Plate { outline: open, ..plate(vec![]) }, "gap of 1.000e-1 mm");
}

//! Guards the meaning of cuts: each case against a volume written by hand, and against its own
//! moved, mirrored, reversed and reordered copies.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::Face::{Bottom, Top};
use plate::{Contour, Cut, Defect, Plate, Tolerance, arrange};

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Contour {
    Contour::rectangle(dvec2(x0, y0), dvec2(x1, y1))
}

fn circle(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(dvec2(x, y), r)
}

fn slot(x0: f64, y0: f64, x1: f64, y1: f64, r: f64) -> Contour {
    Contour::slot(dvec2(x0, y0), dvec2(x1, y1), r)
}

/// 100 × 60 × 6: 36,000 mm³.
fn plate(cuts: Vec<Cut>) -> Plate {
    Plate { cuts, ..Plate::new(rect(0., 0., 100., 60.), 6.0) }
}

fn moved(plate: &Plate, move_point: impl Fn(DVec2) -> DVec2, mirrors: bool) -> Plate {
    let cut = |c: &Cut| Cut { contour: c.contour.moved(&move_point, mirrors), ..c.clone() };
    Plate {
        outline: plate.outline.moved(&move_point, mirrors),
        cuts: plate.cuts.iter().map(cut).collect(),
        ..plate.clone()
    }
}

/// `removed` (mm³) from the full plate; cells without the outside; edges after joining.
#[track_caller]
fn check(cuts: Vec<Cut>, removed: f64, cells: usize, edges: usize) {
    check_with_defects(cuts, removed, cells, edges, &[]);
}

#[track_caller]
fn check_with_defects(
    cuts: Vec<Cut>,
    removed: f64,
    cells: usize,
    edges: usize,
    defects: &[Defect],
) {
    let tol = Tolerance::default();
    let plate = plate(cuts);
    let reversed = Plate {
        cuts: plate
            .cuts
            .iter()
            .map(|c| Cut { contour: c.contour.reversed(), ..c.clone() })
            .collect(),
        ..plate.clone()
    };
    let variants = [
        ("as given", plate.clone()),
        ("contours reversed", reversed),
        ("shifted", moved(&plate, |p| p + dvec2(1234.5, -0.1), false)),
        ("rotated", moved(&plate, |p| DVec2::from_angle(1.234).rotate(p), false)),
        ("mirrored", moved(&plate, |p| dvec2(-p.x, p.y), true)),
    ];
    for (name, plate) in variants {
        let a = arrange(&plate, &tol).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!((a.volume() - (36000.0 - removed)).abs() < 1e-7, "{name}: volume {}", a.volume());
        assert_eq!((a.cells.len() - 1, a.edges.len()), (cells, edges), "{name}: cells, edges");
        assert_eq!(a.defects(&tol), defects, "{name}");
        for edge in &a.edges {
            let Some(arc) = edge.arc else { continue };
            let [p, q] = edge.ends.map(|v| a.corners[v].distance(arc.centre));
            assert!((p - q).abs() < 1e-9, "{name}: an arc's ends are not on its circle");
        }
    }
    let backwards = Plate { cuts: plate.cuts.iter().rev().cloned().collect(), ..plate };
    let a = arrange(&backwards, &tol).unwrap_or_else(|e| panic!("other order: {e}"));
    assert!((a.volume() - (36000.0 - removed)).abs() < 1e-7, "other order");
    assert_eq!((a.cells.len() - 1, a.edges.len()), (cells, edges), "other order");
    assert_eq!(a.defects(&tol).len(), defects.len(), "other order");
}

#[track_caller]
fn check_defect(cuts: Vec<Cut>, expected: fn(&Defect) -> bool) {
    let tol = Tolerance::default();
    let defects = arrange(&plate(cuts), &tol).expect("an arrangement").defects(&tol);
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
    let cuts = vec![
        Cut::pocket(rect(90., -5., 110., 65.), Top, 2.),
        Cut::pocket(rect(0., 50., 100., 60.), Top, 3.),
    ];
    check(cuts, 2. * 500. + 3. * 1000., 3, 10);
}

#[test]
fn grooves_crossing_on_two_faces() {
    let cuts = vec![
        Cut::pocket(rect(-10., 25., 110., 31.), Top, 2.),
        Cut::pocket(rect(40., -10., 46., 70.), Bottom, 2.),
    ];
    check(cuts, 1200. + 720., 9, 24);
}

#[test]
fn pockets_sharing_an_edge_are_one_cell() {
    let cuts = vec![
        Cut::pocket(rect(20., 20., 40., 40.), Top, 3.),
        Cut::pocket(rect(40., 25., 60., 45.), Top, 3.),
    ];
    check(cuts, 2400., 2, 12);
}

#[test]
fn round_notch() {
    check(vec![Cut::through(circle(50., 60., 10.))], 300. * PI, 1, 6);
}

#[test]
fn comb() {
    let tooth = |i: usize| {
        let x = 2.5 + 4.75 * i as f64;
        Cut::through(rect(x, 20., x + 2.5, 65.))
    };
    check((0..20).map(tooth).collect(), 6. * 20. * 2.5 * 40., 1, 84);
}

#[test]
fn hole_inside_a_pocket() {
    let cuts =
        vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(30., 30., 5.))];
    check(cuts, 1200. + 75. * PI, 3, 10);
}

#[test]
fn hole_touching_a_pocket_wall_from_inside() {
    let cuts =
        vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(35., 30., 5.))];
    check(cuts, 1200. + 75. * PI, 3, 11);
}

#[test]
fn hole_half_over_a_pocket() {
    let cuts =
        vec![Cut::pocket(rect(20., 20., 40., 40.), Top, 3.), Cut::through(circle(40., 30., 5.))];
    check(cuts, 1200. + 150. * PI - 37.5 * PI, 3, 11);
}

#[test]
fn same_circle_three_times_is_two_arcs() {
    let cuts = vec![
        Cut::pocket(circle(50., 30., 10.), Top, 2.),
        Cut::through(circle(50., 30., 10.)),
        Cut::pocket(slot(50., 30., 50., 31., 9.), Bottom, 1.),
    ];
    let swallowed = [Defect::SwallowedCut { cut: 0 }, Defect::SwallowedCut { cut: 2 }];
    check_with_defects(cuts, 600. * PI, 2, 6, &swallowed);
}

#[test]
fn slot_tangent_to_a_wall() {
    let cuts = vec![
        Cut::pocket(rect(20., 25., 80., 50.), Top, 2.),
        Cut::through(slot(30., 30., 60., 30., 5.)),
    ];
    check(cuts, 3000. + 4. * (300. + 25. * PI), 3, 13);
}

#[test]
fn pockets_deeper_than_the_plate_together() {
    let cuts = vec![
        Cut::pocket(rect(20., 20., 50., 40.), Top, 4.),
        Cut::pocket(rect(40., 10., 60., 30.), Bottom, 4.),
    ];
    check(cuts, 4. * 600. + 4. * 400. - 2. * 100., 4, 16);
}

#[test]
fn cut_beside_the_part_does_nothing_and_is_reported() {
    let idle = [Defect::IdleCut { cut: 0 }];
    check_with_defects(vec![Cut::through(rect(140., -5., 150., 100.))], 0.0, 1, 4, &idle);
    check_with_defects(vec![Cut::through(rect(100., 10., 150., 50.))], 0.0, 1, 4, &idle);
}

#[test]
fn cut_to_the_far_face_goes_through_from_either_side() {
    for face in [Top, Bottom] {
        for depth in [6.0, 6.0 - 5e-7, 7.0] {
            check(vec![Cut::pocket(circle(50., 30., 10.), face, depth)], 600. * PI, 2, 6);
        }
    }
}

#[test]
fn rounded_outline_and_opening() {
    let opening = Contour::rounded_rectangle(dvec2(20., 20.), dvec2(60., 40.), 4.0);
    check(vec![Cut::through(opening)], 6. * (800. - (4. - PI) * 16.), 2, 12);
}

#[test]
fn each_floor_knows_the_cuts_that_made_it() {
    let plate = plate(vec![
        Cut::pocket(rect(20., 20., 40., 40.), Top, 3.),
        Cut::pocket(rect(40., 25., 60., 45.), Top, 3.),
        Cut::through(circle(30., 30., 5.)),
        Cut::pocket(rect(24., 24., 36., 36.), Bottom, 1.),
    ]);
    let a = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    let mut floors: Vec<_> = a.cells.iter().zip(&a.made_by).collect();
    floors.sort_by_key(|f| f.1);
    let mut expected = [
        (None, vec![]),                 // outside
        (Some([0.0, 6.0]), vec![]),     // untouched
        (Some([0.0, 3.0]), vec![0, 1]), // two pockets that share an edge
        (Some([1.0, 3.0]), vec![0, 3]), // between the two faces' pockets
        (None, vec![2]),                // the hole
    ];
    expected.sort_by(|a, b| a.1.cmp(&b.1));
    assert_eq!(floors, expected.iter().map(|(h, m)| (h, m)).collect::<Vec<_>>());
}

#[test]
fn defects_are_named() {
    let pocket = || Cut::pocket(rect(20., 20., 40., 40.), Top, 3.);
    let below = |c, depth| Cut::pocket(c, Bottom, depth);
    check_defect(vec![pocket(), Cut::through(circle(50., 30., 10.))], |d| {
        matches!(d, Defect::Pinch { .. })
    });
    check_defect(vec![pocket(), below(rect(40., 25., 60., 45.), 3.)], |d| {
        matches!(d, Defect::ZeroThickness { .. })
    });
    check_defect(vec![Cut::through(rect(40., -5., 50., 100.))], |d| {
        matches!(d, Defect::SeveralBodies { count: 2 })
    });
    check_defect(vec![Cut::through(rect(-5., -5., 150., 100.))], |d| *d == Defect::Empty);
    check_defect(vec![pocket(), below(rect(20., 20., 40., 40.), 2.95)], |d| {
        matches!(d, Defect::ThinFloor { .. })
    });
}

#[track_caller]
fn check_refused(plate: Plate, words: &str) {
    let refusal = arrange(&plate, &Tolerance::default()).expect_err("a refusal");
    assert!(refusal.to_string().contains(words), "{refusal}");
}

#[test]
fn contours_that_are_none_are_refused_with_the_reason() {
    let cut = |c| plate(vec![Cut::pocket(c, Top, 1.)]);
    check_refused(
        cut(rect(f64::NAN, 20., 40., 40.)),
        "cut 0 has a coordinate that is not a finite",
    );
    check_refused(cut(rect(20., 20., 40., 4e6)), "coordinates up to 1e6 mm");
    check_refused(cut(rect(10., 20., 40., 20.)), "cut 0 has a piece 0.000e0 mm long");
    check_refused(cut(Contour(vec![])), "cut 0 encloses no area");
    let bow = [dvec2(0., 0.), dvec2(50., 50.), dvec2(50., 0.), dvec2(0., 40.)];
    check_refused(cut(Contour::polygon(&bow)), "cut 0 crosses or overlaps itself near");
    let too_round = Contour::rounded_rectangle(dvec2(20., 20.), dvec2(40., 40.), 11.0);
    check_refused(cut(too_round), "cut 0 crosses or overlaps itself near");

    let mut open = rect(0., 0., 9., 9.);
    open.0[2].end.x += 0.1;
    check_refused(Plate { outline: open, ..plate(vec![]) }, "outline has a gap of 1.000e-1 mm");
    let mut round = circle(50., 30., 10.);
    round.0.pop();
    round.0[0].end = round.0[0].start;
    check_refused(cut(round.clone()), "cut 0 has an arc at");
    round.0[0].arc.as_mut().expect("an arc").sweep = 2.0 * PI;
    check_refused(cut(round), "write a whole circle as two arcs");
    let mut off = circle(50., 30., 10.);
    off.0[0].arc.as_mut().expect("an arc").centre.x += 0.01;
    check_refused(cut(off), "cut 0 has an arc at");
}

#[test]
fn depths_that_are_none_are_refused() {
    let cut = |depth| plate(vec![Cut::pocket(rect(10., 20., 40., 40.), Top, depth)]);
    check_refused(cut(0.0), "cut 0 is 0 mm deep; a depth must be positive");
    check_refused(cut(f64::NAN), "cut 0 is NaN mm deep");
    check_refused(Plate { thickness: -1.0, ..plate(vec![]) }, "thickness is -1 mm");
    check_refused(Plate { thickness: f64::INFINITY, ..plate(vec![]) }, "thickness is inf mm");
}

#[test]
fn features_neither_one_nor_apart_are_refused() {
    let pocket = |c| Cut::pocket(c, Top, 3.);
    let near_miss = |a, b| check_refused(plate(vec![a, b]), "make them meet, or keep 1e-4 mm");
    near_miss(pocket(rect(20., 20., 40., 40.)), Cut::through(rect(40.00003, 20., 60., 40.)));
    near_miss(Cut::through(circle(20., 30., 10.)), Cut::through(circle(40.00002, 30., 10.)));
    near_miss(Cut::through(circle(20., 30., 10.)), pocket(rect(29.99998, 20., 40., 40.)));
    let floors =
        vec![pocket(rect(20., 20., 40., 40.)), Cut::pocket(rect(60., 20., 80., 40.), Top, 3.00002)];
    check_refused(plate(floors), "neither equal nor 1e-4 mm apart");
}

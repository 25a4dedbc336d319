//! Guards that the loops to cut and to clear enclose what the arrangement is made of.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::Face::{Bottom, Top};
use plate::{
    Arrangement, Contour, Cut, ENGRAVING_STEP_MM, Engraving, Face, FlatPattern, Plate, Tolerance,
    arrange, flat_pattern, sample,
};

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Contour {
    Contour::rectangle(dvec2(x0, y0), dvec2(x1, y1))
}

fn circle(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(dvec2(x, y), r)
}

fn pattern(cuts: Vec<Cut>) -> FlatPattern {
    let plate = Plate { cuts, ..Plate::new(rect(0., 0., 100., 60.), 6.0) };
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    flat_pattern(&plate, &arrangement)
}

/// Face, depth, areas of the loops, cuts.
type Floor = (Face, f64, Vec<f64>, Vec<usize>);

#[track_caller]
fn check(pattern: &FlatPattern, through: &[f64], floors: &[Floor]) {
    let areas = |loops: &[Contour]| loops.iter().map(Contour::signed_area).collect::<Vec<_>>();
    assert_close(&areas(&pattern.through), through);
    assert_eq!(pattern.pockets.len(), floors.len(), "{:#?}", pattern.pockets);
    for (pocket, (face, depth, loops, made_by)) in pattern.pockets.iter().zip(floors) {
        assert_eq!((pocket.face, &pocket.made_by), (*face, made_by));
        assert_close(&[pocket.depth_mm], &[*depth]);
        assert_close(&areas(&pocket.loops), loops);
    }
}

#[track_caller]
fn assert_close(ours: &[f64], expected: &[f64]) {
    let close = ours.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9);
    assert!(close && ours.len() == expected.len(), "{ours:?}, expected {expected:?}");
}

#[test]
fn outline_first_then_holes_and_circles_stay_circles() {
    let pattern =
        pattern(vec![Cut::through(circle(30., 30., 5.)), Cut::through(circle(70., 30., 8.))]);
    check(&pattern, &[6000.0, -25.0 * PI, -64.0 * PI], &[]);
    let circles: Vec<_> = pattern.through.iter().map(Contour::as_circle).collect();
    assert_eq!(circles, [None, Some((dvec2(30., 30.), 5.)), Some((dvec2(70., 30.), 8.))]);
}

#[test]
fn overlapping_cuts_are_one_loop() {
    let pattern = pattern(vec![
        Cut::through(rect(20., 20., 40., 40.)),
        Cut::through(rect(30., 10., 50., 30.)),
    ]);
    check(&pattern, &[6000.0, -700.0], &[]);
    assert_eq!(pattern.through[1].0.len(), 8);
}

#[test]
fn a_rabbet_ends_at_the_outline_and_does_not_break_it() {
    let pattern = pattern(vec![Cut::pocket(rect(90., -5., 110., 65.), Top, 2.)]);
    check(&pattern, &[6000.0], &[(Top, 2.0, vec![600.0], vec![0])]);
    assert_eq!(pattern.through[0].0.len(), 4);
}

#[test]
fn grooves_on_two_faces_cross_without_breaking_each_other() {
    let pattern = pattern(vec![
        Cut::pocket(rect(-10., 25., 110., 31.), Top, 2.),
        Cut::pocket(rect(40., -10., 46., 70.), Bottom, 2.5),
    ]);
    let floors = [(Top, 2.0, vec![600.0], vec![0]), (Bottom, 2.5, vec![360.0], vec![1])];
    check(&pattern, &[6000.0], &floors);
    assert!(pattern.pockets.iter().all(|p| p.loops[0].0.len() == 4));
}

#[test]
fn a_hole_opens_the_floor_and_an_island_stays() {
    let pattern = pattern(vec![
        Cut::pocket(rect(20., 20., 60., 40.), Top, 3.),
        Cut::through(circle(30., 30., 5.)),
        Cut::pocket(circle(50., 30., 4.), Top, 4.),
    ]);
    let floors = [
        (Top, 3.0, vec![800.0, -25.0 * PI, -16.0 * PI], vec![0]),
        (Top, 4.0, vec![16.0 * PI], vec![2]),
    ];
    check(&pattern, &[6000.0, -25.0 * PI], &floors);
}

#[test]
fn pockets_that_are_not_joined_are_regions_of_their_own() {
    let pocket = |x| Cut::pocket(rect(x, 20., x + 10., 40.), Top, 3.);
    let pattern = pattern(vec![pocket(20.), pocket(40.), pocket(50.)]);
    let floors = [(Top, 3.0, vec![200.0], vec![0]), (Top, 3.0, vec![400.0], vec![1, 2])];
    check(&pattern, &[6000.0], &floors);
}

#[test]
fn a_floor_that_touches_itself_in_a_corner_is_parted_there() {
    // A ring of floor around a deeper diamond whose corner lies on the ring's outer edge.
    let diamond = [dvec2(30., 20.), dvec2(35., 30.), dvec2(30., 35.), dvec2(25., 30.)];
    let pattern = pattern(vec![
        Cut::pocket(rect(20., 20., 40., 40.), Top, 2.),
        Cut::pocket(Contour::polygon(&diamond), Top, 3.),
    ]);
    let floors = [(Top, 2.0, vec![400.0, -75.0], vec![0]), (Top, 3.0, vec![75.0], vec![1])];
    check(&pattern, &[6000.0], &floors);
}

#[test]
fn a_part_in_pieces_has_an_outer_loop_for_each() {
    let pattern = pattern(vec![
        Cut::through(rect(40., -5., 50., 100.)),
        Cut::through(circle(20., 30., 5.)),
        Cut::through(circle(80., 30., 6.)),
    ]);
    check(&pattern, &[2400.0, -25.0 * PI, 3000.0, -36.0 * PI], &[]);
}

#[test]
fn engraving_is_passed_on() {
    let engraving = Engraving { face: Top, strokes: vec![vec![dvec2(1., 1.), dvec2(9., 1.)]] };
    let plate =
        Plate { engravings: vec![engraving.clone()], ..Plate::new(rect(0., 0., 100., 60.), 6.0) };
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    assert_eq!(flat_pattern(&plate, &arrangement).engravings, [engraving]);
}

#[test]
fn engraving_off_its_face_is_told_with_the_place() {
    let stroke = |face, from: [f64; 2], to: [f64; 2]| Engraving {
        face,
        strokes: vec![vec![DVec2::from_array(from), DVec2::from_array(to)]],
    };
    let plate = Plate {
        cuts: vec![
            Cut::pocket(rect(20., 20., 60., 40.), Top, 3.),
            Cut::through(circle(30., 30., 5.)),
        ],
        engravings: vec![
            stroke(Top, [10., 50.], [90., 50.]),    // on plain sheet
            stroke(Top, [10., 30.], [15., 30.]),    // before the pocket
            stroke(Top, [50., 30.], [10., 30.]),    // begins in the pocket
            stroke(Top, [40., 10.], [40., 50.]),    // across the pocket, its ends on the face
            stroke(Bottom, [40., 10.], [40., 50.]), // the same on the other face, which has no pocket
            stroke(Bottom, [10., 30.], [50., 30.]), // across the hole
            stroke(Top, [90., 30.], [101., 30.]),   // over the edge
        ],
        ..Plate::new(rect(0., 0., 100., 60.), 6.0)
    };
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    let misplaced = flat_pattern(&plate, &arrangement).misplaced_engravings();
    let expected =
        [(2, dvec2(50., 30.)), (3, dvec2(40., 20.)), (5, dvec2(25., 30.)), (6, dvec2(100., 30.))];
    assert_eq!(misplaced.len(), expected.len(), "{misplaced:?}");
    for (found, (engraving, at)) in misplaced.iter().zip(expected) {
        assert_eq!(found.engraving, engraving);
        assert!(found.at.distance(at) <= ENGRAVING_STEP_MM, "{found:?}");
    }
}

/// Floor areas by face and depth, from the cells alone.
fn floor_areas(plate: &Plate, a: &Arrangement) -> BTreeMap<(Face, u64), f64> {
    let mut areas = BTreeMap::new();
    for (area, cell) in a.cell_areas().into_iter().zip(&a.cells) {
        let Some([bottom, top]) = *cell else { continue };
        for (face, depth) in [(Top, plate.thickness - top), (Bottom, bottom)] {
            if depth > 0.0 {
                *areas.entry((face, depth.to_bits())).or_default() += area;
            }
        }
    }
    areas
}

#[test]
fn areas_and_loops_of_sample_plates_equal_their_arrangement() {
    let tol = Tolerance::default();
    let mut compared = 0;
    for seed in 0..800 {
        let plate = sample::plate(seed);
        let Ok(a) = arrange(&plate, &tol) else { continue };
        let pattern = flat_pattern(&plate, &a);
        let scale = a.area().max(1.0);
        assert!((pattern.area_mm2() - a.area()).abs() < 1e-9 * scale, "seed {seed}");

        let mut floors: BTreeMap<(Face, u64), f64> = BTreeMap::new();
        for pocket in &pattern.pockets {
            *floors.entry((pocket.face, pocket.depth_mm.to_bits())).or_default() +=
                pocket.area_mm2();
        }
        let expected = floor_areas(&plate, &a);
        assert!(floors.keys().eq(expected.keys()), "seed {seed}: depths");
        for (key, area) in &floors {
            assert!((area - expected[key]).abs() < 1e-9 * scale, "seed {seed}: {key:?}");
        }
        check_loops(&pattern, seed);
        compared += 1;
    }
    assert!(compared > 750, "{compared}");
}

/// Every loop closes, is simple (a plate of its own), and only the first of a pocket is positive.
fn check_loops(pattern: &FlatPattern, seed: u64) {
    let all = pattern.pockets.iter().flat_map(|p| &p.loops).chain(&pattern.through);
    for l in all {
        let next = l.0.iter().cycle().skip(1);
        assert!(l.0.iter().zip(next).all(|(a, b)| a.end == b.start), "seed {seed}: open");
        let alone = arrange(&Plate::new(l.clone(), 1.0), &Tolerance::default());
        let alone = alone.unwrap_or_else(|e| panic!("seed {seed}: {e}"));
        assert!((alone.area() - l.signed_area().abs()).abs() < 1e-9 * alone.area(), "seed {seed}");
    }
    for pocket in &pattern.pockets {
        let signs: Vec<bool> = pocket.loops.iter().map(|l| l.signed_area() > 0.0).collect();
        assert!(signs[0] && !signs[1..].contains(&true), "seed {seed}: {signs:?}");
        assert!(!pocket.made_by.is_empty(), "seed {seed}: nobody made a floor");
    }
}

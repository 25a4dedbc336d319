//! Guards laws that hold for every plate: on plates with many coincidences (a grid of 5 mm), and
//! on the sample plates that other crates test with.

use glam::{DVec2, dvec2};
use plate::Face::{Bottom, Top};
use plate::{Arc, Contour, Cut, Defect, Error, Plate, Segment, Tolerance, arrange, sample};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(20),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn contour() -> impl Strategy<Value = Contour> {
    let at = (-2..22_i32, -2..14_i32, 1..10_i32, 1..8_i32).prop_map(
        |(x, y, w, h): (i32, i32, i32, i32)| {
            (5.0 * dvec2(x.into(), y.into()), 5.0 * dvec2(w.into(), h.into()))
        },
    );
    (at, 0..5).prop_map(|((p, size), kind)| match kind {
        0 => Contour::rectangle(p, p + size),
        1 => Contour::circle(p, size.x),
        2 => Contour::slot(p, p + DVec2::X * size.x, 0.5 * size.y),
        3 => Contour::rounded_rectangle(p, p + size, 2.5),
        _ => Contour::polygon(&[p, p + size, p + dvec2(-size.y, size.x)]),
    })
}

fn grid_plate() -> impl Strategy<Value = Plate> {
    let cut = (contour(), any::<bool>(), 1..7).prop_map(|(contour, top, depth)| {
        Cut::pocket(contour, if top { Top } else { Bottom }, f64::from(depth))
    });
    let outline = Contour::rectangle(DVec2::ZERO, dvec2(100.0, 60.0));
    prop::collection::vec(cut, 0..8)
        .prop_map(move |cuts| Plate { cuts, ..Plate::new(outline.clone(), 6.0) })
}

fn sample_plate() -> impl Strategy<Value = Plate> {
    any::<u64>().prop_map(sample::plate)
}

/// What must not change, or the kind of refusal.
#[derive(Debug, PartialEq)]
struct Summary {
    volume_mm3: String,
    area_mm2: String,
    cells: usize,
    edges: usize,
    corners: usize,
    bodies: usize,
    defects: usize,
    idle: Vec<usize>,
}

fn summary(plate: &Plate) -> Result<Summary, std::mem::Discriminant<Error>> {
    // A length right at a reporting limit may fall on either side of it when the plate is moved.
    let tol = Tolerance { least_edge: 0.0, least_wall: 0.0, ..Tolerance::default() };
    let a = arrange(plate, &tol).map_err(|e| std::mem::discriminant(&e))?;
    let is_of_cut = |d: &Defect| matches!(d, Defect::IdleCut { .. } | Defect::SwallowedCut { .. });
    Ok(Summary {
        // Enough digits to see any feature, few enough to hide the rounding of a rotation.
        volume_mm3: format!("{:.3}", a.volume() + 5e-7),
        area_mm2: format!("{:.3}", a.area() + 5e-7),
        cells: a.cells.len(),
        edges: a.edges.len(),
        corners: a.corners.len(),
        bodies: a.bodies(),
        defects: a.defects(&tol).iter().filter(|d| !is_of_cut(d)).count(),
        idle: a.missed.into_iter().chain(a.swallowed).collect(),
    })
}

fn with_contours(plate: &Plate, change: impl Fn(&Contour) -> Contour) -> Plate {
    let cuts =
        plate.cuts.iter().map(|c| Cut { contour: change(&c.contour), ..c.clone() }).collect();
    Plate { outline: change(&plate.outline), cuts, ..plate.clone() }
}

/// The same contour with every piece written as two.
fn halved(contour: &Contour) -> Contour {
    let halves = contour.0.iter().flat_map(|s| {
        let arc = s.arc.map(|a| Arc { sweep: 0.5 * a.sweep, ..a });
        let middle = s.midpoint();
        [Segment { start: s.start, end: middle, arc }, Segment { start: middle, end: s.end, arc }]
    });
    Contour(halves.collect())
}

fn depends_on_nothing_else(plate: &Plate, angle: f64, x: f64) -> Result<(), TestCaseError> {
    let expected = summary(plate);
    let rotated = |c: &Contour| c.moved(|p| DVec2::from_angle(angle).rotate(p), false);
    let mirrored = |c: &Contour| c.moved(|p| dvec2(x - p.x, p.y), true);
    prop_assert_eq!(&expected, &summary(&with_contours(plate, rotated)), "rotated");
    prop_assert_eq!(&expected, &summary(&with_contours(plate, mirrored)), "mirrored");
    prop_assert_eq!(&expected, &summary(&with_contours(plate, Contour::reversed)), "reversed");
    // The new corners may come too near old ones, which is refused, but never taken for else.
    let halves = summary(&with_contours(plate, halved));
    let near_miss = Error::NearMiss { at: DVec2::ZERO, gap_mm: 0.0, least_mm: 0.0 };
    if halves != Err(std::mem::discriminant(&near_miss)) {
        prop_assert_eq!(&expected, &halves, "halved");
    }

    let twice = plate.cuts.iter().rev().chain(&plate.cuts).cloned().collect();
    let twice = summary(&Plate { cuts: twice, ..plate.clone() });
    let without_idle = |s: Result<Summary, _>| s.map(|summary| Summary { idle: vec![], ..summary });
    prop_assert_eq!(without_idle(expected), without_idle(twice), "written twice, other order");
    Ok(())
}

fn turned_over(plate: &Plate) -> Plate {
    let cuts = plate.cuts.iter().map(|c| Cut { face: c.face.opposite(), ..c.clone() }).collect();
    Plate { cuts, ..plate.clone() }
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn nothing_depends_on_place_order_or_writing(
        plate in grid_plate(), angle in 0.0..6.0, x in -1e3..1e3
    ) {
        depends_on_nothing_else(&plate, angle, x)?;
    }

    #[test]
    fn turning_the_plate_over_changes_nothing(plate in grid_plate()) {
        prop_assert_eq!(summary(&plate), summary(&turned_over(&plate)));
    }

    #[test]
    fn a_further_cut_never_adds_material(plate in grid_plate()) {
        let tol = Tolerance::default();
        let Ok(all) = arrange(&plate, &tol) else { return Ok(()) };
        let fewer = plate.cuts.iter().skip(1).cloned().collect();
        let Ok(fewer) = arrange(&Plate { cuts: fewer, ..plate }, &tol) else { return Ok(()) };
        prop_assert!(all.volume() <= fewer.volume() + 1e-6);
    }

    #[test]
    fn an_idle_cut_can_be_left_out(plate in grid_plate()) {
        let Ok(all) = summary(&plate) else { return Ok(()) };
        let Some(&idle) = all.idle.first() else { return Ok(()) };
        let mut without = plate;
        without.cuts.remove(idle);
        let without = summary(&without).expect("what is left was part of an arrangement");
        prop_assert_eq!(Summary { idle: vec![], ..all }, Summary { idle: vec![], ..without });
    }
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn sample_plates_obey_the_same_laws(
        plate in sample_plate(), angle in 0.0..6.0, x in -1e3..1e3
    ) {
        depends_on_nothing_else(&plate, angle, x)?;
        prop_assert_eq!(summary(&plate), summary(&turned_over(&plate)));
    }
}

#[test]
fn most_sample_plates_are_sound_and_no_other_reason_than_tolerance_refuses_one() {
    let tol = Tolerance::default();
    let mut sound = 0;
    for seed in 0..1000 {
        match arrange(&sample::plate(seed), &tol) {
            Ok(a) => sound += usize::from(!a.defects(&tol).iter().any(Defect::is_fatal)),
            Err(Error::NearMiss { .. } | Error::CloseHeights { .. }) => {}
            Err(other) => panic!("seed {seed}: {other}"),
        }
    }
    assert!(sound > 600, "{sound} of 1000");
}

#[test]
fn sample_bodies_of_revolution_are_sound() {
    for seed in 0..1000 {
        let body = sample::turned(seed);
        if let Err(refusal) = body.check() {
            panic!("seed {seed}: {refusal}: {body:?}");
        }
    }
}

#[test]
fn samples_are_the_same_everywhere() {
    let sizes: Vec<_> = (0..4)
        .map(|seed| {
            let plate = sample::plate(seed);
            let [lo, hi] = plate.outline.bounds().expect("an outline");
            (format!("{:.6}", hi - lo), plate.cuts.len())
        })
        .collect();
    let expected = [
        ("[206.719519, 65.022417]", 4),
        ("[304.577345, 244.500000]", 19),
        ("[315.000000, 173.000000]", 31),
        ("[298.000000, 176.500000]", 1),
    ];
    assert_eq!(sizes, expected.map(|(size, cuts)| (size.to_string(), cuts)));
}

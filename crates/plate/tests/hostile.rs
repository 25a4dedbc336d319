//! Guards that nonsense is refused by name, never by a panic or a hang.

use glam::{DVec2, dvec2};
use plate::{Arc, Contour, Cut, Face, Plate, Section, Segment, Tolerance, arrange, flat_pattern};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Numbers that break things: huge, tiny, not numbers, nearly equal, and ordinary ones.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => (-5..5_i32).prop_map(f64::from),
        2 => -10.0..10.0_f64,
        1 => (-5..5_i32, -2e-4..2e-4_f64).prop_map(|(x, off)| f64::from(x) + off),
        1 => prop::sample::select(vec![
            f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE, 1e-300, 1e9,
            1e6, 1e-7, -0.0,
        ]),
    ]
}

fn sane() -> impl Strategy<Value = f64> {
    prop_oneof![(-5..5_i32).prop_map(f64::from), -5.0..5.0_f64]
}

fn point(number: impl Strategy<Value = f64> + Clone) -> impl Strategy<Value = DVec2> {
    (number.clone(), number).prop_map(|(x, y)| dvec2(x, y))
}

/// Any pieces, closed or not.
fn pieces() -> impl Strategy<Value = Contour> {
    let number = number().boxed();
    let arc = prop::option::of((point(number.clone()), number.clone()));
    let piece = (point(number.clone()), point(number), arc).prop_map(|(start, end, arc)| Segment {
        start,
        end,
        arc: arc.map(|(centre, sweep)| Arc { centre, sweep }),
    });
    prop::collection::vec(piece, 0..5).prop_map(Contour)
}

/// Closed contours of lines and consistent arcs, mostly crossing themselves.
fn closed() -> impl Strategy<Value = Contour> {
    let corner = (point(sane().boxed()), prop::option::of(-6.0..6.0_f64));
    prop::collection::vec(corner, 1..7).prop_map(|corners| {
        let n = corners.len();
        let piece = |i: usize| {
            let ((start, sweep), end) = (corners[i], corners[(i + 1) % n].0);
            let Some(sweep) = sweep else { return Segment::line(start, end) };
            let half = 0.5 * (end - start);
            let centre = start + half + half.perp() / (0.5 * sweep).tan();
            Segment { start, end, arc: Some(Arc { centre, sweep }) }
        };
        Contour((0..n).map(piece).collect())
    })
}

/// What the constructors make of bad arguments.
fn constructed() -> impl Strategy<Value = Contour> {
    let n = number().boxed();
    (point(n.clone()), point(n.clone()), n, 0..5).prop_map(|(a, b, r, kind)| match kind {
        0 => Contour::circle(a, r),
        1 => Contour::slot(a, b, r),
        2 => Contour::rounded_rectangle(a, b, r),
        3 => Contour::rounded_polygon(&[(a, r), (b, 1.0), (a, 0.5)]),
        _ => Contour::rectangle(a, b),
    })
}

fn contour() -> impl Strategy<Value = Contour> {
    prop_oneof![1 => pieces(), 4 => closed(), 2 => constructed()]
}

fn plate() -> impl Strategy<Value = Plate> {
    let cut = (contour(), any::<bool>(), number()).prop_map(|(contour, top, depth)| {
        Cut::pocket(contour, if top { Face::Top } else { Face::Bottom }, depth)
    });
    let outline = prop_oneof![
        1 => contour(),
        2 => Just(Contour::rectangle(DVec2::splat(-6.0), DVec2::splat(6.0))),
    ];
    (outline, number(), prop::collection::vec(cut, 0..4))
        .prop_map(|(outline, thickness, cuts)| Plate { cuts, ..Plate::new(outline, thickness) })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 10000,
        rng_seed: RngSeed::Fixed(7),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn no_plate_makes_it_panic(plate in plate()) {
        let tol = Tolerance::default();
        match arrange(&plate, &tol) {
            Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
            Ok(a) => {
                prop_assert!(a.volume().is_finite());
                let section = Section::new(&a);
                prop_assert!(section.is_none_or(|s| s.ixx_mm4.is_finite()));
                let _ = flat_pattern(&plate, &a);
                prop_assert!(a.defects(&tol).iter().all(|d| !d.to_string().is_empty()));
            }
        }
    }

    #[test]
    fn crossing_contours_are_arranged_or_refused(cuts in prop::collection::vec(closed(), 1..4)) {
        let plate = Plate {
            cuts: cuts.into_iter().map(Cut::through).collect(),
            ..Plate::new(Contour::rectangle(DVec2::splat(-6.0), DVec2::splat(6.0)), 3.0)
        };
        if let Ok(a) = arrange(&plate, &Tolerance::default()) {
            prop_assert!((-1e-6..=432.0 + 1e-6).contains(&a.volume()), "{}", a.volume());
        }
    }
}

//! Laws of the pieces, on random plates and turned bodies.

use glam::{DVec2, DVec3};
use plate::{Arrangement, Contour, Cut, Face, Plate, Shape, Tolerance, Turned, arrange, sample};

use super::outline::{chords, tangents};
use super::*;

/// Volume of a prism: both ends have the same corners, counter-clockwise.
fn prism(piece: &Convex) -> f64 {
    let n = piece.points.len() / 2;
    let corner = |k: usize| piece.points[k % n].truncate() - piece.points[0].truncate();
    let double: f64 = (0..n).map(|k| corner(k).perp_dot(corner(k + 1))).sum();
    0.5 * double * (piece.max.z - piece.min.z)
}

fn volume_of_prisms(pieces: &[Convex]) -> f64 {
    pieces.iter().map(prism).sum()
}

/// Volume of the hull of a piece. (The hull of a sliver may fail in this library, so it is only used for turned bodies.)
fn volume(piece: &Convex) -> f64 {
    use parry3d_f64::mass_properties::MassProperties;
    use parry3d_f64::transformation::convex_hull;
    let (points, faces) = convex_hull(&piece.points);
    MassProperties::from_trimesh(1.0, &points, &faces).mass()
}

fn volume_of(pieces: &[Convex]) -> f64 {
    pieces.iter().map(volume).sum()
}

fn nobody(_: [DVec3; 2]) -> Vec<[DVec3; 2]> {
    Vec::new()
}

fn plates() -> impl Iterator<Item = (u64, Plate, Arrangement)> {
    (0..400_u64).filter_map(|seed| {
        let plate = sample::plate(seed);
        let arrangement = arrange(&plate, &Tolerance::default()).ok()?;
        Some((seed, plate, arrangement))
    })
}

/// How much the chords of arcs may change a volume: chord error times the area of the round walls.
fn chord_bound(arrangement: &Arrangement, error: f64) -> f64 {
    let round = arrangement.edges.iter().filter(|e| e.arc.is_some());
    let thickness = arrangement.cells.iter().flatten().fold(0.0, |t: f64, c| t.max(c[1]));
    round.map(|e| arrangement.segment(e).length() * thickness * error).sum()
}

#[test]
fn fine_pieces_of_random_plates_have_the_volume_of_the_arrangement() {
    let mut n = 0;
    for (seed, plate, arrangement) in plates() {
        let pieces = Source::of(&Shape::Sheet(plate)).fine();
        let (got, exact) = (volume_of_prisms(&pieces), arrangement.volume());
        let bound = chord_bound(&arrangement, FINE_CHORD_MM) + 1e-9 * exact;
        assert!((got - exact).abs() <= bound, "plate {seed}: {got} against {exact}, {bound}");
        n += 1;
    }
    assert!(n > 250, "{n}");
}

#[test]
fn plates_without_arcs_are_exact() {
    let mut n = 0;
    for (seed, plate, arrangement) in plates() {
        if arrangement.edges.iter().any(|e| e.arc.is_some()) {
            continue;
        }
        let got = volume_of_prisms(&Source::of(&Shape::Sheet(plate)).fine());
        let exact = arrangement.volume();
        assert!((got - exact).abs() <= 1e-9 * exact, "plate {seed}: {got} against {exact}");
        n += 1;
    }
    assert!(n > 5, "{n}");
}

#[test]
fn every_corner_of_a_piece_is_one_of_its_hull() {
    for (seed, plate, _) in plates().take(100) {
        for piece in Source::of(&Shape::Sheet(plate)).fine() {
            // A prism over a convex polygon: going round, every corner turns left.
            let n = piece.points.len() / 2;
            let corner = |k: usize| piece.points[k % n].truncate();
            for k in 0..n {
                let (a, b, c) = (corner(k), corner(k + 1), corner(k + 2));
                let along = c - a;
                assert!(along.perp_dot(b - a) / along.length() < 2e-9, "plate {seed}");
            }
        }
    }
}

/// Whether a point is in the hull of a piece, by the gap to it.
fn holds(pieces: &[Convex], p: DVec3, margin: f64) -> bool {
    pieces.iter().any(|piece| {
        p.cmpge(piece.min - margin).all()
            && p.cmple(piece.max + margin).all()
            && crate::nearest::nearest(&piece.points, &[p]).gap_mm <= margin
    })
}

/// Points within the pieces: random mixtures of their corners.
fn points_within(pieces: &[Convex], dice: &mut u64, n: usize) -> Vec<DVec3> {
    let mut roll = || {
        *dice =
            dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (*dice >> 33) as f64 / (1_u64 << 31) as f64
    };
    (0..n)
        .map(|_| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share")]
            let piece = &pieces[(roll() * pieces.len() as f64) as usize];
            let weights: Vec<f64> = piece.points.iter().map(|_| roll().powi(4)).collect();
            let sum: f64 = weights.iter().sum();
            piece.points.iter().zip(&weights).map(|(p, w)| *p * (w / sum)).sum()
        })
        .collect()
}

#[test]
fn coarse_pieces_hold_all_of_the_fine_ones() {
    let mut dice = 7;
    for (seed, plate, arrangement) in plates().take(200) {
        let shape = Shape::Sheet(plate);
        let source = Source::of(&shape);
        let (fine, coarse) = (source.fine(), source.coarse(Openings::Fill, &nobody));
        let straight = arrangement.edges.iter().all(|e| e.arc.is_none());
        // Chords of the fine pieces cut into holes, by up to their error.
        let margin = if straight { 1e-9 } else { FINE_CHORD_MM };
        for p in points_within(&fine, &mut dice, 40) {
            assert!(holds(&coarse, p, margin), "plate {seed} at {p}");
        }
        for p in fine.iter().flat_map(|piece| &piece.points) {
            assert!(holds(&coarse, *p, margin), "plate {seed} at corner {p}");
        }
    }
    for seed in 0..100 {
        let turned = sample::turned(seed);
        if turned.check().is_err() {
            continue;
        }
        let shape = Shape::Turned(turned);
        let source = Source::of(&shape);
        let (fine, coarse) = (source.fine(), source.coarse(Openings::Fill, &nobody));
        // Fine pieces are drawn around circles too, by up to their chord error.
        for p in points_within(&fine, &mut dice, 40) {
            assert!(holds(&coarse, p, FINE_CHORD_MM), "turned {seed} at {p}");
        }
    }
}

#[test]
fn coarse_pieces_hold_arcs_themselves() {
    // Points on true circles, which no chord of the fine pieces reaches.
    for diameter in [5.0, 60.0, 200.0] {
        let post = Shape::Sheet(Plate::new(Contour::circle(DVec2::ZERO, 0.5 * diameter), 4.0));
        let rod = Shape::Turned(Turned::cylinder(diameter, 4.0));
        for shape in [post, rod] {
            let coarse = Source::of(&shape).coarse(Openings::Fill, &nobody);
            for k in 0..720 {
                let p = DVec2::from_angle(f64::from(k) * 0.0123) * 0.5 * diameter;
                assert!(holds(&coarse, p.extend(2.0), 1e-9), "{diameter}");
            }
        }
    }
}

#[test]
fn turned_pieces_have_the_volume_of_the_body() {
    let mut n = 0;
    for seed in 0..200 {
        let turned = sample::turned(seed);
        if turned.check().is_err() {
            continue;
        }
        // Area of all round walls, generously: circumference times length of the side.
        let wall = |[p, q]: [DVec2; 2]| std::f64::consts::TAU * p.x.max(q.x) * p.distance(q);
        let bound = FINE_CHORD_MM * turned.sides().map(wall).sum::<f64>();
        let exact = turned.volume_mm3();
        let got = volume_of(&Source::of(&Shape::Turned(turned)).fine());
        assert!((got - exact).abs() <= bound, "turned {seed}: {got} against {exact}, {bound}");
        n += 1;
    }
    assert!(n > 100, "{n}");
}

#[test]
fn a_frame_is_four_boxes_and_a_comb_is_one_when_nothing_is_between_its_teeth() {
    let mut frame = Plate::new(Contour::rectangle(DVec2::ZERO, DVec2::new(400.0, 300.0)), 8.0);
    frame.cuts.push(Cut::through(Contour::rectangle(DVec2::splat(50.0), DVec2::splat(250.0))));
    let shape = Shape::Sheet(frame);
    assert_eq!(Source::of(&shape).fine().len(), 4);
    assert_eq!(Source::of(&shape).coarse(Openings::Fill, &nobody).len(), 4);

    let mut comb = Plate::new(Contour::rectangle(DVec2::ZERO, DVec2::new(400.0, 300.0)), 8.0);
    comb.cuts.extend((0..20).map(|k| {
        let x = 10.0 + 18.0 * f64::from(k);
        Cut::through(Contour::rectangle(DVec2::new(x, 250.0), DVec2::new(x + 6.0, 310.0)))
    }));
    comb.cuts.push(Cut::pocket(Contour::circle(DVec2::splat(100.0), 8.0), Face::Top, 3.0));
    let shape = Shape::Sheet(comb);
    let source = Source::of(&shape);
    assert_eq!(source.coarse(Openings::Fill, &nobody).len(), 1);
    assert!(source.fine().len() > 21);
    assert!(
        source.coarse(Openings::Fill, &|room| vec![room]).len() > 21,
        "what is between the teeth keeps them apart"
    );
}

#[test]
fn chords_are_as_many_as_their_error_asks_for() {
    for radius in [0.5, 5.0, 90.0, 2000.0] {
        for error in [0.02, 0.25, 1.0] {
            let n = chords(radius, std::f64::consts::TAU, error) as f64;
            let half = std::f64::consts::PI / n;
            assert!(radius * (1.0 - half.cos()) <= error * 1.000_001);
            let n = tangents(radius, std::f64::consts::TAU, error) as f64;
            let half = std::f64::consts::PI / n;
            assert!(radius * (1.0 / half.cos() - 1.0) <= error * 1.000_001 || n <= 6.0);
        }
    }
}

#[test]
fn an_opening_through_which_something_may_come_stays_open_however_narrow() {
    let mut rim = Plate::new(Contour::rectangle(DVec2::ZERO, DVec2::new(400.0, 300.0)), 8.0);
    let hole = Contour::rectangle(DVec2::new(50.0, 131.0), DVec2::new(250.0, 169.0));
    rim.cuts.push(Cut::through(hole));
    // A notch in its edge is a gap between two teeth.
    let notch = Contour::rectangle(DVec2::new(300.0, 250.0), DVec2::new(338.0, 310.0));
    rim.cuts.push(Cut::through(notch));
    rim.cuts.push(Cut::pocket(Contour::circle(DVec2::new(370.0, 50.0), 8.0), Face::Top, 3.0));
    let shape = Shape::Sheet(rim);
    let source = Source::of(&shape);
    let open = source.coarse(Openings::Stay(20.0), &nobody);
    for p in [DVec3::new(150.0, 150.0, 4.0), DVec3::new(319.0, 290.0, 4.0)] {
        assert!(!holds(&open, p, 1e-9), "{p}");
        assert!(holds(&source.coarse(Openings::Fill, &nobody), p, 1e-9), "{p}");
    }
    // What is only cut into it is filled, and what is too small for anything: nothing passes there.
    let mut lid = Plate::new(Contour::rectangle(DVec2::ZERO, DVec2::new(400.0, 300.0)), 8.0);
    lid.cuts.push(Cut::through(Contour::circle(DVec2::splat(100.0), 8.0)));
    let lid = Shape::Sheet(lid);
    assert_eq!(Source::of(&lid).coarse(Openings::Stay(20.0), &nobody).len(), 1);
    assert!(Source::of(&lid).coarse(Openings::Stay(16.0), &nobody).len() > 1);
    assert!(holds(&open, DVec3::new(370.0, 50.0, 6.5), 1e-9));
}

//! Guards the rules around the plate: corners of openings, large deflections, contours, and where the theory ends.

mod common;

use bending::{
    CornerStress, Depth, Doubt, Error, InPlane, NotAssessed, Opening, Plate, Pressure, Rect, bend,
    corner_stress, doubts, stretched,
};
use common::levy::{Edge, FREE, Levy};
use common::{close, solved, supports, unit};

/// A leaf of 600 by 400 by 8 mm with a door in it.
fn leaf(radius: f64) -> Plate {
    let mut plate = Plate::new([0.6, 0.4], 0.008, 3.2e9, 0.37).with_edges(supports("SSSF"));
    let rect = Rect { x: [0.2, 0.35], y: [0.15, 0.25] };
    plate.openings.push(Opening { rect, radius });
    plate
}

fn full() -> [Vec<Pressure>; 1] {
    [vec![Pressure::water(1025.0 * 9.806_65, 0.4)]]
}

/// Largest moment at the corner of this door on a mesh that follows its rounding (Morley's triangles, N·m/m): 89 with a
/// radius of 10 mm, 72 with 20 mm.
#[test]
fn the_rule_is_above_a_mesh_that_follows_the_corner() {
    let gross_moment = most_without_the_door();
    for (radius, found) in [(0.010, 89.0), (0.020, 72.0)] {
        let plate = leaf(radius);
        let CornerStress::Assessed { stress, gross, factor } =
            corner_stress(&plate, 0, &full()).expect("it stands")[0]
        else {
            panic!("it is within the rule")
        };
        let moment = stress / plate.stress(1.0);
        assert!(found < moment && moment < 1.6 * found, "{radius}: {moment}");
        close(gross, plate.stress(gross_moment), 0.005);
        close(stress, factor * gross, 1e-12);
    }
}

/// Largest moment where the door is, in the leaf without it, by Lévy's sum.
fn most_without_the_door() -> f64 {
    let (plate, weight) = (leaf(0.0), 1025.0 * 9.806_65);
    let pressure = [0.4 * weight, -weight];
    let exact = Levy::new(plate.size, plate.rigidity(), 0.37, [Edge::Hinged, FREE], pressure);
    let places =
        (0..=20).flat_map(|i| (0..=20).map(move |j| (f64::from(i) / 20.0, f64::from(j) / 20.0)));
    let most = |(s, t): (f64, f64)| {
        let (x, y) = (0.2 + 0.15 * s, 0.15 + 0.1 * t);
        let (m_x, m_y) = (exact.m_x(x, y), exact.m_y(x, y));
        0.5 * (m_x + m_y) + (0.5 * (m_x - m_y)).hypot(exact.m_xy(x, y))
    };
    places.map(most).fold(0.0, f64::max)
}

#[test]
fn what_the_rule_does_not_reach_is_said() {
    let reason = |plate: &Plate| match corner_stress(plate, 0, &full()).expect("it stands")[0] {
        CornerStress::NotAssessed(reason) => reason,
        CornerStress::Assessed { .. } => panic!("it should not be"),
    };
    let moved = |x: [f64; 2], y: [f64; 2]| {
        let mut plate = leaf(0.010);
        plate.openings[0].rect = Rect { x, y };
        plate
    };
    assert!(matches!(reason(&leaf(0.005)), NotAssessed::Sharp { .. }));
    assert_eq!(reason(&moved([0.2, 0.35], [0.0, 0.05])), NotAssessed::Notch);
    let near = reason(&moved([0.2, 0.35], [0.02, 0.1]));
    assert!(matches!(near, NotAssessed::Near { what: "an edge", .. }), "{near}");
    assert!(matches!(reason(&moved([0.1, 0.5], [0.1, 0.2])), NotAssessed::Large { .. }));
    let mut two = leaf(0.010);
    two.openings.push(Opening { rect: Rect { x: [0.36, 0.4], y: [0.2, 0.3] }, radius: 0.01 });
    let near = reason(&two);
    assert!(matches!(near, NotAssessed::Near { what: "an opening", .. }));
    assert_eq!(near.to_string(), "10.0 mm from an opening; the rule needs 28.0 mm");
    assert!(matches!(corner_stress(&leaf(0.01), 1, &full()), Err(Error::Outside { .. })));
}

/// Deflection over the linear one by von Kármán's equations, solved for these tests with finite elements (Bogner, Fox, Schmit with
/// biquadratic displacements in the plane, Picard's steps): edges, width over height, water or uniform, in the plane, Poisson's ratio,
/// linear w/t, ratio. The clamped square agrees with Levy 1942 (w/t 0.695, from memory).
#[test]
fn large_deflections_are_near_those_of_von_karman() {
    let cases = [
        ("SSSF", 2.0, true, InPlane::Free, 0.37, 1.03, 0.996),
        ("SSSF", 2.0, true, InPlane::Free, 0.37, 2.05, 0.986),
        ("CCCF", 2.0, true, InPlane::Free, 0.37, 2.13, 0.976),
        ("SSSS", 1.0, false, InPlane::Free, 0.3, 0.44, 0.967),
        ("SSSS", 1.0, false, InPlane::Free, 0.3, 0.89, 0.896),
        ("SSSS", 1.0, false, InPlane::Free, 0.3, 1.77, 0.758),
        ("SSSS", 1.0, false, InPlane::Held, 0.3, 0.89, 0.664),
        ("CCCC", 1.0, false, InPlane::Held, 0.316, 0.867, 0.796),
    ];
    for (edges, a, is_wet, in_plane, nu, depth, want) in cases {
        let plate = Plate::new([a, 1.0], 0.01, 1e9, nu).with_edges(supports(edges));
        let pressure = |p: f64| if is_wet { Pressure::water(p, 1.0) } else { Pressure::uniform(p) };
        let one = solved(&plate, pressure(1.0)).fields[0].deflection.value;
        let bending = solved(&plate, pressure(depth * plate.thickness / one));
        let estimate = stretched(&bending, 0, in_plane).expect("loaded");
        let share = estimate.share;
        assert!((share - want).abs() < 0.025, "{edges} {in_plane:?} {depth}: {share} {want}");
        assert!(share < 1.0 && estimate.most > 0.0);
        if in_plane == InPlane::Free {
            let held = stretched(&bending, 0, InPlane::Held).expect("loaded").share;
            assert!(held < share, "held edges help more");
        }
    }
}

#[test]
fn depths_have_their_names() {
    let depths = [0.0, 0.005, 0.0051, -0.01, 0.02, 0.021].map(|w| Depth::of(w, 0.01));
    use Depth::{Beyond, Deep, Moderate, Small};
    assert_eq!(depths, [Small, Small, Moderate, Moderate, Deep, Beyond]);
    let nothing = bend(&unit(1.0, "SSSS"), &[vec![]]).expect("it stands");
    assert!(stretched(&nothing, 0, InPlane::Free).is_err());
}

#[test]
fn contours_lie_on_their_level_and_skip_openings() {
    let bending = bend(&leaf(0.0), &full()).expect("it stands");
    let deepest = bending.fields[0].deflection.value;
    for part in 1..10 {
        let level = f64::from(part) / 10.0 * deepest;
        let lines = bending.contours(0, level, 4);
        assert!(!lines.is_empty());
        assert_eq!(lines, bending.contours(0, level, 4));
        for line in &lines {
            let ends = [line[0], line[line.len() - 1]];
            let is_closed = (0..2).all(|k| (ends[0][k] - ends[1][k]).abs() < 1e-12);
            let is_on_rim = |[x, y]: [f64; 2]| {
                let on = |at: f64, places: &[f64]| places.iter().any(|p| (at - p).abs() < 1e-9);
                on(x, &[0.0, 0.6, 0.2, 0.35]) || on(y, &[0.0, 0.4, 0.15, 0.25])
            };
            assert!(is_closed || ends.into_iter().all(is_on_rim), "{ends:?}");
            for &at in line {
                let w = bending.deflection_at(0, at).expect("on the plate");
                assert!((w - level).abs() < 2e-3 * deepest, "{at:?}: {w} {level}");
            }
        }
    }
    assert!(bending.contours(0, 1.1 * deepest, 4).is_empty());
    let square = solved(&unit(1.0, "SSSS"), Pressure::uniform(1.0));
    let half = square.contours(0, 0.5 * square.fields[0].deflection.value, 3);
    assert_eq!(half.len(), 1);
    assert_eq!(half[0].first(), half[0].last());
}

#[test]
fn thick_plates_and_narrow_strips_are_doubted() {
    assert_eq!(doubts(&leaf(0.0)), []);
    let mut thick = leaf(0.0);
    thick.size = [0.6, 0.07];
    thick.openings.clear();
    assert!(matches!(doubts(&thick)[..], [Doubt::Thick { .. }]));
    let mut narrow = leaf(0.0);
    narrow.openings[0].rect = Rect { x: [0.2, 0.35], y: [0.02, 0.25] };
    assert!(matches!(doubts(&narrow)[..], [Doubt::Bridge { opening: 0, .. }]));
    narrow.openings[0].rect = Rect { x: [0.2, 0.35], y: [0.0, 0.25] };
    assert_eq!(doubts(&narrow), [], "a notch leaves no strip");
}

/// Peaks are not taken at places without a bound: what is found at a corner grows with the mesh, the peak does not.
#[test]
fn peaks_keep_clear_of_corners() {
    let peaks = [12, 24].map(|across| {
        let mut plate = leaf(0.010);
        plate.mesh.across = across;
        let bending = bend(&plate, &full()).expect("it stands");
        let field = &bending.fields[0];
        let all = field.moments.iter().map(|m| m.principal()[0]).fold(0.0, f64::max);
        [field.front.expect("bounded").value, all]
    });
    close(peaks[1][0], peaks[0][0], 0.03);
    assert!(peaks[1][1] > 1.1 * peaks[0][1], "{peaks:?}");
}

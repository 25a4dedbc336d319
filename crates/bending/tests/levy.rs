//! Guards deflections, moments, reactions and beams against Lévy's exact solution of plates hinged on two sides.

mod common;

use bending::{Along, Line, Plate, Pressure, Support, bend};
use common::levy::{Edge, FREE, Levy};
use common::{UNIT_MODULUS, close, supports, unit};

const ASPECTS: [f64; 6] = [0.5, 1.0, 1.5, 2.0, 3.0, 4.0];

fn edge(letter: &str) -> Edge {
    match letter {
        "S" => Edge::Hinged,
        "C" => Edge::Clamped,
        _ => FREE,
    }
}

/// Largest relative errors of deflection and moments seen, against the largest of their kind in the plate.
#[track_caller]
fn check(a: f64, low: &str, high: &str, p: [f64; 2]) {
    let plate = unit(a, &format!("SS{low}{high}"));
    let exact = Levy::new([a, 1.0], 1.0, 0.3, [edge(low), edge(high)], p);
    // p0 + p1 y as water up to the place where it would be nought, or as a uniform part and the rest.
    let loads = vec![Pressure::uniform(p[0] + p[1]), Pressure::water(-p[1], 1.0)];
    let bending = bend(&plate, &[loads]).expect("it stands");
    let field = &bending.fields[0];
    let mut worst = [0.0_f64; 3];
    let mut most = [0.0_f64; 3];
    let middle = 0.5 * a;
    for i in [0.1, 0.25, 0.5] {
        for j in 0..=16 {
            let at = [i * a, f64::from(j) / 16.0];
            let want = [exact.w(at[0], at[1]), exact.m_x(at[0], at[1]), exact.m_y(at[0], at[1])];
            most = std::array::from_fn(|k| most[k].max(want[k].abs()));
            let w = bending.deflection_at(0, at).expect("on the plate");
            worst[0] = worst[0].max((w - want[0]).abs());
        }
    }
    for node in (0..bending.grid.nodes()).filter(|&node| !field.is_unbounded[node]) {
        let [x, y] = bending.grid.place(node);
        let moment = field.moments[node];
        worst[1] = worst[1].max((moment.x - exact.m_x(x, y)).abs());
        worst[2] = worst[2].max((moment.y - exact.m_y(x, y)).abs());
    }
    let limits = [1e-3, 1e-2, 1e-2];
    for k in 0..3 {
        let share = worst[k] / most[k];
        assert!(share < limits[k], "SS{low}{high} {a} {p:?}: {k} is {share:.4} off");
    }
    let low_force = field.reactions.lines[2].force[bending.grid.xs.len() / 2];
    let at = field.reactions.lines[2].s[bending.grid.xs.len() / 2];
    assert!((at - middle).abs() < 0.1 * a);
    close(low_force, exact.low_force(at), 0.02);
    close(field.reactions.total, field.load, 1e-9);
}

#[test]
fn plates_hinged_at_the_sides_under_uniform_and_falling_pressure() {
    for a in ASPECTS {
        for (low, high) in [("S", "S"), ("S", "F"), ("C", "F"), ("C", "S"), ("C", "C")] {
            check(a, low, high, [1.0, 0.0]);
            check(a, low, high, [1.0, -1.0]);
        }
    }
}

/// A rim: deflection and moment of the beam and the plate, over stiffnesses from next to nothing to rigid.
#[test]
fn beams_along_the_top() {
    for a in [1.0, 2.0, 4.0] {
        for (ei, gj) in [(0.1, 0.0), (1.0, 0.0), (5.0, 0.3), (20.0, 2.0), (1e4, 0.0)] {
            let mut plate = unit(a, "SSSF");
            let support = Support::Beam { ei, gj };
            plate.lines.push(Line { along: Along::X, at: 1.0, span: [0.0, a], support });
            let field = common::field(&plate, common::water());
            let high = Edge::Elastic { ei, gj, k: 0.0, kr: 0.0 };
            let exact = Levy::new([a, 1.0], 1.0, 0.3, [Edge::Hinged, high], [1.0, -1.0]);
            let beam = &field.reactions.lines[3];
            close(beam.most_beam.expect("it bends").value, exact.beam(0.5 * a, ei), 2e-3);
            let middle = beam.s.iter().position(|s| (s - 0.5 * a).abs() < 1e-9).expect("a node");
            close(beam.force[middle], exact.high_force(0.5 * a), 0.02);
            let bending = common::solved(&plate, common::water());
            let w = bending.deflection_at(0, [0.5 * a, 1.0]).expect("on the plate");
            close(w, exact.w(0.5 * a, 1.0), 1e-3);
            let m = bending.moment_at(0, [0.5 * a, 0.5]).expect("on the plate");
            let close_to =
                |got: f64, want: f64| assert!((got - want).abs() < 1e-3 * 0.2, "{got} {want}");
            close_to(m.x, exact.m_x(0.5 * a, 0.5));
            close_to(m.y, exact.m_y(0.5 * a, 0.5));
        }
    }
}

/// Elastic lines: what they take and how the plate turns on them.
#[test]
fn springs_along_the_top() {
    for (k, kr) in [(1.0, 0.0), (30.0, 0.0), (30.0, 4.0), (1e3, 50.0)] {
        let mut plate = unit(2.0, "SSSF");
        let support = Support::Spring { k, kr };
        plate.lines.push(Line { along: Along::X, at: 1.0, span: [0.0, 2.0], support });
        let bending = common::solved(&plate, common::water());
        let high = Edge::Elastic { ei: 0.0, gj: 0.0, k, kr };
        let exact = Levy::new([2.0, 1.0], 1.0, 0.3, [Edge::Hinged, high], [1.0, -1.0]);
        close(bending.deflection_at(0, [1.0, 1.0]).expect("there"), exact.w(1.0, 1.0), 1e-3);
        let spring = &bending.fields[0].reactions.lines[3];
        let middle = spring.s.iter().position(|s| (s - 1.0).abs() < 1e-9).expect("a node");
        close(spring.force[middle], k * exact.w(1.0, 1.0), 1e-3);
        if kr > 0.0 {
            close(spring.moment[middle], exact.m_y(1.0, 1.0), 5e-3);
        }
        close(bending.fields[0].reactions.total, bending.fields[0].load, 1e-9);
    }
}

/// The same plate lying on its side, and mirrored, is the same plate.
#[test]
fn turned_and_mirrored() {
    let upright = common::field(&unit(2.0, "SSCF"), Pressure::uniform(1.0));
    let turned = Plate::new([1.0, 2.0], 1e-3, UNIT_MODULUS, 0.3).with_edges(supports("CFSS"));
    let turned = common::field(&turned, Pressure::uniform(1.0));
    let mirrored = common::field(&unit(2.0, "SSFC"), Pressure::uniform(1.0));
    for other in [&turned, &mirrored] {
        close(other.deflection.value, upright.deflection.value, 1e-9);
        close(other.front.expect("bounded").value, upright.front.expect("bounded").value, 1e-9);
        close(other.back.expect("bounded").value, upright.back.expect("bounded").value, 1e-9);
    }
    close(turned.reactions.lines[0].total, upright.reactions.lines[2].total, 1e-9);
    close(mirrored.reactions.lines[2].total, upright.reactions.lines[2].total, 1e-9);
}

//! Guards what must hold of any plate: limits of its supports, scaling, equilibrium, convergence, and that a loose plate is refused.

mod common;

use bending::{
    Along, Error, Hold, Line, Mesh, Opening, Plate, Point, Pressure, Rect, Support, bend,
};
use common::levy::{Edge, FREE, Levy};
use common::{close, field, solved, unit, water};

fn along_top(a: f64, support: Support) -> Line {
    Line { along: Along::X, at: 1.0, span: [0.0, a], support }
}

#[test]
fn a_rim_without_stiffness_is_a_free_edge_and_a_stiff_one_a_support() {
    let with = |ei: f64| {
        let mut plate = unit(2.0, "SSSF");
        plate.lines.push(along_top(2.0, Support::Beam { ei, gj: 0.0 }));
        field(&plate, water())
    };
    let (free, held) = (field(&unit(2.0, "SSSF"), water()), field(&unit(2.0, "SSSS"), water()));
    close(with(0.0).deflection.value, free.deflection.value, 1e-12);
    close(with(1e7).deflection.value, held.deflection.value, 1e-4);
    close(with(1e7).front.expect("bounded").value, held.front.expect("bounded").value, 1e-4);
}

#[test]
fn a_hinged_edge_with_a_beam_that_does_not_twist_is_clamped() {
    let mut plate = unit(2.0, "SSSS");
    plate.lines.push(along_top(2.0, Support::Beam { ei: 0.0, gj: 1e7 }));
    let clamped = field(&unit(2.0, "SSSC"), water());
    let twisted = field(&plate, water());
    close(twisted.deflection.value, clamped.deflection.value, 1e-3);
    close(twisted.back.expect("bounded").value, clamped.back.expect("bounded").value, 5e-3);
}

#[test]
fn stiff_springs_are_rigid_and_none_are_none() {
    let with = |k: f64, kr: f64| {
        let mut plate = unit(1.5, "SSSF");
        plate.lines.push(along_top(1.5, Support::Spring { k, kr }));
        field(&plate, water()).deflection.value
    };
    let like = |edges: &str| field(&unit(1.5, edges), water()).deflection.value;
    close(with(0.0, 0.0), like("SSSF"), 1e-12);
    close(with(1e8, 0.0), like("SSSS"), 1e-4);
    close(with(1e8, 1e8), like("SSSC"), 1e-4);
    let point = |hold: Hold| {
        let mut plate = unit(1.5, "SSSF");
        plate.points.push(Point { at: [0.75, 1.0], hold });
        field(&plate, water()).deflection.value
    };
    close(point(Hold::Spring(1e9)), point(Hold::Rigid), 1e-4);
}

#[test]
fn load_doubled_doubles_everything_and_turned_it_turns_everything() {
    let mut plate = unit(2.0, "SCSF");
    plate.openings.push(Opening { rect: Rect { x: [0.5, 0.8], y: [0.3, 0.5] }, radius: 0.0 });
    plate.lines.push(along_top(2.0, Support::Beam { ei: 3.0, gj: 0.5 }));
    let cases = [1.0, 2.0, -1.0].map(|f| vec![Pressure::water(f, 0.9), Pressure::uniform(0.1 * f)]);
    let bending = bend(&plate, &cases).expect("it stands");
    let [one, two, turned] = &bending.fields[..] else { panic!("three cases") };
    close(two.deflection.value, 2.0 * one.deflection.value, 1e-12);
    close(two.work, 4.0 * one.work, 1e-12);
    close(turned.deflection.value, -one.deflection.value, 1e-12);
    let value = |peak: Option<bending::Peak>| peak.expect("bounded").value;
    close(value(two.front), 2.0 * value(one.front), 1e-12);
    close(value(turned.front), value(one.back), 1e-12);
    for ((one, two), turned) in
        one.reactions.lines.iter().zip(&two.reactions.lines).zip(&turned.reactions.lines)
    {
        close(two.total, 2.0 * one.total, 1e-9);
        close(turned.total, -one.total, 1e-9);
    }
}

/// A softer material of plate and rim alike (creep) deflects more and carries the same.
#[test]
fn a_softer_material_only_deflects_more() {
    let with = |softer: f64| {
        let mut plate = unit(2.0, "SSSF");
        plate.modulus /= softer;
        plate.lines.push(along_top(2.0, Support::Beam { ei: 3.0 / softer, gj: 0.0 }));
        field(&plate, water())
    };
    let (one, soft) = (with(1.0), with(2.5));
    close(soft.deflection.value, 2.5 * one.deflection.value, 1e-9);
    close(soft.front.expect("bounded").value, one.front.expect("bounded").value, 1e-9);
}

#[test]
fn a_vanishing_opening_leaves_the_plain_plate() {
    let plain = field(&unit(1.5, "SSSF"), water());
    let with = |side: f64| {
        let mut plate = unit(1.5, "SSSF");
        let rect = Rect { x: [0.6, 0.6 + side], y: [0.4, 0.4 + side] };
        plate.openings.push(Opening { rect, radius: 0.0 });
        field(&plate, water()).deflection.value
    };
    let off = |side: f64| (with(side) / plain.deflection.value - 1.0).abs();
    assert!(off(0.01) < 1e-3 && off(0.01) < off(0.1), "{} {}", off(0.01), off(0.1));
}

/// The water's surface inside a cell, and pressure on a part: by superposition of exact loads.
#[test]
fn partly_wet_cells_and_parts() {
    let plate = unit(2.0, "SSSF");
    let level = 0.777;
    let lower = Rect { x: [0.0, 2.0], y: [0.0, level] };
    let cases = [
        vec![Pressure::water(1.0, level)],
        // The same as a uniform pressure on the wet part less the water's shadow below it.
        vec![
            Pressure::uniform(level).within(lower),
            Pressure::water(1.0, 1.0).within(lower),
            Pressure::uniform(-1.0).within(lower),
        ],
        vec![Pressure::water(1.0, 0.6), Pressure::water(-1.0, 0.4)],
        vec![Pressure::uniform(3.0).within(Rect { x: [0.3, 0.71], y: [0.22, 0.58] })],
    ];
    let bending = bend(&plate, &cases).expect("it stands");
    close(bending.fields[0].load, 2.0 * level * level / 2.0, 1e-12);
    close(bending.fields[2].load, 2.0 * (0.36 - 0.16) / 2.0, 1e-12);
    close(bending.fields[3].load, 3.0 * 0.41 * 0.36, 1e-12);
    // level − y = level + (1 − y) − 1 … less what is wrong: level·1 + (1 − y) − 1 = level − y.
    close(bending.fields[1].deflection.value, bending.fields[0].deflection.value, 1e-12);
    for field in &bending.fields {
        close(field.reactions.total, field.load, 1e-9);
    }
}

/// Cells halved, error at least quartered: of the deflection, of a moment inside, of a clamped edge, of a reaction.
#[test]
fn it_converges() {
    for (edges, low, high) in [("SSCF", Edge::Clamped, FREE), ("SSSS", Edge::Hinged, Edge::Hinged)]
    {
        let exact = Levy::new([1.0, 1.0], 1.0, 0.3, [low, high], [1.0, 0.0]);
        let errors = [6, 12, 24].map(|across| {
            let mut plate = unit(1.0, edges);
            plate.mesh = Mesh { across, least: 1, grading: 0.0, ..Mesh::default() };
            let bending = solved(&plate, Pressure::uniform(1.0));
            let at = [0.5, 0.5];
            let moment = bending.moment_at(0, at).expect("there");
            let bottom = bending.moment_at(0, [0.5, 0.0]).expect("there").y;
            let force = &bending.fields[0].reactions.lines[2];
            [
                bending.deflection_at(0, at).expect("there") - exact.w(0.5, 0.5),
                moment.x - exact.m_x(0.5, 0.5),
                bottom - exact.m_y(0.5, 0.0),
                force.force[force.s.len() / 2] - exact.low_force(0.5),
            ]
            .map(f64::abs)
        });
        let [coarse, fine, finest] = errors;
        for (k, ((coarse, fine), finest)) in coarse.into_iter().zip(fine).zip(finest).enumerate() {
            // What is exact to the last digits of the series cannot shrink.
            let floor = if k == 3 { 2e-3 } else { 1e-7 };
            assert!(fine < 0.25 * coarse + floor, "{edges} {k}: {coarse:e} {fine:e}");
            assert!(finest < 0.25 * fine + floor, "{edges} {k}: {fine:e} {finest:e}");
        }
        let order = (errors[0][0] / errors[1][0]).log2();
        assert!(order > 3.4, "deflection converges with order {order}");
    }
}

#[test]
fn a_loose_plate_is_refused_with_a_place() {
    let moves = |plate: &Plate| match bend(plate, &[vec![Pressure::uniform(1.0)]]) {
        Err(Error::Moves { at }) => {
            assert!((0.0..=plate.size[0]).contains(&at[0]) && (0.0..=1.0).contains(&at[1]));
            true
        }
        _ => false,
    };
    assert!(moves(&unit(1.0, "FFFF")));
    assert!(moves(&unit(1.0, "FFSF")), "a door on one hinge swings");
    assert!(!moves(&unit(1.0, "FFCF")));
    let held_at = |points: &[[f64; 2]]| {
        let mut plate = unit(1.0, "FFFF");
        plate.points.extend(points.iter().map(|&at| Point { at, hold: Hold::Rigid }));
        plate
    };
    assert!(moves(&held_at(&[[0.2, 0.2], [0.8, 0.8]])), "a door on two screws turns");
    assert!(moves(&held_at(&[[0.2, 0.2], [0.5, 0.5], [0.8, 0.8]])), "three in a line too");
    assert!(!moves(&held_at(&[[0.2, 0.2], [0.8, 0.2], [0.5, 0.8]])));
    let mut cut = unit(1.0, "SSFF");
    cut.lines.truncate(1);
    cut.lines.push(along_top(1.0, Support::Hinge));
    assert!(!moves(&cut));
    cut.openings.push(Opening { rect: Rect { x: [0.0, 1.0], y: [0.4, 0.6] }, radius: 0.0 });
    assert!(moves(&cut), "both halves swing");
    assert!(bend(&unit(1.0, "FFFF"), &[]).is_err(), "also without a load");
}

#[test]
fn nonsense_is_refused() {
    let value = |plate: &Plate| matches!(bend(plate, &[]), Err(Error::Value { .. }));
    let outside = |plate: &Plate| matches!(bend(plate, &[]), Err(Error::Outside { .. }));
    let good = unit(1.0, "SSSS");
    for broken in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(value(&Plate { thickness: broken, ..good.clone() }));
        assert!(value(&Plate { modulus: broken, ..good.clone() }));
        assert!(value(&Plate { size: [broken, 1.0], ..good.clone() }));
    }
    assert!(value(&Plate { poisson: 0.6, ..good.clone() }));
    let mut plate = good.clone();
    plate.lines.push(along_top(1.0, Support::Beam { ei: -1.0, gj: 0.0 }));
    assert!(value(&plate));
    let mut plate = good.clone();
    plate.lines.push(Line { at: 1.2, ..along_top(1.0, Support::Hinge) });
    assert!(outside(&plate));
    let mut plate = good.clone();
    plate.openings.push(Opening { rect: Rect { x: [0.5, 0.4], y: [0.2, 0.3] }, radius: 0.0 });
    assert!(outside(&plate));
    let nan = [vec![Pressure::uniform(f64::NAN)]];
    assert!(matches!(bend(&good, &nan), Err(Error::Value { .. })));
    let mut crowded = good.clone();
    crowded.mesh.across = 200;
    crowded.mesh.grading = 0.0;
    assert!(matches!(bend(&crowded, &[]), Err(Error::TooFine { .. })));
}

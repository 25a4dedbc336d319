//! Guards coefficients against published tables, and the limits that formulas of strips give.
//!
//! Tables 8 and 35 of Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, were found quoted alike in several
//! places; those of Roark were read in copies of chapter 11 (case 1a) or are from memory (case 10a, after Moody, USBR
//! Engineering Monograph 27).

mod common;

use bending::{Plate, Pressure, Support, bend};
use common::{UNIT_MODULUS, close, field, printed, solved, supports, unit, water};

/// Timoshenko, table 8: hinged on all edges, uniform load, ν = 0.3. Long over short side; w, M across and along the long side, all at
/// the centre; force per length at the middle of the long and of the short side; corner force.
#[test]
fn hinged_plates_under_uniform_load() {
    let table: [(f64, [f64; 6]); 7] = [
        (1.0, [0.00406, 0.0479, 0.0479, 0.420, 0.420, 0.065]),
        (1.2, [0.00564, 0.0627, 0.0501, 0.455, 0.453, 0.074]),
        (1.5, [0.00772, 0.0812, 0.0498, 0.486, 0.480, 0.085]),
        (1.8, [0.00931, 0.0948, 0.0479, 0.499, 0.491, 0.090]),
        (2.0, [0.01013, 0.1017, 0.0464, 0.503, 0.496, 0.092]),
        (3.0, [0.01223, 0.1189, 0.0406, 0.505, 0.498, 0.093]),
        (4.0, [0.01282, 0.1235, 0.0384, 0.502, 0.500, 0.094]),
    ];
    for (a, want) in table {
        let bending = solved(&unit(a, "SSSS"), Pressure::uniform(1.0));
        let at = [0.5 * a, 0.5];
        let moment = bending.moment_at(0, at).expect("on the plate");
        let reactions = &bending.fields[0].reactions;
        let force = |line: usize| reactions.lines[line].most_force.expect("it holds").value;
        printed("w", bending.deflection_at(0, at).expect("there"), want[0], 1e-5, 0.005);
        printed("M across", moment.y, want[1], 1e-4, 0.005);
        printed("M along", moment.x, want[2], 1e-4, 0.005);
        printed("V long side", force(2), want[3], 1e-3, 0.01);
        printed("V short side", force(0), want[4], 1e-3, 0.01);
        assert_eq!(reactions.corners.len(), 4);
        for corner in &reactions.corners {
            printed("corner", -corner.force, want[5], 1e-3, 0.02);
        }
    }
}

/// Roark's Formulas for Stress and Strain, table 11.4, case 1a: hinged, uniform. `σ = β q b²/t²`, `w = α q b⁴/(E t³)`, `R = γ q b`.
#[test]
fn hinged_plates_of_roark() {
    let table = [
        (1.0, 0.2874, 0.0444, 0.420),
        (1.4, 0.4530, 0.0770, 0.478),
        (2.0, 0.6102, 0.1110, 0.503),
        (3.0, 0.7134, 0.1335, 0.505),
        (5.0, 0.7476, 0.1417, 0.501),
    ];
    for (a, beta, alpha, gamma) in table {
        let plate = unit(a, "SSSS");
        let field = field(&plate, Pressure::uniform(1.0));
        let t = plate.thickness;
        let stress = field.stress(&plate).expect("bounded").value;
        printed("β", stress * t * t, beta, 1e-4, 0.005);
        printed("α", field.deflection.value * UNIT_MODULUS * t * t * t, alpha, 1e-4, 0.005);
        printed("γ", field.reactions.lines[2].most_force.expect("held").value, gamma, 1e-3, 0.01);
    }
}

/// Timoshenko, table 35: clamped on all edges, uniform load, ν = 0.3. Long over short side; w; M at the middle of the long and of the
/// short side; M across and along at the centre.
#[test]
fn clamped_plates_under_uniform_load() {
    let table: [(f64, [f64; 5]); 6] = [
        (1.0, [0.00126, 0.0513, 0.0513, 0.0231, 0.0231]),
        (1.2, [0.00172, 0.0639, 0.0554, 0.0299, 0.0228]),
        (1.4, [0.00207, 0.0726, 0.0568, 0.0349, 0.0212]),
        (1.6, [0.00230, 0.0780, 0.0571, 0.0381, 0.0193]),
        (1.8, [0.00245, 0.0812, 0.0571, 0.0401, 0.0174]),
        (2.0, [0.00254, 0.0829, 0.0571, 0.0412, 0.0158]),
    ];
    for (a, want) in table {
        let bending = solved(&unit(a, "CCCC"), Pressure::uniform(1.0));
        let field = &bending.fields[0];
        let at = [0.5 * a, 0.5];
        let moment = bending.moment_at(0, at).expect("on the plate");
        printed("w", field.deflection.value, want[0], 1e-5, 0.005);
        for line in [2, 3] {
            let most = field.reactions.lines[line].most_moment.expect("clamped");
            printed("M long side", -most.value, want[1], 1e-4, 0.01);
        }
        for line in [0, 1] {
            let most = field.reactions.lines[line].most_moment.expect("clamped");
            printed("M short side", -most.value, want[2], 1e-4, 0.01);
        }
        printed("M across", moment.y, want[3], 1e-4, 0.01);
        printed("M along", moment.x, want[4], 1e-4, 0.01);
    }
}

/// Timoshenko, art. 48: three edges hinged, the top free, uniform, ν = 0.3; height over width, w and M at the middle of the free edge
/// as coefficients of `q a⁴/D`, `q a²` with the width `a` (square 0.01286, 0.112 as quoted by others; all from memory).
#[test]
fn plates_with_a_free_edge() {
    let table = [
        (0.5, 0.00710, 0.060),
        (2.0 / 3.0, 0.00968, 0.083),
        (1.0, 0.01286, 0.112),
        (1.5, 0.01462, 0.128),
        (2.0, 0.01507, 0.132),
    ];
    for (height, w, m) in table {
        let plate = Plate::new([1.0, height], 1e-3, UNIT_MODULUS, 0.3).with_edges(supports("SSSF"));
        let bending = solved(&plate, Pressure::uniform(1.0));
        let at = [0.5, height];
        printed("w", bending.deflection_at(0, at).expect("there"), w, 1e-5, 0.003);
        printed("M", bending.moment_at(0, at).expect("there").x, m, 1e-3, 0.003);
    }
}

/// Roark, table 11.4, case 10a, after Moody: three edges clamped, the top free, uniform, ν = 0.2. Width over height; `σ = β q b²/t²` at
/// the middle of the bottom and of the free edge. Moody's differences are coarse: at small widths they are 5 % low at the bottom, as
/// `ritz.rs` shows, which holds the same plates to 1 %. Their third figure, where the sides meet the free edge, has no bound.
#[test]
fn plates_clamped_on_three_edges() {
    let table = [
        (0.5, 0.081, 0.066),
        (1.0, 0.321, 0.259),
        (1.5, 0.727, 0.484),
        (2.0, 1.226, 0.605),
        (3.0, 2.105, 0.519),
    ];
    for (a, bottom, top) in table {
        let plate = Plate::new([a, 1.0], 1e-3, UNIT_MODULUS, 0.2).with_edges(supports("CCCF"));
        let bending = solved(&plate, Pressure::uniform(1.0));
        let moment = bending.fields[0].reactions.lines[2].most_moment.expect("clamped").value;
        printed("bottom", -6.0 * moment, bottom, 1e-3, 0.055);
        let moment = bending.moment_at(0, [0.5 * a, 1.0]).expect("there").x;
        printed("top", 6.0 * moment, top, 1e-3, 0.03);
    }
}

/// By symmetry the centre of a plate that is held alike above and below has half of the uniform load's results under water, exactly.
#[test]
fn water_on_a_symmetric_plate_is_half_of_uniform_load_at_the_centre() {
    for edges in ["SSSS", "CCCC"] {
        let at = [0.75, 0.5];
        let wet = solved(&unit(1.5, edges), water());
        let even = solved(&unit(1.5, edges), Pressure::uniform(1.0));
        let w = |bending: &bending::Bending| bending.deflection_at(0, at).expect("there");
        let m = |bending: &bending::Bending| bending.moment_at(0, at).expect("there").x;
        close(w(&wet), 0.5 * w(&even), 1e-9);
        close(m(&wet), 0.5 * m(&even), 1e-9);
    }
}

/// Beams of width one: free at the sides, Poisson's ratio nought. Closed forms of any handbook of beams.
#[test]
fn strips() {
    let strip = |edges: &str| {
        let plate = Plate::new([2.0, 1.0], 1e-3, 12e9, 0.0).with_edges(supports(edges));
        field(&plate, water())
    };
    let hinged = strip("FFSS");
    close(hinged.deflection.value, 0.006_522, 1e-3);
    close(hinged.front.expect("bounded").value, 1.0 / (9.0 * 3.0_f64.sqrt()), 2e-3);
    close(hinged.reactions.lines[0].force[10], 1.0 / 3.0, 1e-6);
    close(hinged.reactions.lines[1].force[10], 1.0 / 6.0, 1e-6);
    let propped = strip("FFCS");
    close(propped.deflection.value, 0.002_385, 1e-3);
    close(propped.reactions.lines[0].most_moment.expect("clamped").value, -1.0 / 15.0, 1e-4);
    close(propped.reactions.lines[1].force[10], 0.1, 1e-6);
    let cantilever = strip("FFCF");
    close(cantilever.deflection.value, 1.0 / 30.0, 1e-4);
    close(cantilever.reactions.lines[0].most_moment.expect("clamped").value, -1.0 / 6.0, 1e-4);
}

/// The longer a plate, the more its middle is a strip: `D = E t³/(12 (1 − ν²))` instead of EI.
#[test]
fn a_long_plate_becomes_a_strip() {
    let off = |a: f64| {
        (field(&unit(a, "SSSS"), Pressure::uniform(1.0)).deflection.value * 384.0 / 5.0 - 1.0).abs()
    };
    let (short, long) = (off(3.0), off(6.0));
    assert!(long < 0.1 * short && long < 2e-3, "{short} {long}");
    let clamped = solved(&unit(8.0, "CCCC"), Pressure::uniform(1.0));
    close(clamped.deflection_at(0, [4.0, 0.5]).expect("there"), 1.0 / 384.0, 2e-3);
    close(
        clamped.fields[0].reactions.lines[2].most_moment.expect("clamped").value,
        -1.0 / 12.0,
        5e-3,
    );
}

/// A wall of acrylic, 800 by 400 by 10 mm, its top held by a strip of 60 by 10 mm: Lévy's sum written out for one plate in SI units.
#[test]
fn a_wall_with_a_rim() {
    let mut plate = Plate::new([0.8, 0.4], 0.01, 3.2e9, 0.37).with_edges(supports("SSSF"));
    let ei = 3.2e9 * 0.01 * 0.06_f64.powi(3) / 12.0;
    let rim = Support::Beam { ei, gj: 0.0 };
    let along = bending::Along::X;
    plate.lines.push(bending::Line { along, at: 0.4, span: [0.0, 0.8], support: rim });
    let weight = 1025.0 * 9.806_65;
    let bending = bend(&plate, &[vec![Pressure::water(weight, 0.4)]]).expect("it stands");
    let top = common::levy::Edge::Elastic { ei, gj: 0.0, k: 0.0, kr: 0.0 };
    let exact = common::levy::Levy::new(
        plate.size,
        plate.rigidity(),
        plate.poisson,
        [common::levy::Edge::Hinged, top],
        [weight * 0.4, -weight],
    );
    close(bending.deflection_at(0, [0.4, 0.4]).expect("there"), exact.w(0.4, 0.4), 5e-4);
    close(bending.deflection_at(0, [0.4, 0.4]).expect("there"), 1.888e-3, 1e-3);
    close(bending.fields[0].deflection.value, 2.585e-3, 1e-3);
    close(bending.fields[0].stress(&plate).expect("bounded").value, 2.046e6, 3e-3);
    close(bending.fields[0].reactions.lines[3].most_beam.expect("rim").value, 16.535, 1e-3);
}

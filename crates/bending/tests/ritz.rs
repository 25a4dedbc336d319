//! Guards plates with no closed form, clamped on two, three or four edges, against Ritz' method with polynomials.

mod common;

use bending::{Pressure, bend};
use common::ritz::Ritz;
use common::{close, unit, water};

#[test]
fn clamped_edges_at_several_aspect_ratios() {
    for edges in ["CCCF", "CCCC", "CCCS", "CCSF", "SSSS"] {
        for a in [0.5, 1.0, 2.0, 3.0] {
            let cases = [vec![Pressure::uniform(1.0)], vec![water()]];
            let bending = bend(&unit(a, edges), &cases).expect("it stands");
            let even = |_: f64| 1.0;
            let falling = |y: f64| 1.0 - y;
            let pressures: [&dyn Fn(f64) -> f64; 2] = [&even, &falling];
            for (case, pressure) in pressures.into_iter().enumerate() {
                let ritz = Ritz::new([a, 1.0], 1.0, 0.3, edges, pressure);
                let field = &bending.fields[case];
                close(field.deflection.value, ritz.w(field.deflection.at), 1e-3);
                // Moments where they are large: along the middle, and at clamped edges away from a free corner.
                let most = (1..20)
                    .map(|k| [0.5 * a, f64::from(k) / 20.0])
                    .fold(0.0_f64, |most, at| most.max(ritz.m_x(at).abs()).max(ritz.m_y(at).abs()));
                for at in [[0.5 * a, 0.25], [0.5 * a, 0.5], [0.5 * a, 0.75], [0.25 * a, 0.5]] {
                    let moment = bending.moment_at(case, at).expect("on the plate");
                    for (got, want) in [(moment.x, ritz.m_x(at)), (moment.y, ritz.m_y(at))] {
                        let limit = 0.01 * most;
                        assert!(
                            (got - want).abs() < limit,
                            "{edges} {a} {case} {at:?}: {got} {want}"
                        );
                    }
                }
                let bottom = bending.moment_at(case, [0.5 * a, 0.0]).expect("there").y;
                if edges.chars().nth(2) == Some('C') {
                    close(bottom, ritz.m_y([0.5 * a, 0.0]), 0.01);
                    let reaction = field.reactions.lines[2].most_moment.expect("clamped").value;
                    close(reaction, bottom, 0.01);
                }
                if edges.starts_with('C') {
                    let side = bending.moment_at(case, [0.0, 0.5]).expect("there").x;
                    close(side, ritz.m_x([0.0, 0.5]), 0.01);
                }
            }
        }
    }
}

/// Where a clamped side meets a free edge the moment rises without a bound; at a fifth of the height below it both agree.
#[test]
fn clamped_sides_near_a_free_corner() {
    for a in [1.0, 2.0, 3.0] {
        let bending = bend(&unit(a, "CCCF"), &[vec![Pressure::uniform(1.0)]]).expect("it stands");
        let ritz = Ritz::new([a, 1.0], 1.0, 0.3, "CCCF", |_| 1.0);
        for y in [0.8, 0.9] {
            let got = bending.moment_at(0, [0.0, y]).expect("there").x;
            close(got, ritz.m_x([0.0, y]), 0.05);
        }
    }
}

//! What four feet carry.

use glam::{DVec2, dvec2};

/// Loads of four feet under the corners of a rigid box, kg: front left, front right, back left, back right.
///
/// Four feet carry in more than one way; Euler (*De pressione ponderis in planum cui incumbit*, 1773) takes feet that give
/// alike under load: the loads then lie in a plane over the corners,
/// `F = W/4 (1 ± e_x/a ± e_y/b)`,
/// - `total_kg` W; `centre` its place and `size` the rectangle of the feet, both from the front left foot, mm;
/// - e from the middle of the rectangle to the centre of gravity; a and b half of its sides.
///
/// A foot cannot pull: where the plane would have one do so, it lifts, and the other three carry what their statics say.
/// Valid for a centre of gravity within the rectangle and a level, evenly soft support; on a hard uneven floor the box may
/// stand on two feet across with half of its weight on each.
/// Checked against the load in the middle, over a side and over a foot, by hand.
pub fn on_four_feet(total_kg: f64, centre: DVec2, size: DVec2) -> [f64; 4] {
    let e = (centre - 0.5 * size) / (0.5 * size);
    let feet = [dvec2(-1.0, -1.0), dvec2(1.0, -1.0), dvec2(-1.0, 1.0), dvec2(1.0, 1.0)];
    let plane = feet.map(|foot| 0.25 * total_kg * (1.0 + foot.dot(e)));
    let Some(lifted) = (0..4).find(|&i| plane[i] < 0.0) else { return plane };
    // Seen so that the lifted foot is at (1, 1).
    let seen = feet[lifted] * e;
    let mut three = [0.0; 4];
    for (load, foot) in three.iter_mut().zip(feet) {
        let at = foot * feet[lifted];
        *load = total_kg
            * match (at.x > 0.0, at.y > 0.0) {
                (true, true) => 0.0,
                (true, false) => 0.5 * (1.0 + seen.x),
                (false, true) => 0.5 * (1.0 + seen.y),
                (false, false) => -0.5 * (seen.x + seen.y),
            };
    }
    three
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(centre: DVec2, expected: [f64; 4]) {
        let loads = on_four_feet(100.0, centre, dvec2(1000.0, 400.0));
        for (load, wanted) in loads.into_iter().zip(expected) {
            assert!((load - wanted).abs() < 1e-9, "{loads:?}");
        }
    }

    /// A table with a weight in its middle, over the middle of a side, a quarter of the way along, and over a leg: statics
    /// with symmetry alone.
    #[test]
    fn a_table_stands_as_statics_say() {
        check(dvec2(500.0, 200.0), [25.0; 4]);
        check(dvec2(500.0, 0.0), [50.0, 50.0, 0.0, 0.0]);
        check(dvec2(250.0, 200.0), [37.5, 12.5, 37.5, 12.5]);
        check(dvec2(0.0, 0.0), [100.0, 0.0, 0.0, 0.0]);
        check(dvec2(1000.0, 400.0), [0.0, 0.0, 0.0, 100.0]);
    }

    proptest! {
        #[test]
        fn forces_and_moments_balance(x in 0.0..1000.0_f64, y in 0.0..400.0_f64, kg in 0.1..500.0_f64) {
            let loads = on_four_feet(kg, dvec2(x, y), dvec2(1000.0, 400.0));
            let feet = [dvec2(0.0, 0.0), dvec2(1000.0, 0.0), dvec2(0.0, 400.0), dvec2(1000.0, 400.0)];
            let sum: f64 = loads.iter().sum();
            let moment: DVec2 = loads.iter().zip(feet).map(|(load, foot)| *load * foot).sum();
            prop_assert!((sum - kg).abs() < 1e-9 * kg);
            prop_assert!((moment / kg - dvec2(x, y)).length() < 1e-6);
            prop_assert!(loads.iter().all(|load| *load > -1e-9 * kg), "{loads:?}");
        }
    }
}

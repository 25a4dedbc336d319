//! The convex hull of points in a plane.

use glam::DVec2;

/// The convex hull of points, anticlockwise, from the leftmost, the lowest of these; empty of fewer than three different
/// points. Points on its sides are left out as far as the product of coordinates decides it; no tolerance is taken off.
///
/// Andrew's monotone chain, *Inf. Process. Lett.* 9 (1979) 216, doi:10.1016/0020-0190(79)90072-3.
///
/// ```
/// use glam::dvec2;
/// let points = vec![dvec2(0., 0.), dvec2(2., 0.), dvec2(1., 1.), dvec2(2., 2.), dvec2(0., 2.)];
/// assert_eq!(plate::hull(points), [dvec2(0., 0.), dvec2(2., 0.), dvec2(2., 2.), dvec2(0., 2.)]);
/// ```
pub fn hull(mut points: Vec<DVec2>) -> Vec<DVec2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return Vec::new();
    }
    let half = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b - a).perp_dot(p - b) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut points.iter().copied());
    lower.extend(half(&mut points.iter().rev().copied()));
    lower
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dice::Dice;
    use glam::dvec2;

    #[test]
    fn no_point_lies_outside_and_every_corner_turns_left() {
        let mut dice = Dice::new(20_261_126);
        for count in 3..60 {
            let points: Vec<DVec2> = (0..count)
                .map(|_| dvec2(dice.between(-50.0, 50.0), dice.between(-9.0, 9.0)))
                .collect();
            let hull = hull(points.clone());
            let sides = || hull.iter().zip(hull.iter().cycle().skip(1));
            for (a, b) in sides() {
                assert!(points.iter().all(|p| -1e-9 <= (*b - *a).perp_dot(*p - *a)));
            }
            let next = sides().map(|(_, b)| *b).collect::<Vec<_>>();
            let turns = sides().zip(next.iter().cycle().skip(1));
            assert!(turns.clone().all(|((a, b), c)| 0.0 < (*b - *a).perp_dot(*c - *b)));
            assert!(hull.iter().all(|corner| points.contains(corner)));
        }
    }

    #[test]
    fn too_few_points_have_none() {
        assert_eq!(hull(vec![DVec2::ZERO, DVec2::X, DVec2::X]), []);
    }
}

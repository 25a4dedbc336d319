//! Whether two convex sets are at least so far apart.
//!
//! The algorithm of Gilbert, Johnson and Keerthi (*IEEE J. Robotics Automation* 4 (1988) 193,
//! doi:10.1109/56.2083) proposes a direction; the direction proves the answer: `true` is only said after a slab across it
//! has been found between all points of both sets. So a mistake of the iteration can lose a way, never invent one.

use glam::DVec3;

use super::cloud::Cloud;

/// Whether the hulls of `a` and `b` are at least `need` apart. `axis` remembers the direction that was looked along last, for
/// the next question about the same pair: most often it proves that too, else it is a good begin. Zero when there is
/// none yet.
pub(crate) fn are_apart(a: &Cloud, b: &Cloud, need: f64, axis: &mut DVec3) -> bool {
    let (Some(first_a), Some(first_b)) = (a.first(), b.first()) else { return true };
    let mut simplex = [first_b - first_a; 4];
    if *axis != DVec3::ZERO {
        let (low_b, high_a) = (-b.most(-*axis), a.most(*axis));
        if low_b - high_a >= need {
            return true;
        }
        simplex[0] = b.point_at(-*axis, -low_b) - a.point_at(*axis, high_a);
    }
    let mut n = 1;
    let mut v = simplex[0];
    for _ in 0..48 {
        let length = v.length();
        if length < need.max(1e-9) {
            return false; // v is in the difference of the sets, so they are no farther apart
        }
        let direction = v / length;
        let (low_b, high_a) = (-b.most(-direction), a.most(direction));
        let gap = low_b - high_a;
        *axis = direction;
        if gap >= need {
            return true;
        }
        let w = b.point_at(-direction, -low_b) - a.point_at(direction, high_a);
        if length - gap < 1e-9 * (1.0 + length) || simplex[..n].contains(&w) {
            return false; // as near as it gets
        }
        simplex[n] = w;
        n += 1;
        match closest(&mut simplex, n) {
            Some((kept, point)) => (n, v) = (kept, point),
            None => return false,
        }
    }
    false
}

/// The point of the simplex of the first `n` points that is nearest to the origin; keeps the points that carry it, in front.
/// `None`: the origin is inside.
fn closest(simplex: &mut [DVec3; 4], n: usize) -> Option<(usize, DVec3)> {
    let points = *simplex;
    let (point, carriers, kept) = match n {
        2 => segment(points[0], points[1], [0, 1]),
        3 => triangle(points[0], points[1], points[2], [0, 1, 2]),
        _ => tetrahedron(&points)?,
    };
    for (to, from) in carriers[..kept].iter().enumerate() {
        simplex[to] = points[*from];
    }
    Some((kept, point))
}

/// Nearest point, which points carry it, and how many they are.
type Nearest = (DVec3, [usize; 3], usize);

fn segment(a: DVec3, b: DVec3, [ia, ib]: [usize; 2]) -> Nearest {
    let ab = b - a;
    let t = -a.dot(ab) / ab.length_squared().max(1e-300);
    if t <= 0.0 {
        (a, [ia; 3], 1)
    } else if t >= 1.0 {
        (b, [ib; 3], 1)
    } else {
        (a + ab * t, [ia, ib, ib], 2)
    }
}

/// After Ericson, *Real-Time Collision Detection* (2005), section 5.1.5, for the origin.
fn triangle(a: DVec3, b: DVec3, c: DVec3, [ia, ib, ic]: [usize; 3]) -> Nearest {
    let (ab, ac) = (b - a, c - a);
    let (d1, d2) = (-ab.dot(a), -ac.dot(a));
    if d1 <= 0.0 && d2 <= 0.0 {
        return (a, [ia; 3], 1);
    }
    let (d3, d4) = (-ab.dot(b), -ac.dot(b));
    if d3 >= 0.0 && d4 <= d3 {
        return (b, [ib; 3], 1);
    }
    let vc = d1 * d4 - d3 * d2;
    if vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0 {
        return (a + ab * (d1 / (d1 - d3)), [ia, ib, ib], 2);
    }
    let (d5, d6) = (-ab.dot(c), -ac.dot(c));
    if d6 >= 0.0 && d5 <= d6 {
        return (c, [ic; 3], 1);
    }
    let vb = d5 * d2 - d1 * d6;
    if vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0 {
        return (a + ac * (d2 / (d2 - d6)), [ia, ic, ic], 2);
    }
    let va = d3 * d6 - d5 * d4;
    if va <= 0.0 && d4 - d3 >= 0.0 && d5 - d6 >= 0.0 {
        let share = (d4 - d3) / ((d4 - d3) + (d5 - d6));
        return (b + (c - b) * share, [ib, ic, ic], 2);
    }
    let scale = 1.0 / (va + vb + vc);
    (a + ab * (vb * scale) + ac * (vc * scale), [ia, ib, ic], 3)
}

fn tetrahedron(points: &[DVec3; 4]) -> Option<Nearest> {
    let mut best: Option<(f64, Nearest)> = None;
    for [i, j, k, other] in [[0, 1, 2, 3], [0, 2, 3, 1], [0, 3, 1, 2], [1, 3, 2, 0]] {
        let a = points[i];
        let normal = (points[j] - a).cross(points[k] - a);
        let inner = normal.dot(points[other] - a);
        let is_flat = inner.abs() < 1e-12 * normal.length();
        if is_flat || -normal.dot(a) * inner < 0.0 {
            let found = triangle(a, points[j], points[k], [i, j, k]);
            let distance = found.0.length_squared();
            if best.is_none_or(|(least, _)| distance < least) {
                best = Some((distance, found));
            }
        }
    }
    best.map(|(_, found)| found)
}

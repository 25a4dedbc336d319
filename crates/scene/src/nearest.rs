//! Points of a body near a place, for labels to be about.

use glam::DVec3;

use crate::scene::Body;

/// The point of a body's edges that is nearest to a place.
pub(crate) fn near_edge(body: &Body, place: DVec3) -> DVec3 {
    let segments = body.edges.iter().flat_map(|line| line.windows(2));
    let nearest = segments.map(|s| nearest_of_segment(place, [s[0], s[1]]));
    nearest.min_by(|a, b| a.distance(place).total_cmp(&b.distance(place))).unwrap_or(place)
}

/// The point of a body's surface that is nearest to a place.
pub(crate) fn near_face(body: &Body, place: DVec3) -> DVec3 {
    let nearest = body.triangles.iter().map(|t| nearest_of_triangle(place, t.corners));
    nearest.min_by(|a, b| a.distance(place).total_cmp(&b.distance(place))).unwrap_or(place)
}

/// The nearest point of a triangle: where its plane is nearest, if that is inside; else on a side.
fn nearest_of_triangle(p: DVec3, [a, b, c]: [DVec3; 3]) -> DVec3 {
    let normal = (b - a).cross(c - a);
    let sides = [[a, b], [b, c], [c, a]];
    // A triangle without area has no plane, only sides.
    let has_area = normal.length_squared() > 1e-12;
    let on_plane = p - normal * ((p - a).dot(normal) / normal.length_squared().max(1e-12));
    if has_area && sides.iter().all(|[u, v]| (*v - *u).cross(on_plane - *u).dot(normal) >= 0.0) {
        return on_plane;
    }
    let points = sides.map(|[u, v]| nearest_of_segment(p, [u, v]));
    let nearest = points.into_iter().min_by(|u, v| u.distance(p).total_cmp(&v.distance(p)));
    nearest.unwrap_or(a)
}

fn nearest_of_segment(p: DVec3, [a, b]: [DVec3; 2]) -> DVec3 {
    let along = b - a;
    let t = (p - a).dot(along) / along.length_squared().max(1e-12);
    a + along * t.clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

    #[test]
    fn the_nearest_point_is_inside_on_a_side_or_at_a_corner() {
        let triangle = [dvec3(0., 0., 0.), dvec3(4., 0., 0.), dvec3(0., 4., 0.)];
        #[track_caller]
        fn check(triangle: [DVec3; 3], place: DVec3, nearest: DVec3) {
            let found = nearest_of_triangle(place, triangle);
            assert!(found.distance(nearest) < 1e-12, "{found}");
        }
        check(triangle, dvec3(1., 1., 5.), dvec3(1., 1., 0.));
        check(triangle, dvec3(2., -3., 1.), dvec3(2., 0., 0.));
        check(triangle, dvec3(4., 4., 0.), dvec3(2., 2., 0.));
        check(triangle, dvec3(-1., -2., 0.), dvec3(0., 0., 0.));
        let needle = [dvec3(0., 0., 0.), dvec3(4., 0., 0.), dvec3(2., 0., 0.)];
        check(needle, dvec3(1., 1., 5.), dvec3(1., 0., 0.));
    }
}

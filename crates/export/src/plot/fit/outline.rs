//! What a shape looks like from one side: its outline, and openings that one sees through.

use std::f64::consts::TAU;

use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Shape, Turned};

use super::view::View;

/// Arcs are drawn by so many straight pieces per turn.
const PIECES: f64 = 48.0;

/// The outline of one thing in a view, mm.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Outline {
    /// Its corners, or points of its arcs.
    pub(super) points: Vec<DVec2>,
    /// Openings through it, seen along its thickness.
    pub(super) holes: Vec<Vec<DVec2>>,
}

impl Outline {
    /// Of a shape in its place.
    pub(super) fn of(shape: &Shape, pose: DAffine3, view: View) -> Self {
        match shape {
            Shape::Sheet(plate) => {
                let at = |p: DVec2, z: f64| view.flat(pose.transform_point3(p.extend(z)));
                let faces_eye = pose.transform_vector3(DVec3::Z).dot(view.towards()).abs() > 0.999;
                if faces_eye {
                    let flat = |c: &Contour| points(c).into_iter().map(|p| at(p, 0.0)).collect();
                    let through = plate.cuts.iter().filter(|c| c.depth >= plate.thickness);
                    let holes = through.map(|c| flat(&c.contour)).collect();
                    return Self { points: flat(&plate.outline), holes };
                }
                let both = points(&plate.outline).into_iter();
                let all = both.flat_map(|p| [at(p, 0.0), at(p, plate.thickness)]).collect();
                Self { points: hull(all), holes: Vec::new() }
            }
            Shape::Turned(turned) => {
                let axis_to_eye = pose.transform_vector3(DVec3::Z).dot(view.towards()).abs();
                if axis_to_eye < 0.001 {
                    return Self { points: from_the_side(turned, pose, view), holes: Vec::new() };
                }
                let circle = |r: f64, z: f64| {
                    let point = move |t: f64| DVec3::new(r * libm::cos(t), r * libm::sin(t), z);
                    let turns = (0..48_u32).map(|i| f64::from(i) / PIECES * TAU);
                    turns.map(move |t| view.flat(pose.transform_point3(point(t))))
                };
                let all = turned.profile.iter().flat_map(|p| circle(p.x, p.y)).collect();
                let inner = turned.profile.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
                let is_pipe = axis_to_eye > 0.999 && inner > 0.0;
                let holes = if is_pipe { vec![circle(inner, 0.0).collect()] } else { Vec::new() };
                Self { points: hull(all), holes }
            }
        }
    }

    /// A box.
    pub(super) fn block([lo, hi]: [DVec3; 2], view: View) -> Self {
        let [lo, hi] = [lo, hi].map(|p| view.flat(p));
        let points = vec![lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
        Self { points, holes: Vec::new() }
    }

    /// Least and greatest corner.
    pub(super) fn bounds(&self) -> [DVec2; 2] {
        let start = [DVec2::INFINITY, DVec2::NEG_INFINITY];
        self.points.iter().fold(start, |[lo, hi], p| [lo.min(*p), hi.max(*p)])
    }
}

/// Both sides of a turned body whose axis lies across the view: its profile's outer side, up and down.
fn from_the_side(turned: &Turned, pose: DAffine3, view: View) -> Vec<DVec2> {
    let profile = &turned.profile;
    let outermost = |a: &DVec2, b: &DVec2| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x));
    let lowest = |a: &DVec2, b: &DVec2| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x));
    let last = profile.iter().copied().max_by(|a, b| outermost(a, b));
    let first = profile.iter().position(|p| profile.iter().all(|q| lowest(p, q).is_le()));
    let (Some(first), Some(last)) = (first, last) else { return Vec::new() };
    // Counter-clockwise, so after the lowest corner comes the outer side.
    let mut side: Vec<DVec2> = Vec::new();
    for p in profile.iter().cycle().skip(first).take(profile.len()) {
        side.push(*p);
        if *p == last {
            break;
        }
    }
    let across = pose.inverse().transform_vector3(view.towards()).cross(DVec3::Z).normalize();
    let at = |p: &DVec2, sign: f64| {
        view.flat(pose.transform_point3(across * (sign * p.x) + DVec3::Z * p.y))
    };
    let up = side.iter().map(|p| at(p, 1.0));
    up.chain(side.iter().rev().map(|p| at(p, -1.0))).collect()
}

fn points(contour: &Contour) -> Vec<DVec2> {
    let pieces = contour.0.iter().flat_map(|segment| {
        let sweep = segment.arc.map_or(0.0, |arc| arc.sweep.abs());
        let count = (sweep / TAU * PIECES).ceil().max(1.0);
        let steps = std::iter::successors(Some(0.0), |k| Some(k + 1.0));
        steps.take_while(move |k| *k < count).map(move |k| segment.point_at(k / count))
    });
    pieces.collect()
}

/// The convex hull, by Andrew's monotone chain (*Inf. Process. Lett.* 9 (1979) 216).
fn hull(mut all: Vec<DVec2>) -> Vec<DVec2> {
    /// Corners that stick out less than this do not show, mm².
    const FLAT_MM2: f64 = 1e-6;
    all.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut chain: Vec<DVec2> = Vec::new();
    let half = |points: &mut dyn Iterator<Item = DVec2>, chain: &mut Vec<DVec2>| {
        let start = chain.len();
        for p in points {
            while let [.., a, b] = chain[start..] {
                if (b - a).perp_dot(p - a) > FLAT_MM2 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
    };
    half(&mut all.iter().copied(), &mut chain);
    half(&mut all.iter().rev().copied(), &mut chain);
    chain
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn the_hull_of_a_square_with_points_in_and_on_it_is_the_square() {
        let inner = [dvec2(1., 1.), dvec2(1., 0.), dvec2(0.5, 2.0)];
        let corners = [dvec2(0., 0.), dvec2(2., 0.), dvec2(2., 2.), dvec2(0., 2.)];
        let found = hull(inner.into_iter().chain(corners).collect());
        assert_eq!(found, corners);
    }
}

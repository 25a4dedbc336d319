//! Distances against closed forms, and against all pairs of features.

use glam::{DMat3, DQuat, DVec3};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::*;
use crate::convex::Convex;

fn dice(seed: u64) -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(seed)
}

fn within(dice: &mut ChaCha8Rng, most: f64) -> DVec3 {
    DVec3::new(
        dice.random_range(-most..most),
        dice.random_range(-most..most),
        dice.random_range(-most..most),
    )
}

fn turn(dice: &mut ChaCha8Rng) -> DMat3 {
    let v = within(dice, 1.0);
    DMat3::from_quat(DQuat::from_xyzw(v.x, v.y, v.z, dice.random_range(-1.0..1.0)).normalize())
}

/// A box: half its size, how it is turned, and its middle.
struct Block {
    half: DVec3,
    turn: DMat3,
    middle: DVec3,
}

impl Block {
    fn random(dice: &mut ChaCha8Rng, far: f64) -> Self {
        let half = DVec3::new(
            dice.random_range(0.5..200.0),
            dice.random_range(0.5..200.0),
            dice.random_range(0.5..20.0),
        );
        Self { half, turn: turn(dice), middle: within(dice, far) }
    }

    fn points(&self) -> Vec<DVec3> {
        let own = Convex::block([-self.half, self.half]).points;
        own.iter().map(|p| self.turn * *p + self.middle).collect()
    }

    fn edges(&self) -> Vec<[DVec3; 2]> {
        let points = self.points();
        let pairs = (0..8).flat_map(|i: usize| [1, 2, 4].map(|bit| (i, i ^ bit)));
        pairs.filter(|(i, j)| i < j).map(|(i, j)| [points[i], points[j]]).collect()
    }

    /// Distance of a point, by the box's own axes.
    fn distance(&self, p: DVec3) -> f64 {
        let own = self.turn.transpose() * (p - self.middle);
        (own.abs() - self.half).max(DVec3::ZERO).length()
    }
}

/// Distance of two straight pieces (Ericson, *Real-Time Collision Detection*, 2005, section 5.1.9).
fn between_edges([a, b]: [DVec3; 2], [c, d]: [DVec3; 2]) -> f64 {
    let (u, v, r) = (b - a, d - c, a - c);
    let (uu, uv, vv) = (u.dot(u), u.dot(v), v.dot(v));
    let det = uu * vv - uv * uv;
    let mut s = if det > 1e-12 * uu * vv { (uv * v.dot(r) - vv * u.dot(r)) / det } else { 0.0 };
    s = s.clamp(0.0, 1.0);
    let t = ((uv * s + v.dot(r)) / vv).clamp(0.0, 1.0);
    let s = ((uv * t - u.dot(r)) / uu).clamp(0.0, 1.0);
    (a + u * s).distance(c + v * t)
}

/// Least over all corners against boxes and all edges against edges: what the distance of separated boxes is.
fn by_features(a: &Block, b: &Block) -> f64 {
    let corners = a.points().into_iter().map(|p| b.distance(p));
    let others = b.points().into_iter().map(|p| a.distance(p));
    let edges = a.edges().into_iter();
    let edges = edges.flat_map(|e| b.edges().into_iter().map(move |f| between_edges(e, f)));
    corners.chain(others).chain(edges).fold(f64::INFINITY, f64::min)
}

/// Least overlap of two boxes over the 15 directions of Gottschalk's separating-axis theorem; negative: apart.
fn by_axes(a: &Block, b: &Block) -> f64 {
    let (p, q) = (a.points(), b.points());
    let axes = |m: &DMat3| [m.x_axis, m.y_axis, m.z_axis];
    let mut all: Vec<DVec3> = axes(&a.turn).into_iter().chain(axes(&b.turn)).collect();
    for u in axes(&a.turn) {
        all.extend(axes(&b.turn).map(|v| u.cross(v)).into_iter().filter(|n| n.length() > 1e-6));
    }
    let overlap = |n: DVec3| {
        let n = n.normalize();
        let one = (support(&p, n) - support(&q, -n)).dot(n);
        one.min((support(&q, n) - support(&p, -n)).dot(n))
    };
    all.into_iter().map(overlap).fold(f64::INFINITY, f64::min)
}

#[test]
fn boxes_in_any_place_are_as_far_apart_as_their_features() {
    let mut dice = dice(1);
    let mut apart = 0;
    for k in 0..20_000 {
        let far = [50.0, 200.0, 500.0][k % 3];
        let (a, b) = (Block::random(&mut dice, far), Block::random(&mut dice, far));
        let (p, q) = (a.points(), b.points());
        let got = nearest(&p, &q);
        let overlap = by_axes(&a, &b);
        if overlap < -1e-6 {
            let exact = by_features(&a, &b);
            assert!((got.gap_mm - exact).abs() < 1e-9, "{k}: {} against {exact}", got.gap_mm);
            assert!((got.points[0].distance(got.points[1]) - exact).abs() < 1e-9, "{k}");
            assert!(a.distance(got.points[0]) < 1e-9 && b.distance(got.points[1]) < 1e-9, "{k}");
            apart += 1;
        } else if overlap > 1e-6 {
            assert!((got.gap_mm + overlap).abs() < 1e-9, "{k}: {} against {overlap}", got.gap_mm);
        }
    }
    assert!(apart > 5_000, "{apart}");
}

#[test]
fn level_boxes_have_the_gap_that_anyone_can_reckon() {
    let mut dice = dice(2);
    for _ in 0..5_000 {
        let mut block = || {
            let at = within(&mut dice, 300.0);
            [at, at + within(&mut dice, 150.0).abs() + 1.0]
        };
        let (a, b) = (block(), block());
        let apart = (a[0] - b[1]).max(b[0] - a[1]);
        let exact = match apart.max_element() {
            most if most > 0.0 => apart.max(DVec3::ZERO).length(),
            most => most,
        };
        let got = nearest(&Convex::block(a).points, &Convex::block(b).points);
        assert!((got.gap_mm - exact).abs() < 1e-9, "{a:?} {b:?}: {} {exact}", got.gap_mm);
    }
}

#[test]
fn faces_on_faces_touch() {
    let a = Convex::block([DVec3::ZERO, DVec3::new(600.0, 400.0, 8.0)]);
    for (shift, gap) in [(8.0, 0.0), (8.0 + 1e-7, 1e-7), (7.5, -0.5), (508.0, 500.0)] {
        let low = DVec3::new(100.0, 100.0, shift);
        let b = Convex::block([low, low + DVec3::new(50.0, 8.0, 300.0)]);
        let got = nearest(&a.points, &b.points);
        assert!((got.gap_mm - gap).abs() < 1e-9, "{shift}: {}", got.gap_mm);
    }
}

/// Upright prisms around circles: the distance of polygons in the plane, and of the levels.
#[test]
fn prisms_of_many_sides_are_as_far_apart_as_their_polygons() {
    let mut dice = dice(3);
    let prism = |middle: DVec3, r: f64, n: u32, height: f64, tilt: f64| {
        let corner = |k: u32| {
            let angle = tilt + std::f64::consts::TAU * f64::from(k) / f64::from(n);
            middle + DVec3::new(r * libm::cos(angle), r * libm::sin(angle), 0.0)
        };
        let ring: Vec<DVec3> = (0..n).map(corner).collect();
        let top = ring.iter().map(|p| *p + height * DVec3::Z);
        (ring.clone(), ring.iter().copied().chain(top).collect::<Vec<_>>())
    };
    for k in 0..500 {
        let n = [12, 60, 120][k % 3];
        let (r, s) = (dice.random_range(5.0..90.0), dice.random_range(5.0..90.0));
        let away = DVec3::new(r + s + dice.random_range(1.0..400.0), 0.0, 0.0);
        let tilt = dice.random_range(0.0..6.0);
        let (one, a) = prism(DVec3::ZERO, r, n, 50.0, tilt);
        let (other, b) = prism(away, s, n, 80.0, 0.5 * tilt);
        let sides = |ring: &[DVec3]| -> Vec<[DVec3; 2]> {
            (0..ring.len()).map(|i| [ring[i], ring[(i + 1) % ring.len()]]).collect()
        };
        let others = sides(&other);
        let pairs = sides(&one).into_iter().flat_map(|e| others.iter().map(move |f| (e, *f)));
        let exact = pairs.map(|(e, f)| between_edges(e, f)).fold(f64::INFINITY, f64::min);
        let got = nearest(&a, &b);
        assert!((got.gap_mm - exact).abs() < 1e-9, "{k}: {} against {exact}", got.gap_mm);
    }
}

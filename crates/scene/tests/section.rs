//! Guards the section: what it leaves is closed and is as large as geometry says.

mod sample;

use glam::{DVec3, dvec3};
use scene::{Body, Scene, Side};

fn volume(body: &Body) -> f64 {
    body.triangles.iter().map(|t| t.corners[0].dot(t.corners[1].cross(t.corners[2])) / 6.0).sum()
}

fn alone(body: Body) -> Scene {
    Scene { bodies: vec![body], ..sample::sump() }
}

fn cut(body: Body, at: f64) -> Body {
    alone(body).cut(at).bodies.remove(0)
}

fn tube() -> Body {
    let profile = [(30., 0.), (50., 0.), (50., 80.), (30., 80.)];
    sample::turned("tube", sample::GREY, dvec3(100., 200., 10.), &profile)
}

#[test]
fn half_a_tube_has_half_its_volume() {
    let whole = volume(&tube());
    assert!((volume(&cut(tube(), 200.0)) / whole - 0.5).abs() < 1e-9);
}

#[test]
fn a_box_is_left_with_its_part_behind_the_cut() {
    let block = sample::sheet("block", sample::CLEAR, DVec3::ZERO, dvec3(50., 80., 30.));
    let rest = cut(block, 20.0);
    assert!((volume(&rest) - 50. * 60. * 30.).abs() < 1e-6);
    let opened = rest.triangles.iter().filter(|t| t.side == Side::Cut);
    let area: f64 = opened
        .map(|t| 0.5 * (t.corners[1] - t.corners[0]).cross(t.corners[2] - t.corners[0]).length())
        .sum();
    assert!((area - 50. * 30.).abs() < 1e-6);
}

#[test]
fn what_is_cut_in_two_adds_up() {
    // Seen from behind, the other part is what the cut leaves of the mirrored body.
    let mirrored = |body: Body| {
        let triangles = body.triangles.into_iter().map(|mut t| {
            t.corners = t.corners.map(|p| dvec3(p.x, 400.0 - p.y, p.z));
            t.normals = t.normals.map(|n| dvec3(n.x, -n.y, n.z));
            t.corners.swap(1, 2);
            t.normals.swap(1, 2);
            t
        });
        Body { triangles: triangles.collect(), ..body }
    };
    for body in [tube()].into_iter().chain(sample::sump().bodies) {
        let [lo, hi] = body.bounds().unwrap();
        for share in [0.1, 0.37, 0.5, 0.81] {
            let at = lo.y + (hi.y - lo.y) * share;
            let behind = volume(&cut(body.clone(), at));
            let before = volume(&cut(mirrored(body.clone()), 400.0 - at));
            let whole = volume(&body);
            let off = (behind + before - whole).abs();
            assert!(off < 1e-9 * whole.max(1.0), "{} at {at}: {behind} + {before}", body.name);
        }
    }
}

#[test]
fn what_is_in_front_goes_and_what_is_behind_stays() {
    let scene = sample::sump();
    let rest = scene.cut(210.0);
    let has = |name: &str| rest.bodies.iter().any(|b| b.name == name);
    assert!(!has("front") && has("back") && has("bottom"));
    assert!(rest.waters.iter().all(|w| w.min.y >= 210.0));
    assert!(rest.labels.iter().all(|l| l.anchor.y >= 210.0));
    for label in &rest.labels {
        if let Some(body) = label.body {
            let before = scene.labels.iter().find(|l| l.text == label.text).unwrap();
            assert_eq!(rest.bodies[body].name, scene.bodies[before.body.unwrap()].name);
        }
    }
}

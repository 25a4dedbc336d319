//! From where a thing shows most of itself.

use glam::{DVec3, dvec3};

use super::{framed, room};
use crate::image::Image;
use crate::picture::render;
use crate::scene::Scene;

/// Size of the trial drawings, px.
const TRIAL: [usize; 2] = [120, 86];
/// Directions along the ground, all from the front: what is written on a thing is read from there.
const AROUND: [(f64, f64); 4] = [(-0.55, -1.0), (0.55, -1.0), (-1.0, -0.55), (1.0, -0.55)];
/// The eye that is looked from where no other shows more.
const FIRST: DVec3 = dvec3(-0.55, -1.0, 0.75);
/// How high the eye stands for a unit to the side: about 30°, 45° and 60°.
const HEIGHTS: [f64; 3] = [0.75, 1.2, 2.0];
/// Another eye must show so much more than the best before it; our judgement: sheets whose things are seen alike read
/// better.
const BETTER: f64 = 1.05;

/// The direction towards the eye that shows most of a scene: the one whose drawing has most in it, by the sum of all
/// differences between neighbouring pixels. Edges, openings and faces of different light make differences; a plain side
/// makes none.
pub(super) fn best(scene: &Scene) -> DVec3 {
    let shown = |eye: DVec3| {
        let camera = framed(scene, eye, room(TRIAL, 0.05));
        told(&render(scene, &camera, TRIAL, 0.7))
    };
    let mut best = (FIRST, shown(FIRST));
    for eye in AROUND.iter().flat_map(|&(x, y)| HEIGHTS.map(|z| dvec3(x, y, z))) {
        let shown = shown(eye);
        if shown > BETTER * best.1 {
            best = (eye, shown);
        }
    }
    best.0
}

/// Sum of the differences of green between neighbouring pixels.
fn told(image: &Image) -> f64 {
    let [width, height] = image.size;
    let green = |x: usize, y: usize| i32::from(image.pixel([x, y])[1]);
    let mut sum = 0;
    for y in 1..height {
        for x in 1..width {
            let here = green(x, y);
            sum += (here - green(x - 1, y)).abs() + (here - green(x, y - 1)).abs();
        }
    }
    f64::from(sum)
}

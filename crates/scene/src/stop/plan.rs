//! Where a stop is: the sump from above, its chambers numbered as the stops are.

use glam::{DVec2, dvec2};

use super::{Stop, chamber_of};
use crate::annotate::canvas::{Canvas, Ink};
use crate::annotate::font::{Lettering, Weight};
use crate::camera::Frame;
use crate::scene::{Level, Scene};

const SHEET: Ink = Ink([82, 104, 114], 1.0);
const WATER: Ink = Ink([214, 232, 239], 1.0);
const HERE: Ink = Ink([14, 110, 150], 1.0);
const NUMBER: Ink = Ink([70, 96, 108], 1.0);
const ON_BLUE: Ink = Ink([255, 255, 255], 1.0);

/// Height of the plan over its width in px, no more than square.
pub(super) fn height(scene: &Scene, width: f64) -> f64 {
    width * (scene.outside.y / scene.outside.x.max(1.0)).min(1.0)
}

/// Draws it with its upper left corner at `at`, at most `width` px wide.
pub(super) fn draw(
    canvas: &mut Canvas,
    scene: &Scene,
    stops: &[Stop<'_>],
    which: usize,
    at: DVec2,
    width: f64,
) {
    let scale = (width / scene.outside.x).min(height(scene, width) / scene.outside.y);
    // The front is below, as one stands before it.
    let place = |p: DVec2| at + dvec2(p.x, scene.outside.y - p.y) * scale;
    let frame = |min: DVec2, max: DVec2| {
        let (a, b) = (place(min), place(max));
        Frame { min: a.min(b), max: a.max(b) }
    };
    let stop_of = |level: &Level| {
        stops.iter().position(|stop| chamber_of(scene, stop).is_some_and(|other| other == level))
    };
    let unit = width / 270.0;
    for level in &scene.levels {
        let stop = stop_of(level);
        let is_here = stop == Some(which);
        let frame = frame(level.min, level.max);
        canvas.polygon(&corners(&frame), if is_here { HERE } else { WATER });
        canvas.outline(&corners(&frame), 1.2 * unit, SHEET);
        let Some(stop) = stop else { continue };
        let lettering = Lettering::new(Weight::Bold, 17.0 * unit);
        let number = (stop + 1).to_string();
        let size = dvec2(lettering.width(&number), lettering.cap_height);
        if size.cmplt(frame.size() - 4.0 * unit).all() {
            let middle = 0.5 * (frame.min + frame.max);
            let start = middle + dvec2(-0.5, 0.5) * size;
            canvas.text(&lettering, &number, start, if is_here { ON_BLUE } else { NUMBER }, None);
        }
    }
    let outside = frame(DVec2::ZERO, scene.outside.truncate());
    canvas.outline(&corners(&outside), 2.0 * unit, SHEET);
}

fn corners(frame: &Frame) -> [DVec2; 4] {
    let Frame { min, max } = *frame;
    [min, dvec2(max.x, min.y), max, dvec2(min.x, max.y)]
}

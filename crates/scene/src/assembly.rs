//! One step of gluing a sump together: what stands, pale; the part that is new, coloured; the seams that are fed, and
//! from where.

use fit::Rigid;
use glam::{DQuat, DVec2, DVec3, dvec2, dvec3};

use crate::Error;
use crate::annotate::canvas::{Canvas, Ink};
use crate::camera::{Camera, Frame, Lens};
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::image::Image;
use crate::picture::render;
use crate::scene::{Body, Look, Scene};
use crate::strip::arrow;

/// What is shown of a step.
#[derive(Clone, Debug)]
pub struct Assembly<'a> {
    /// What is there already: indices into [`Scene::bodies`].
    pub standing: &'a [usize],
    /// What is new.
    pub new: &'a [usize],
    /// Where it is fed.
    pub seams: &'a [FeedLine],
    /// What of the sump points down, a unit vector along an axis of the sump.
    pub down: DVec3,
    /// The straight way of the new part into its place; `None` draws no arrow.
    pub way: Option<DVec3>,
}

/// A seam that solvent is fed into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedLine {
    /// Its ends, mm.
    pub ends: [DVec3; 2],
    /// From the seam towards the bottle, a unit vector.
    pub from: DVec3,
}

/// The new part: strong, and darker in grey than anything pale around it.
const NEW: Look = Look { colour: [250, 138, 62], is_clear: false };
/// What stands.
const SHEET: Look = Look { colour: [205, 220, 226], is_clear: true };
/// The seam that is fed.
const SEAM: Ink = Ink([12, 60, 150], 1.0);
const HALO: Ink = Ink([255, 255, 255], 0.9);

/// From where it is looked at: from either side of either end, from above. The first is the one of other pictures.
const EYES: [DVec3; 4] = [
    dvec3(-0.55, -1.0, 0.75),
    dvec3(0.55, -1.0, 0.75),
    dvec3(-0.55, 1.0, 0.75),
    dvec3(0.55, 1.0, 0.75),
];
/// Another eye must look so much better into the seams, as a mean cosine; our judgement: pictures that look the same way
/// are easier to follow.
const BETTER: f64 = 0.2;

/// The picture of a step as a PNG file, `size` (width, height) in px. The same bytes on any machine.
///
/// `scene` is [`Scene::assembled`] of the design.
///
/// # Errors
/// When a side is shorter than [`LEAST_SIDE`] or longer than [`MOST_SIDE`], or nothing new is in the scene.
pub fn assembly(scene: &Scene, step: &Assembly<'_>, size: [usize; 2]) -> Result<Vec<u8>, Error> {
    draw_assembly(scene, step, size)?.to_png()
}

/// The pixels of [`assembly`].
///
/// # Errors
/// As [`assembly`].
pub fn draw_assembly(scene: &Scene, step: &Assembly<'_>, size: [usize; 2]) -> Result<Image, Error> {
    if size.iter().any(|side| !(LEAST_SIDE..=MOST_SIDE).contains(side)) {
        return Err(Error::Size { width: size[0], height: size[1] });
    }
    let laid = Laid::of(scene, step).ok_or(Error::NothingNew)?;
    let unit = size[0] as f64 / 1200.0;
    let eye = laid.eye();
    let arrow = laid.arrow();
    let mut points = laid.scene.points();
    points.extend(arrow.iter().flatten());
    let margin = 34.0 * unit;
    let frame =
        Frame { min: DVec2::splat(margin), max: dvec2(size[0] as f64, size[1] as f64) - margin };
    let camera = Camera::framed(eye, DVec3::Z, Lens::Parallel, &points, frame);
    let image = render(&laid.scene, &camera, size, 1.05 * unit);
    let Some(mut canvas) = Canvas::over(&image) else { return Ok(image) };
    for seam in &laid.seams {
        let line = seam.ends.map(|p| camera.project(p));
        canvas.line(&line, 8.0 * unit, HALO);
    }
    for seam in &laid.seams {
        let line = seam.ends.map(|p| camera.project(p));
        canvas.line(&line, 4.6 * unit, SEAM);
    }
    for seam in &laid.seams {
        needle(&mut canvas, &camera, seam, unit);
    }
    if let Some(ends) = arrow {
        arrow::draw(&mut canvas, &ends.map(|p| camera.project(p)), 1.5 * unit);
    }
    Ok(canvas.into_image())
}

/// A small arrow along the needle, to the middle of the seam.
fn needle(canvas: &mut Canvas, camera: &Camera, seam: &FeedLine, unit: f64) {
    /// Long enough to be seen, px at full size.
    const LENGTH: f64 = 66.0;
    let tip = 0.5 * (seam.ends[0] + seam.ends[1]);
    let [at, back] = [tip, tip + seam.from].map(|p| camera.project(p));
    let Some(way) = (back - at).try_normalize() else { return };
    let (tip, end) = (at + way * 6.0 * unit, at + way * LENGTH * unit);
    let head = tip + way * 21.0 * unit;
    let side = way.perp() * 8.5 * unit;
    canvas.line(&[head, end], 6.5 * unit, HALO);
    canvas.outline(&[tip, head + side, head - side], 3.0 * unit, HALO);
    canvas.line(&[head, end], 3.2 * unit, SEAM);
    canvas.polygon(&[tip, head + side, head - side], SEAM);
}

/// The parts as they lie on the bench.
struct Laid {
    scene: Scene,
    seams: Vec<FeedLine>,
    /// Least and greatest corner of what is new.
    new: [DVec3; 2],
    way: Option<DVec3>,
}

impl Laid {
    fn of(scene: &Scene, step: &Assembly<'_>) -> Option<Self> {
        let turn = turn_down(step.down);
        let turned = Rigid { turn, shift: DVec3::ZERO };
        let body = |&id: &usize, look: Look| {
            let body = scene.bodies.get(id)?.clone();
            Some(Body { look, engraved: Vec::new(), way: None, ..body }.moved(&turned))
        };
        let new: Vec<Body> = step.new.iter().filter_map(|id| body(id, NEW)).collect();
        let mut bodies: Vec<Body> = step.standing.iter().filter_map(|id| body(id, SHEET)).collect();
        let [lo, hi] = around(&new)?;
        bodies.extend(new);
        let [least, most] = around(&bodies)?;
        let home = Rigid::HOME.moved(-least);
        let bodies = bodies.into_iter().map(|body| body.moved(&home)).collect();
        let seams = step.seams.iter().map(|seam| FeedLine {
            ends: seam.ends.map(|p| turn * p - least),
            from: turn * seam.from,
        });
        let frame = Scene { bodies, outside: most - least, ..scene.clone_frame() };
        Some(Self {
            scene: frame,
            seams: seams.collect(),
            new: [lo - least, hi - least],
            way: step.way.map(|way| turn * way),
        })
    }

    /// From where the seams are seen best: from where they are fed.
    fn eye(&self) -> DVec3 {
        let seen = |eye: &DVec3| {
            let eye = eye.normalize();
            let sum: f64 = self.seams.iter().map(|seam| seam.from.dot(eye)).sum();
            sum / (self.seams.len().max(1) as f64)
        };
        let usual = seen(&EYES[0]);
        let best = EYES
            .into_iter()
            .max_by(|a, b| seen(a).total_cmp(&seen(b)).then(std::cmp::Ordering::Greater));
        best.filter(|eye| seen(eye) > usual + BETTER).unwrap_or(EYES[0])
    }

    /// From a place outside to just before the new part, along its way in.
    fn arrow(&self) -> Option<[DVec3; 2]> {
        let way = self.way?;
        let [lo, hi] = self.new;
        let middle = 0.5 * (lo + hi);
        let half = (0.5 * (hi - lo)).dot(way.abs());
        let length = 0.16 * self.scene.outside.max_element();
        let tip = middle - way * (half + 0.15 * length);
        Some([tip - way * length, tip])
    }
}

/// Least and greatest corner of some bodies.
fn around(bodies: &[Body]) -> Option<[DVec3; 2]> {
    bodies.iter().filter_map(Body::bounds).reduce(|[lo, hi], [a, b]| [lo.min(a), hi.max(b)])
}

/// The turn about a level axis that brings a direction down.
fn turn_down(down: DVec3) -> DQuat {
    DQuat::from_rotation_arc(down.normalize_or(DVec3::NEG_Z), DVec3::NEG_Z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_side_can_be_down() {
        for down in [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z] {
            assert!((turn_down(down) * down - DVec3::NEG_Z).length() < 1e-12, "{down}");
        }
        // The front wall down: what was up looks to the back, and the inlet end stays to the left.
        let turn = turn_down(DVec3::NEG_Y);
        assert!((turn * DVec3::X - DVec3::X).length() < 1e-12);
        assert!(
            (turn * DVec3::Z - DVec3::NEG_Y).length() < 1e-12
                || (turn * DVec3::Z - DVec3::Y).length() < 1e-12
        );
    }
}

//! Water levels: the triangle that stands on a surface in drawings, and the height above it.

use glam::{DVec2, dvec2, dvec3};
use units::Length;

use super::canvas::Canvas;
use super::spots::Obstacles;
use super::{HALO, Style, WATER};
use crate::camera::{Camera, Frame};
use crate::scene::{Level, Scene};

/// A level with room for its mark.
#[derive(Debug)]
pub(super) struct Mark {
    /// The chamber.
    pub(super) chamber: String,
    text: String,
    /// The point of the triangle, on the surface.
    at: DVec2,
}

/// Finds room for the marks of the chambers that the section cuts, and notes it as taken. A chamber too
/// narrow or too full for the height in words gets none.
pub(super) fn plan(
    scene: &Scene,
    camera: &Camera,
    style: &Style,
    obstacles: &mut Obstacles,
) -> Vec<Mark> {
    let mut marks = Vec::new();
    for level in &scene.levels {
        let text = height(level, scene);
        let ends = surface(level, scene, camera);
        if let Some(frame) = room(ends, style.note.width(&text), style, obstacles) {
            let at = dvec2(0.5 * (frame.min.x + frame.max.x), ends[0].y);
            marks.push(Mark { chamber: level.chamber.clone(), text, at });
            obstacles.texts.push(frame);
        }
    }
    marks
}

/// The height of a level above the inside of the bottom, in words.
pub(super) fn height(level: &Level, scene: &Scene) -> String {
    Length::mm(level.height_mm).show(scene.report)
}

/// Ends of the surface on the plane of the section, px.
fn surface(level: &Level, scene: &Scene, camera: &Camera) -> [DVec2; 2] {
    let z = level.floor_z + level.height_mm;
    [level.min.x, level.max.x].map(|x| camera.project(dvec3(x, scene.section_y, z)))
}

/// Room for a mark with its text above the surface and its dashes below.
fn room(
    [left, right]: [DVec2; 2],
    width: f64,
    style: &Style,
    obstacles: &Obstacles,
) -> Option<Frame> {
    let u = style.unit;
    let size = dvec2(width + 6.0 * u, 54.0 * u);
    let middle = 0.5 * (left.x + right.x);
    let slack = 0.5 * (right.x - left.x - size.x);
    if slack < 0.0 {
        return None;
    }
    let height = left.y - 14.0 * u;
    let steps = [0.0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75, -1.0, 1.0];
    let middles = steps.map(|step| dvec2(middle + step * slack, height));
    obstacles.best(&middles, size)
}

/// Draws a mark: a triangle on its point, three dashes that grow shorter below it, the height above.
pub(super) fn draw(canvas: &mut Canvas, mark: &Mark, style: &Style) {
    let (u, at) = (style.unit, mark.at);
    let corners = [at, at + dvec2(-8.5, -14.5) * u, at + dvec2(8.5, -14.5) * u];
    canvas.polygon(&corners, HALO);
    canvas.outline(&corners, 1.6 * u, WATER);
    for (i, half) in [13.0, 8.0, 3.5].into_iter().enumerate() {
        let y = at.y + 4.5 * u * (i + 1) as f64;
        canvas.line(&[dvec2(at.x - half * u, y), dvec2(at.x + half * u, y)], 1.5 * u, WATER);
    }
    let base = at - dvec2(0.5 * style.note.width(&mark.text), 21.0 * u);
    canvas.text(&style.note, &mark.text, base, WATER, Some((3.0 * u, HALO)));
}

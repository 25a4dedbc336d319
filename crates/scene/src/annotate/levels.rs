//! Water levels: the triangle that stands on a surface in drawings, and the height beside it.

use glam::{DVec2, dvec2, dvec3};
use units::Length;

use super::canvas::Canvas;
use super::spots::Obstacles;
use super::{HALO, Style, WATER};
use crate::camera::{Camera, Frame};
use crate::scene::{Level, Scene};

/// Marks the level of each chamber that the section cuts.
pub(super) fn draw(
    canvas: &mut Canvas,
    scene: &Scene,
    camera: &Camera,
    style: &Style,
    obstacles: &mut Obstacles,
) {
    for level in &scene.levels {
        let text = Length::mm(level.height_mm).show(scene.report);
        let [left, right] = surface(level, scene, camera);
        let width = style.note.width(&text);
        if let Some(frame) = place([left, right], width, style, obstacles) {
            let middle = 0.5 * (frame.min.x + frame.max.x);
            triangle(canvas, dvec2(middle, left.y), style);
            let base = dvec2(middle - 0.5 * width, left.y - 21.0 * style.unit);
            canvas.text(&style.note, &text, base, WATER, Some((3.0 * style.unit, HALO)));
            obstacles.texts.push(frame);
        }
    }
}

/// Ends of the surface on the plane of the section, px.
fn surface(level: &Level, scene: &Scene, camera: &Camera) -> [DVec2; 2] {
    let z = level.floor_z + level.height_mm;
    [level.min.x, level.max.x].map(|x| camera.project(dvec3(x, scene.section_y, z)))
}

/// Room for a mark with its text above the surface and its dashes below.
fn place(
    [left, right]: [DVec2; 2],
    width: f64,
    style: &Style,
    obstacles: &Obstacles,
) -> Option<Frame> {
    let u = style.unit;
    let size = dvec2(width.max(30.0 * u) + 4.0 * u, 54.0 * u);
    let middle = 0.5 * (left.x + right.x);
    let slack = (0.5 * (right.x - left.x - size.x)).max(0.0);
    let height = left.y - 14.0 * u;
    let steps = [0.0, -0.3, 0.3, -0.6, 0.6, -1.0, 1.0];
    let middles = steps.map(|step| dvec2(middle + step * slack, height));
    obstacles.best(&middles, size)
}

/// The mark: a triangle on its point, and three dashes that grow shorter below it.
fn triangle(canvas: &mut Canvas, at: DVec2, style: &Style) {
    let u = style.unit;
    let corners = [at, at + dvec2(-8.5, -14.5) * u, at + dvec2(8.5, -14.5) * u];
    canvas.polygon(&corners, HALO);
    canvas.outline(&corners, 1.6 * u, WATER);
    for (i, half) in [13.0, 8.0, 3.5].into_iter().enumerate() {
        let y = at.y + 4.5 * u * (i + 1) as f64;
        let ends = [dvec2(at.x - half * u, y), dvec2(at.x + half * u, y)];
        canvas.line(&ends, 1.5 * u, WATER);
    }
}

//! Names of chambers, written inside them where they fit.

use glam::{DVec2, DVec3, dvec2, dvec3};

use super::canvas::Canvas;
use super::spots::Obstacles;
use super::{HALO, Style, WATER};
use crate::camera::Camera;
use crate::scene::{Label, Level, Scene, Topic};

/// On which plane the names of chambers stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// On the upright plane at the front of each chamber, if nothing but the box's front is before it.
    Front,
    /// On the floor, seen from above.
    Floor,
    /// On the plane of the section.
    Section,
    /// Nowhere inside.
    Nowhere,
}

/// A name that fits into its chamber.
pub(super) struct Name<'a> {
    text: &'a str,
    /// Corners of the room, opposite each other, on the plane.
    room: [DVec3; 2],
}

/// Parts labels into the names that fit inside their chambers, and the others.
pub(super) fn split<'a>(
    labels: &'a [Label],
    scene: &Scene,
    camera: &Camera,
    style: &Style,
    place: Place,
) -> (Vec<Name<'a>>, Vec<&'a Label>) {
    let (mut inside, mut outside) = (Vec::new(), Vec::new());
    for label in labels {
        let level = scene.levels.iter().find(|l| l.chamber == label.text);
        let room = level.filter(|_| label.topic == Topic::Chamber);
        let room = room.and_then(|level| room_of(level, scene, place));
        match room.filter(|room| fits(*room, &label.text, camera, style)) {
            Some(room) => inside.push(Name { text: &label.text, room }),
            None => outside.push(label),
        }
    }
    (inside, outside)
}

fn room_of(level: &Level, scene: &Scene, place: Place) -> Option<[DVec3; 2]> {
    let [bottom, top] = [level.floor_z, level.floor_z + level.height_mm];
    let upright = |y: f64| [dvec3(level.min.x, y, bottom), dvec3(level.max.x, y, top)];
    // A chamber with another in front of it is further back than a wall is thick, by far.
    let is_in_front = level.min.y < 0.2 * scene.outside.y;
    match place {
        Place::Front if is_in_front => Some(upright(level.min.y)),
        Place::Section => Some(upright(scene.section_y)),
        Place::Floor => Some([level.min.extend(bottom), level.max.extend(bottom)]),
        Place::Front | Place::Nowhere => None,
    }
}

fn fits(room: [DVec3; 2], text: &str, camera: &Camera, style: &Style) -> bool {
    let size = (camera.project(room[1]) - camera.project(room[0])).abs();
    let needed = size_of(text, style);
    needed.x + 8.0 * style.unit < size.x && needed.y < size.y
}

fn size_of(text: &str, style: &Style) -> DVec2 {
    dvec2(style.chamber.width(text) + 6.0 * style.unit, 26.0 * style.unit)
}

/// Writes the names where they cover least.
pub(super) fn draw(
    canvas: &mut Canvas,
    names: &[Name<'_>],
    camera: &Camera,
    style: &Style,
    obstacles: &mut Obstacles,
) {
    for name in names {
        let size = size_of(name.text, style);
        let [lo, hi] = name.room;
        let at = |u: f64, v: f64| {
            // The room has no extent along one axis; the other two are upright and level.
            let height = if hi.z > lo.z { lo.z + (hi.z - lo.z) * v } else { lo.z };
            let depth = if hi.z > lo.z { lo.y } else { lo.y + (hi.y - lo.y) * v };
            camera.project(dvec3(lo.x + (hi.x - lo.x) * u, depth, height))
        };
        let width = (at(1.0, 0.0) - at(0.0, 0.0)).x.abs();
        let slack = (0.5 - (0.5 * size.x + 4.0 * style.unit) / width).max(0.0);
        let mut middles = Vec::new();
        for v in [0.16, 0.28, 0.40, 0.52, 0.64, 0.76] {
            for u in [0.0, -0.5, 0.5, -1.0, 1.0] {
                middles.push(at(0.5 + u * slack, v));
            }
        }
        if let Some(frame) = obstacles.best(&middles, size) {
            let base = dvec2(
                frame.min.x + 3.0 * style.unit,
                0.5 * (frame.min.y + frame.max.y) + 0.5 * style.chamber.cap_height,
            );
            canvas.text(&style.chamber, name.text, base, WATER, Some((3.0 * style.unit, HALO)));
            obstacles.texts.push(frame);
        }
    }
}

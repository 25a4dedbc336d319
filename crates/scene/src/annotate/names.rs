//! Names of chambers, written inside them where they fit.

use glam::{DVec2, DVec3, dvec2, dvec3};

use super::canvas::Canvas;
use super::spots::Obstacles;
use super::{HALO, Style, WATER};
use crate::camera::{Camera, Frame};
use crate::scene::{Level, Scene};
use crate::seen::Seen;

/// On which plane the names of chambers stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// On the upright plane at the front of each chamber.
    Front,
    /// On the floor, seen from above.
    Floor,
    /// On the plane of the section.
    Section,
    /// Nowhere inside.
    Nowhere,
}

/// A name with its room inside a chamber.
#[derive(Debug)]
pub(super) struct Name {
    text: String,
    frame: Frame,
}

/// What decides where names go.
#[derive(Clone, Copy, Debug)]
pub(super) struct Surroundings<'a> {
    pub(super) scene: &'a Scene,
    pub(super) camera: &'a Camera,
    pub(super) seen: &'a Seen<'a>,
    pub(super) style: &'a Style,
    pub(super) place: Place,
}

impl Surroundings<'_> {
    /// Finds room for a name in its chamber and notes it as taken; `None` where it would not fit, would
    /// cover too much, or where the chamber cannot be seen.
    pub(super) fn place(
        &self,
        text: &str,
        level: &Level,
        obstacles: &mut Obstacles,
    ) -> Option<Name> {
        let room = self.room(level)?;
        let unit = self.style.unit;
        let size = dvec2(self.style.chamber.width(text) + 6.0 * unit, 26.0 * unit);
        let shown = (self.camera.project(room[1]) - self.camera.project(room[0])).abs();
        if shown.x < size.x + 8.0 * unit || shown.y < size.y {
            return None;
        }
        let slack = 0.5 - (0.5 * size.x + 4.0 * unit) / shown.x;
        let places = spread(room, slack).into_iter().filter(|&p| self.seen.sees(p));
        let middles: Vec<DVec2> = places.map(|p| self.camera.project(p)).collect();
        let frame = obstacles.best(&middles, size)?;
        obstacles.texts.push(frame);
        Some(Name { text: text.to_owned(), frame })
    }

    /// Opposite corners of the plane on which the name may stand.
    fn room(&self, level: &Level) -> Option<[DVec3; 2]> {
        let [bottom, top] = [level.floor_z, level.floor_z + level.height_mm];
        let upright = |y: f64| [dvec3(level.min.x, y, bottom), dvec3(level.max.x, y, top)];
        match self.place {
            // A chamber with another in front of it is further back than a wall is thick, by far.
            Place::Front if level.min.y > 0.2 * self.scene.outside.y => None,
            Place::Front => Some(upright(level.min.y)),
            Place::Section => Some(upright(self.scene.section_y)),
            Place::Floor => Some([level.min.extend(top), level.max.extend(top)]),
            Place::Nowhere => None,
        }
    }
}

/// Points of a plane that is upright, or level, in the order in which they are liked; `slack` is how far
/// from its middle a text may stand, as a share of its width.
fn spread([lo, hi]: [DVec3; 2], slack: f64) -> Vec<DVec3> {
    let is_upright = hi.z > lo.z;
    let at = |u: f64, v: f64| {
        let along = lo.x + (hi.x - lo.x) * u;
        if is_upright {
            dvec3(along, lo.y, lo.z + (hi.z - lo.z) * v)
        } else {
            dvec3(along, lo.y + (hi.y - lo.y) * v, lo.z)
        }
    };
    let rows = [0.16, 0.28, 0.40, 0.52, 0.64, 0.76];
    let columns = [0.0, -0.5, 0.5, -1.0, 1.0];
    rows.iter().flat_map(|&v| columns.iter().map(move |&u| at(0.5 + u * slack, v))).collect()
}

/// Writes a name.
pub(super) fn draw(canvas: &mut Canvas, name: &Name, style: &Style) {
    let middle = 0.5 * (name.frame.min.y + name.frame.max.y);
    let base = dvec2(name.frame.min.x + 3.0 * style.unit, middle + 0.5 * style.chamber.cap_height);
    canvas.text(&style.chamber, &name.text, base, WATER, Some((3.0 * style.unit, HALO)));
}

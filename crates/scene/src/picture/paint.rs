//! What surfaces do to light: a table for clear sheet, a colour for the rest.

use glam::{Vec3, vec3};

use super::light;
use crate::scene::{Look, Side};

/// What a facet is covered with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Paint {
    /// Clear sheet; index into [`Paints::films`].
    Film(usize),
    /// An opaque, lit surface.
    Opaque(Vec3),
    /// Cut through by the section: an even colour without light.
    Cut(Vec3),
    /// The surface of water.
    WaterTop,
    /// The side or the underside of water, where it meets sheet.
    WaterSide,
}

/// What a clear face does to light, by the cosine between its normal and the line of sight.
#[derive(Debug)]
pub(super) struct Film {
    look: Look,
    side: Side,
    table: Vec<Passage>,
}

/// One line of a film's table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Passage {
    /// Share of light from behind that comes through.
    pub(super) passed: Vec3,
    /// Share of the surroundings that is mirrored.
    pub(super) mirrored: f32,
}

/// Steps of the cosine in a film's table.
const STEPS: u16 = 1023;

impl Film {
    fn new(look: Look, side: Side) -> Self {
        let colour = light::linear(look.colour);
        let hue = colour / colour.max_element().max(1e-3);
        let (at_right_angle, base) = match side {
            Side::Broad | Side::Cut => (0.012, Vec3::ONE.lerp(hue, 0.07) * 0.988),
            // Sheet with a tint shows it at its edges, the deeper the more; colourless sheet greys.
            Side::Edge => {
                let saturation = ((1.0 - hue.min_element()) * 4.0).min(1.0);
                let tint = vec3(0.78, 0.81, 0.82).lerp(vec3(0.62, 0.84, 0.88), saturation);
                (0.03, hue * tint)
            }
        };
        let passage = |step: u16| {
            let cosine = f32::from(step) / f32::from(STEPS);
            // The way through a layer of colour grows with the obliquity of sight, up to a limit that
            // stands for the way's bend in the sheet (its refractive index is about 1.5).
            let way = (1.0 / cosine.max(0.4)).min(2.5);
            let mirrored = light::mirrored(cosine, at_right_angle, 0.22);
            let tint =
                vec3(libm::powf(base.x, way), libm::powf(base.y, way), libm::powf(base.z, way));
            Passage { passed: tint * (1.0 - mirrored), mirrored }
        };
        Self { look, side, table: (0..=STEPS).map(passage).collect() }
    }

    pub(super) fn at(&self, cosine: f32) -> Passage {
        self.table[super::pixel::index(cosine.min(1.0) * f32::from(STEPS) + 0.5)]
    }
}

/// The films of a picture, each once.
#[derive(Debug, Default)]
pub(super) struct Paints {
    films: Vec<Film>,
}

impl Paints {
    /// The paint of a body's faces on one kind of side.
    pub(super) fn of(&mut self, look: Look, side: Side) -> Paint {
        match (side, look.is_clear) {
            (Side::Cut, true) => Paint::Cut(light::linear(look.colour) * vec3(0.16, 0.42, 0.50)),
            (Side::Cut, false) => Paint::Cut(light::linear(look.colour) * 0.40),
            (_, false) => Paint::Opaque(light::linear(look.colour) * 0.92),
            (_, true) => Paint::Film(self.film(look, side)),
        }
    }

    fn film(&mut self, look: Look, side: Side) -> usize {
        let known = self.films.iter().position(|f| f.look == look && f.side == side);
        known.unwrap_or_else(|| {
            self.films.push(Film::new(look, side));
            self.films.len() - 1
        })
    }

    pub(super) fn film_at(&self, film: usize) -> &Film {
        &self.films[film]
    }
}

//! Lines of sight in single precision, for shading.

use glam::{Vec2, Vec3};

use crate::camera::{Camera, Lens};

/// A camera's lines of sight.
#[derive(Clone, Debug)]
pub(super) struct Sightlines {
    eye: Vec3,
    right: Vec3,
    down: Vec3,
    forward: Vec3,
    centre: Vec2,
    per_px: f32,
    lens: Lens,
}

impl Sightlines {
    pub(super) fn of(camera: &Camera) -> Self {
        Self {
            eye: camera.eye.as_vec3(),
            right: camera.right.as_vec3(),
            down: -camera.up.as_vec3(),
            forward: camera.forward.as_vec3(),
            centre: camera.centre.as_vec2(),
            per_px: super::pixel::single(1.0 / camera.scale),
            lens: camera.lens,
        }
    }

    /// Unit vector along the line of sight through a place in the picture.
    pub(super) fn ray(&self, place: Vec2) -> Vec3 {
        match self.lens {
            Lens::Perspective => (self.forward + self.across(place)).normalize(),
            Lens::Parallel => self.forward,
        }
    }

    /// Where it starts.
    pub(super) fn start(&self, place: Vec2) -> Vec3 {
        match self.lens {
            Lens::Perspective => self.eye,
            Lens::Parallel => self.eye + self.across(place),
        }
    }

    /// Length along a line of sight per unit of depth.
    pub(super) fn stretch(&self, ray: Vec3) -> f32 {
        1.0 / ray.dot(self.forward)
    }

    /// From [`Camera::nearness`] back to depth, mm.
    pub(super) fn depth(&self, near: f32) -> f32 {
        match self.lens {
            Lens::Perspective => 1.0 / near,
            Lens::Parallel => -near,
        }
    }

    fn across(&self, place: Vec2) -> Vec3 {
        let slope = (place - self.centre) * self.per_px;
        self.right * slope.x + self.down * slope.y
    }
}

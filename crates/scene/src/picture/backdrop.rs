//! What is behind everything: an even ground, and the soft shadow that the sump stands in.

use glam::{DVec3, Vec2, Vec3, vec2, vec3};

use super::light;
use super::sight::Sightlines;

/// The ground under a sump, and the light around it.
#[derive(Clone, Debug)]
pub(super) struct Backdrop {
    top: Vec3,
    bottom: Vec3,
    height: f32,
    /// Footprint of the sump on the ground.
    min: Vec2,
    max: Vec2,
    /// Size that shadows are soft to, mm.
    reach: f32,
}

impl Backdrop {
    /// `outside` is the size of the box, `height` that of the picture in px.
    pub(super) fn new(outside: DVec3, height: usize) -> Self {
        let outside = outside.as_vec3();
        Self {
            top: light::linear([250, 250, 248]),
            bottom: light::linear([233, 236, 238]),
            height: height as f32,
            min: Vec2::ZERO,
            max: vec2(outside.x, outside.y),
            reach: 0.16 * outside.max_element(),
        }
    }

    /// Light from behind everything along the line of sight through a place.
    pub(super) fn at(&self, place: Vec2, sightlines: &Sightlines) -> Vec3 {
        let even = self.top.lerp(self.bottom, (place.y / self.height).clamp(0.0, 1.0));
        let (start, ray) = (sightlines.start(place), sightlines.ray(place));
        if ray.z > -0.02 {
            return even * self.shadow_from_the_side(start, ray);
        }
        let hit = start - ray * (start.z / ray.z);
        even * self.shadow(vec2(hit.x, hit.y))
    }

    /// Share of light that reaches the ground: a tight dark seam where the sump stands, a wide soft
    /// one beside it, away from the main light.
    fn shadow(&self, at: Vec2) -> Vec3 {
        let outside = self.distance(at);
        let contact = falloff(outside, 0.10 * self.reach);
        let soft = falloff(self.distance(at - vec2(0.25, 0.18) * self.reach), self.reach);
        // Through clear sheet and water light reaches the ground below: only the border is dark.
        let below = falloff(-outside - 0.1 * self.reach, 0.35 * self.reach);
        let dark = (0.16 * contact + 0.22 * soft) * (0.25 + 0.75 * below);
        Vec3::ONE - dark * vec3(1.0, 0.97, 0.93)
    }

    /// Seen along the ground, its shadow is a thin band below the sump's underside.
    fn shadow_from_the_side(&self, start: Vec3, ray: Vec3) -> Vec3 {
        let below = -start.z;
        if below < 0.0 || ray.z > 0.5 {
            return Vec3::ONE;
        }
        let beside = (self.min.x - start.x).max(start.x - self.max.x).max(0.0);
        let dark = 0.30 * falloff(below, 0.10 * self.reach) * falloff(beside, 0.10 * self.reach);
        Vec3::ONE - dark * vec3(1.0, 0.97, 0.93)
    }

    /// Distance outside the footprint, mm; negative inside.
    fn distance(&self, at: Vec2) -> f32 {
        let outside = (self.min - at).max(at - self.max);
        outside.max(Vec2::ZERO).length() + outside.max_element().min(0.0)
    }
}

/// 1 deep inside, 0 far outside, soft over `reach` on either side of the border.
fn falloff(distance: f32, reach: f32) -> f32 {
    let t = (0.5 - 0.5 * distance / reach).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

//! Where one looks from, and how the pointer and keys change it.

use glam::{DVec2, DVec3, dvec3};
use scene::{Camera, Frame, Lens};

/// Half the height of the picture over its distance in perspective: an angle of 22°, so that uprights stay nearly
/// upright as in the pictures (our judgement).
const HALF_SLOPE: f64 = 0.194;
/// How far one can tilt, rad: short of straight up and down by too little to see.
const MOST_PITCH: f64 = std::f64::consts::FRAC_PI_2 - 1e-4;
/// Turn of a drag, rad per picture height: across the picture is half a turn and a bit (our judgement).
const TURN_PER_HEIGHT: f64 = 4.0;
/// Least and greatest distance, mm: a screw fills the picture, or a sump is a dot (our judgement).
const DISTANCES_MM: [f64; 2] = [40.0, 40_000.0];

/// Rounds in which points are fitted into the picture; after these it is filled to 2 % in all our tests (our judgement).
const FIT_ROUNDS: usize = 8;

/// The eye on a sphere around what is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Orbit {
    /// What is in the middle, mm.
    pub target: DVec3,
    /// Turn about the upright axis, rad: 0 from the front, growing to the right.
    pub yaw: f64,
    /// Tilt, rad: 0 level, growing upwards.
    pub pitch: f64,
    /// From the target to the eye, mm.
    pub distance_mm: f64,
    /// How lines of sight run.
    pub lens: Lens,
}

/// Directions to look from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// From the front, the left and above.
    Corner,
    /// From the front.
    Front,
    /// From behind.
    Back,
    /// From the end where the water comes in.
    Inlet,
    /// From the other end.
    Outlet,
    /// From straight above.
    Above,
}

impl Side {
    /// All, in the order of their keys 1 to 6.
    pub const ALL: [Self; 6] =
        [Self::Corner, Self::Front, Self::Back, Self::Inlet, Self::Outlet, Self::Above];

    /// A word for a button.
    pub fn words(self) -> &'static str {
        match self {
            Self::Corner => "corner",
            Self::Front => "front",
            Self::Back => "back",
            Self::Inlet => "inlet end",
            Self::Outlet => "far end",
            Self::Above => "above",
        }
    }

    /// From what is shown to the eye.
    pub fn direction(self) -> DVec3 {
        match self {
            Self::Corner => dvec3(-0.46, -1.0, 0.60),
            Self::Front => -DVec3::Y,
            Self::Back => DVec3::Y,
            Self::Inlet => -DVec3::X,
            Self::Outlet => DVec3::X,
            Self::Above => DVec3::Z,
        }
    }
}

impl Orbit {
    /// Looks along a direction at all `points`.
    pub fn around(from: DVec3, lens: Lens, points: &[DVec3], frame: Frame) -> Self {
        let orbit = Self { target: DVec3::ZERO, yaw: 0.0, pitch: 0.0, distance_mm: 1000.0, lens };
        orbit.facing(from).fitted(points, frame)
    }

    /// The same target from another direction (from the target to the eye).
    #[must_use]
    pub fn facing(self, from: DVec3) -> Self {
        let level = from.x.hypot(from.y);
        // From straight above the front stays below in the picture.
        let yaw = if level < 1e-9 { 0.0 } else { from.x.atan2(-from.y) };
        let pitch = from.z.atan2(level).clamp(-MOST_PITCH, MOST_PITCH);
        Self { yaw, pitch, ..self }
    }

    /// Moved nearer or farther and sideways until all `points` just fit into the frame.
    #[must_use]
    pub fn fitted(mut self, points: &[DVec3], frame: Frame) -> Self {
        let (lo, hi) = points
            .iter()
            .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), p| (lo.min(*p), hi.max(*p)));
        if points.is_empty() {
            return self;
        }
        self.target = 0.5 * (lo + hi);
        self.distance_mm =
            ((hi - lo).length() / HALF_SLOPE).clamp(DISTANCES_MM[0], DISTANCES_MM[1]);
        // In perspective the size of things changes with the distance: a few rounds settle it.
        for _ in 0..FIT_ROUNDS {
            let camera = self.camera(frame);
            let Some(shown) = Frame::around(points.iter().map(|p| camera.project(*p))) else {
                break;
            };
            let middle = 0.5 * (shown.min + shown.max);
            self = self.panned(0.5 * (frame.min + frame.max) - middle, frame);
            let used = shown.size() / frame.size();
            let farther = self.distance_mm * used.x.max(used.y).max(1e-3);
            self.distance_mm = farther.clamp(DISTANCES_MM[0], DISTANCES_MM[1]);
        }
        self
    }

    /// From the target to the eye.
    pub fn direction(&self) -> DVec3 {
        let (sy, cy) = self.yaw.sin_cos();
        let (sp, cp) = self.pitch.sin_cos();
        dvec3(sy * cp, -cy * cp, sp)
    }

    /// The camera for a picture that fills `frame`.
    pub fn camera(&self, frame: Frame) -> Camera {
        let forward = -self.direction();
        let right = dvec3(self.yaw.cos(), self.yaw.sin(), 0.0);
        let per_slope = 0.5 * frame.size().y / HALF_SLOPE;
        Camera {
            eye: self.target - forward * self.distance_mm,
            right,
            up: right.cross(forward),
            forward,
            lens: self.lens,
            scale: match self.lens {
                Lens::Perspective => per_slope,
                Lens::Parallel => per_slope / self.distance_mm,
            },
            centre: 0.5 * (frame.min + frame.max),
        }
    }

    /// Turned by a drag of so many px in a picture of a height, px.
    #[must_use]
    pub fn turned(self, drag: DVec2, height: f64) -> Self {
        let turn = drag * (TURN_PER_HEIGHT / height.max(1.0));
        let pitch = (self.pitch + turn.y).clamp(-MOST_PITCH, MOST_PITCH);
        Self { yaw: (self.yaw - turn.x) % std::f64::consts::TAU, pitch, ..self }
    }

    /// Moved so that what is at the target's depth goes along with a drag, px.
    #[must_use]
    pub fn panned(self, drag: DVec2, frame: Frame) -> Self {
        let camera = self.camera(frame);
        let mm = drag * self.mm_per_px(frame);
        Self { target: self.target - camera.right * mm.x + camera.up * mm.y, ..self }
    }

    /// Nearer by `factor` (above 1) or farther (below), keeping what is at the target's depth under a place.
    #[must_use]
    pub fn zoomed(self, factor: f64, place: DVec2, frame: Frame) -> Self {
        let distance_mm =
            (self.distance_mm / factor.max(1e-3)).clamp(DISTANCES_MM[0], DISTANCES_MM[1]);
        let kept = distance_mm / self.distance_mm;
        let camera = self.camera(frame);
        let mm = (place - camera.centre) * self.mm_per_px(frame);
        let under = self.target + camera.right * mm.x - camera.up * mm.y;
        Self { target: under + (self.target - under) * kept, distance_mm, ..self }
    }

    /// Size of a pixel at the target, mm.
    pub fn mm_per_px(&self, frame: Frame) -> f64 {
        self.distance_mm * HALF_SLOPE * 2.0 / frame.size().y.max(1.0)
    }

    /// The other lens; things at the target's depth keep their size.
    #[must_use]
    pub fn with_other_lens(self) -> Self {
        let lens = match self.lens {
            Lens::Perspective => Lens::Parallel,
            Lens::Parallel => Lens::Perspective,
        };
        Self { lens, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    const FRAME: Frame = Frame { min: dvec2(0.0, 0.0), max: dvec2(900.0, 600.0) };

    fn corners() -> Vec<DVec3> {
        let pick = |i: usize, bit: usize, v: f64| if i & bit == 0 { 0.0 } else { v };
        (0..8).map(|i| dvec3(pick(i, 1, 900.), pick(i, 2, 400.), pick(i, 4, 350.))).collect()
    }

    fn orbits() -> impl Iterator<Item = Orbit> {
        [Lens::Perspective, Lens::Parallel].into_iter().flat_map(|lens| {
            Side::ALL.map(|side| Orbit::around(side.direction(), lens, &corners(), FRAME))
        })
    }

    #[test]
    fn everything_is_shown_and_fills_one_direction() {
        for orbit in orbits() {
            let camera = orbit.camera(FRAME);
            let shown = Frame::around(corners().into_iter().map(|p| camera.project(p)));
            let shown = shown.expect("there are corners");
            assert!(FRAME.grown(1.0).contains(&shown), "{orbit:?}: {shown:?}");
            let used = shown.size() / FRAME.size();
            assert!(used.x.max(used.y) > 0.98, "{orbit:?}: {used}");
        }
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        for orbit in orbits() {
            let place = dvec2(700.0, 130.0);
            let camera = orbit.camera(FRAME);
            // The point at the target's depth under the pointer.
            let ray = camera.ray(place);
            let depth = (orbit.target - camera.ray_start(place)).dot(camera.forward);
            let point = camera.ray_start(place) + ray * (depth / ray.dot(camera.forward));
            let nearer = orbit.zoomed(1.7, place, FRAME);
            let after = nearer.camera(FRAME).project(point);
            assert!(after.distance(place) < 1e-6, "{orbit:?}: {after}");
            assert!(nearer.mm_per_px(FRAME) < 0.6 * orbit.mm_per_px(FRAME));
        }
    }

    #[test]
    fn a_drag_takes_the_target_along() {
        for orbit in orbits() {
            let moved = orbit.panned(dvec2(30.0, -50.0), FRAME).camera(FRAME);
            let place = moved.project(orbit.target);
            assert!(place.distance(dvec2(480.0, 250.0)) < 1e-6, "{place}");
        }
    }

    #[test]
    fn changing_the_lens_keeps_the_size_at_the_target() {
        for orbit in orbits() {
            let point = orbit.target + orbit.camera(FRAME).right * 100.0;
            let before = orbit.camera(FRAME).project(point);
            let after = orbit.with_other_lens().camera(FRAME).project(point);
            assert!(before.distance(after) < 1e-6);
        }
    }

    #[test]
    fn one_never_tips_over() {
        let orbit = orbits().next().expect("there is one");
        let up = orbit.turned(dvec2(0.0, 5000.0), 600.0);
        assert!(up.direction().z < 1.0 && up.direction().z > 0.999);
        let camera = up.camera(FRAME);
        assert!((camera.right.cross(camera.forward) - camera.up).length() < 1e-9);
    }
}

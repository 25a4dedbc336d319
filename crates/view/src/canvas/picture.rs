//! All that one picture of the model depends on.

use fit::Rigid;
use glam::{DMat4, DVec3, DVec4, Mat4};
use scene::{Camera, Lens};
use show::ThingId;

use crate::cut::Plane;

/// How finely a picture is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Four samples a pixel.
    Fine,
    /// One sample a pixel.
    Plain,
    /// Four samples for each three by three pixels: while something moves and the machine is slow.
    Coarse,
    /// One sample for each two by two pixels: when it is slower still.
    Coarsest,
}

impl Detail {
    /// How many there are.
    pub(super) const COUNT: usize = 4;

    /// While something moves, with a grain of [`Pace`](crate::pace::Pace).
    pub fn of_grain(grain: usize) -> Self {
        [Self::Plain, Self::Coarse].get(grain).copied().unwrap_or(Self::Coarsest)
    }

    pub(super) fn samples(self) -> u32 {
        if self == Self::Fine { 4 } else { 1 }
    }

    /// From pixels of the window to samples along one direction.
    fn sampled(self, px: u32) -> u32 {
        match self {
            Self::Fine | Self::Plain => px,
            Self::Coarse => (2 * px).div_ceil(3),
            Self::Coarsest => px.div_ceil(2),
        }
    }
}

/// Water as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pool {
    /// Least and greatest corner, mm.
    pub corners: [DVec3; 2],
    /// Whether its top is a surface.
    pub has_surface: bool,
}

/// One picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Place of the eye and what it sees, px of the window.
    pub(crate) eye: DVec3,
    pub(crate) forward: DVec3,
    pub(crate) is_parallel: bool,
    pub(crate) to_clip: Mat4,
    /// Size in the window, px.
    pub size_px: [u32; 2],
    /// Size of a line, px of the window.
    pub line_px: f32,
    /// Where every body is; `None`: nowhere.
    pub places: Vec<Option<Rigid>>,
    /// What is picked.
    pub picked: Option<ThingId>,
    /// What moves.
    pub moving: Vec<ThingId>,
    /// What is cut away.
    pub plane: Plane,
    /// The water.
    pub pools: Vec<Pool>,
    /// A share of the light that water takes over a mm: by the size of the box, as in the pictures.
    pub box_mm: f64,
    /// Whether the look is the dark one.
    pub is_dark: bool,
    /// How finely.
    pub detail: Detail,
}

/// From depth to the picture's, mm: what lies nearer to the eye than this share of the way is not drawn.
const NEAREST: f64 = 0.02;
/// What lies farther than this beyond the target is not drawn, mm.
const FAR_MM: f64 = 20_000.0;

impl Picture {
    /// A picture without water, of all bodies in their places.
    pub fn new(camera: &Camera, distance_mm: f64, size_px: [u32; 2]) -> Self {
        Self {
            eye: camera.eye,
            forward: camera.forward,
            is_parallel: camera.lens == Lens::Parallel,
            to_clip: to_clip(camera, distance_mm, size_px).as_mat4(),
            size_px,
            line_px: 1.2,
            places: Vec::new(),
            picked: None,
            moving: Vec::new(),
            plane: Plane::NOWHERE,
            pools: Vec::new(),
            box_mm: 1000.0,
            is_dark: false,
            detail: Detail::Fine,
        }
    }

    /// Whether both show the same, however finely.
    pub(crate) fn is_like(&self, other: &Self) -> bool {
        Self { detail: other.detail, line_px: other.line_px, ..self.clone() } == *other
    }

    /// Size of what is drawn, px.
    pub(super) fn drawn_px(&self) -> [u32; 2] {
        self.size_px.map(|px| self.detail.sampled(px).max(1))
    }

    pub(super) fn eye(&self) -> DVec3 {
        self.eye
    }

    pub(super) fn forward(&self) -> DVec3 {
        self.forward
    }

    pub(super) fn is_parallel(&self) -> bool {
        self.is_parallel
    }

    pub(super) fn to_clip(&self) -> [[f32; 4]; 4] {
        self.to_clip.to_cols_array_2d()
    }
}

/// From the sump's coordinates to those of the graphics processor, in which the picture reaches from −1 to 1.
fn to_clip(camera: &Camera, distance_mm: f64, [width, height]: [u32; 2]) -> DMat4 {
    let [width, height] = [f64::from(width.max(1)), f64::from(height.max(1))];
    let row = |axis: DVec3, by: f64| (axis * by).extend(-axis.dot(camera.eye) * by);
    let depth = row(camera.forward, 1.0);
    let (near, far) = (NEAREST * distance_mm, distance_mm + FAR_MM);
    let one = DVec4::W;
    let (z, w) = match camera.lens {
        Lens::Perspective => {
            let (a, b) = ((far + near) / (far - near), 2.0 * far * near / (far - near));
            (depth * a - one * b, depth)
        }
        // Parallel lines of sight begin far behind the eye too.
        Lens::Parallel => (depth / far, one),
    };
    let x =
        row(camera.right, 2.0 * camera.scale / width) + w * (2.0 * camera.centre.x / width - 1.0);
    let y =
        row(camera.up, 2.0 * camera.scale / height) + w * (1.0 - 2.0 * camera.centre.y / height);
    DMat4::from_cols(x, y, z, w).transpose()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::orbit::{Orbit, Side};
    use glam::{dvec2, dvec3};
    use scene::Frame;

    #[test]
    fn the_graphics_processor_puts_points_where_labels_think_they_are() {
        let size = [800_u32, 500];
        let frame = Frame { min: dvec2(0.0, 0.0), max: dvec2(800.0, 500.0) };
        let points = [DVec3::ZERO, dvec3(900.0, 400.0, 350.0), dvec3(10.0, 390.0, 20.0)];
        for lens in [Lens::Perspective, Lens::Parallel] {
            for side in Side::ALL {
                let orbit = Orbit::around(side.direction(), lens, &points, frame);
                let camera = orbit.camera(frame);
                let matrix = to_clip(&camera, orbit.distance_mm, size);
                for point in points {
                    let clip = matrix * point.extend(1.0);
                    let ndc = clip.truncate() / clip.w;
                    let place = dvec2(0.5 + 0.5 * ndc.x, 0.5 - 0.5 * ndc.y) * dvec2(800.0, 500.0);
                    assert!(place.distance(camera.project(point)) < 1e-6, "{side:?} {lens:?}");
                    assert!(ndc.z.abs() < 1.0, "{side:?} {lens:?}: {ndc}");
                }
            }
        }
    }
}

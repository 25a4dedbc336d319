//! Cutting facets and lines to what the camera can show.

use glam::DVec3;

use crate::camera::{Camera, Lens};

/// A corner on its way to the picture: its [`Camera::view`], and its normal.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    pub(super) view: DVec3,
    pub(super) normal: DVec3,
}

impl Corner {
    fn lerp(self, other: Self, t: f64) -> Self {
        Self { view: self.view.lerp(other.view, t), normal: self.normal.lerp(other.normal, t) }
    }
}

/// What can be shown: beyond a least depth, and not so far beside the picture that whole numbers of
/// subpixels would grow too large.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sight {
    nearest: f64,
    /// Greatest offset from the line of sight, per unit of depth (perspective) or in mm (parallel).
    widest: f64,
    lens: Lens,
}

/// Places further than this from the picture's centre are cut off, px. The picture itself is smaller.
const WIDEST_PX: f64 = 60_000.0;

impl Sight {
    /// `radius` is half the size of what is shown, mm.
    pub(super) fn new(camera: &Camera, radius: f64) -> Self {
        Self { nearest: 1e-3 * radius, widest: WIDEST_PX / camera.scale, lens: camera.lens }
    }

    /// How far a point lies inside each of the five planes that bound what can be shown.
    fn inside(&self, p: DVec3) -> [f64; 5] {
        let side = match self.lens {
            Lens::Perspective => self.widest * p.z,
            Lens::Parallel => self.widest,
        };
        [p.z - self.nearest, side - p.x, side + p.x, side - p.y, side + p.y]
    }

    fn is_inside(&self, p: DVec3) -> bool {
        self.inside(p).iter().all(|&d| d >= 0.0)
    }

    /// The part of a polygon that can be shown (Sutherland and Hodgman, plane by plane).
    pub(super) fn clip_polygon(&self, corners: [Corner; 3]) -> Vec<Corner> {
        let mut polygon = corners.to_vec();
        if polygon.iter().all(|c| self.is_inside(c.view)) {
            return polygon;
        }
        for plane in 0..5 {
            let depth = |c: &Corner| self.inside(c.view)[plane];
            let mut kept = Vec::with_capacity(polygon.len() + 1);
            for (i, &a) in polygon.iter().enumerate() {
                let b = polygon[(i + 1) % polygon.len()];
                let (da, db) = (depth(&a), depth(&b));
                if da >= 0.0 {
                    kept.push(a);
                }
                if (da >= 0.0) != (db >= 0.0) {
                    kept.push(a.lerp(b, da / (da - db)));
                }
            }
            polygon = kept;
        }
        polygon
    }

    /// The part of a line that can be shown.
    pub(super) fn clip_line(&self, [a, b]: [DVec3; 2]) -> Option<[DVec3; 2]> {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (da, db) in self.inside(a).into_iter().zip(self.inside(b)) {
            if da < 0.0 && db < 0.0 {
                return None;
            }
            if da < 0.0 {
                from = from.max(da / (da - db));
            } else if db < 0.0 {
                to = to.min(da / (da - db));
            }
        }
        (from < to).then(|| [a.lerp(b, from), a.lerp(b, to)])
    }
}

//! From the sump's coordinates to the picture's.

use glam::{DVec2, DVec3, dvec2};

/// How lines of sight run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lens {
    /// Through one point: near things look larger.
    Perspective,
    /// Parallel: lengths across the line of sight are to scale.
    Parallel,
}

/// A rectangle in the picture, px, `y` down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Upper left corner.
    pub min: DVec2,
    /// Lower right corner.
    pub max: DVec2,
}

impl Frame {
    /// The least frame around points; `None` without any.
    pub fn around(points: impl IntoIterator<Item = DVec2>) -> Option<Self> {
        points.into_iter().fold(None, |frame: Option<Self>, p| {
            Some(
                frame.map_or(Self { min: p, max: p }, |f| Self {
                    min: f.min.min(p),
                    max: f.max.max(p),
                }),
            )
        })
    }

    /// Width and height, px.
    pub fn size(&self) -> DVec2 {
        self.max - self.min
    }

    /// The frame grown by `margin` on each side, px.
    pub fn grown(&self, margin: f64) -> Self {
        Self { min: self.min - margin, max: self.max + margin }
    }

    /// Whether another frame lies inside.
    pub fn contains(&self, other: &Self) -> bool {
        self.min.cmple(other.min).all() && other.max.cmple(self.max).all()
    }

    /// Whether a point lies inside.
    pub fn holds(&self, point: DVec2) -> bool {
        self.min.cmple(point).all() && point.cmple(self.max).all()
    }

    /// Whether two frames overlap.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.min.cmplt(other.max).all() && other.min.cmplt(self.max).all()
    }
}

/// Where a picture is taken from. `depth` is the distance from the eye along the line of sight, mm.
#[derive(Clone, Copy, Debug)]
pub struct Camera {
    /// The eye.
    pub eye: DVec3,
    /// Unit vector to the right of the picture.
    pub right: DVec3,
    /// Unit vector up the picture.
    pub up: DVec3,
    /// Unit vector into the picture.
    pub forward: DVec3,
    /// How lines of sight run.
    pub lens: Lens,
    /// Pixels per mm (parallel), or per unit of slope (perspective).
    pub scale: f64,
    /// Where the line of sight through the eye meets the picture, px.
    pub centre: DVec2,
}

/// Distance of the eye from the middle of what is shown, in radii of the sphere around it: far enough
/// that uprights stay nearly upright, near enough that depth is felt.
const EYE_DISTANCE: f64 = 6.0;

impl Camera {
    /// A camera that looks from the direction `from` (from what is shown to the eye) and shows all
    /// `points`, as large as fits into `frame` and in its middle. `up` need not be square to `from`.
    pub fn framed(from: DVec3, up: DVec3, lens: Lens, points: &[DVec3], frame: Frame) -> Self {
        let forward = -from.normalize();
        let right = forward.cross(up).normalize();
        let (lo, hi) = points
            .iter()
            .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), &p| (lo.min(p), hi.max(p)));
        let (lo, hi) = if points.is_empty() { (DVec3::ZERO, DVec3::ONE) } else { (lo, hi) };
        let radius = (0.5 * (hi - lo).length()).max(1.0);
        let eye = 0.5 * (lo + hi) - forward * (EYE_DISTANCE * radius);
        let rough = Self {
            eye,
            right,
            up: right.cross(forward),
            forward,
            lens,
            scale: 1.0,
            centre: DVec2::ZERO,
        };
        rough.fitted(points, frame)
    }

    fn fitted(self, points: &[DVec3], frame: Frame) -> Self {
        let shown = Frame::around(points.iter().map(|&p| self.project(p)));
        let shown = shown.unwrap_or(Frame { min: DVec2::splat(-0.5), max: DVec2::splat(0.5) });
        let room = frame.size() / shown.size().max(DVec2::splat(1e-9));
        let scale = room.x.min(room.y).max(1e-9);
        let centre = 0.5 * (frame.min + frame.max) - 0.5 * (shown.min + shown.max) * scale;
        Self { scale, centre, ..self }
    }

    /// Offsets to the right and down (mm), and the depth.
    pub fn view(&self, p: DVec3) -> DVec3 {
        let d = p - self.eye;
        DVec3::new(d.dot(self.right), -d.dot(self.up), d.dot(self.forward))
    }

    /// The place in the picture, px, of a point given by its [`Camera::view`].
    pub fn place(&self, view: DVec3) -> DVec2 {
        let slope = match self.lens {
            Lens::Perspective => dvec2(view.x, view.y) / view.z,
            Lens::Parallel => dvec2(view.x, view.y),
        };
        self.centre + slope * self.scale
    }

    /// The place in the picture, px. In perspective the point must lie before the eye.
    pub fn project(&self, p: DVec3) -> DVec2 {
        self.place(self.view(p))
    }

    /// Unit vector along the line of sight through a place in the picture.
    pub fn ray(&self, place: DVec2) -> DVec3 {
        match self.lens {
            Lens::Perspective => {
                let slope = (place - self.centre) / self.scale;
                (self.forward + self.right * slope.x - self.up * slope.y).normalize()
            }
            Lens::Parallel => self.forward,
        }
    }

    /// Where the line of sight through a place in the picture starts.
    pub fn ray_start(&self, place: DVec2) -> DVec3 {
        match self.lens {
            Lens::Perspective => self.eye,
            Lens::Parallel => {
                let slope = (place - self.centre) / self.scale;
                self.eye + self.right * slope.x - self.up * slope.y
            }
        }
    }

    /// A number that grows towards the eye and is linear across the picture on any plane.
    pub fn nearness(&self, depth: f64) -> f64 {
        match self.lens {
            Lens::Perspective => 1.0 / depth,
            Lens::Parallel => -depth,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

    fn corners() -> Vec<DVec3> {
        let pick = |i: usize, bit: usize, v: f64| if i & bit == 0 { 0.0 } else { v };
        (0..8).map(|i| dvec3(pick(i, 1, 900.), pick(i, 2, 400.), pick(i, 4, 350.))).collect()
    }

    #[test]
    fn everything_is_inside_the_frame_and_touches_it() {
        let frame = Frame { min: dvec2(100., 50.), max: dvec2(900., 500.) };
        for lens in [Lens::Perspective, Lens::Parallel] {
            for from in [dvec3(-0.4, -1.0, 0.6), dvec3(0.0, -1.0, 0.0), dvec3(1.0, 0.3, 0.2)] {
                let camera = Camera::framed(from, DVec3::Z, lens, &corners(), frame);
                let shown = corners().into_iter().map(|p| camera.project(p));
                let shown = Frame::around(shown).unwrap();
                let room = shown.size() / frame.size();
                assert!((room.x.max(room.y) - 1.0).abs() < 1e-9, "{room}");
                let off = (shown.min + shown.max) - (frame.min + frame.max);
                assert!(off.length() < 1e-6, "{off}");
            }
        }
    }

    #[test]
    fn a_line_of_sight_goes_through_the_point_that_is_seen_there() {
        let frame = Frame { min: dvec2(0., 0.), max: dvec2(800., 600.) };
        for lens in [Lens::Perspective, Lens::Parallel] {
            let camera = Camera::framed(dvec3(-0.4, -1.0, 0.6), DVec3::Z, lens, &corners(), frame);
            for p in corners() {
                let place = camera.project(p);
                let to = p - camera.ray_start(place);
                assert!(to.cross(camera.ray(place)).length() < 1e-6, "{lens:?} {p}");
            }
        }
    }
}

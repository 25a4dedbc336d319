//! A scene as the camera sees it: facets and strokes in the picture, ready to be drawn.

use glam::{DVec2, DVec3, Vec2, Vec3};

use super::clip::{Corner, Sight};
use super::outline::{is_curved, outline};
use super::paint::{Paint, Paints};
use super::pixel::{single, snapped};
use super::{ink, light};
use crate::camera::{Camera, Lens};
use crate::scene::{Body, Scene, Side, Triangle, Water};

/// What is to be drawn.
#[derive(Debug, Default)]
pub(super) struct Stage {
    pub(super) facets: Vec<Facet>,
    /// Normals of curved facets.
    pub(super) bends: Vec<Bend>,
    pub(super) strokes: Vec<Stroke>,
    pub(super) paints: Paints,
}

/// A triangle in the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Facet {
    /// Corners in subpixels, turning so that the area is positive.
    pub(super) corners: [[i64; 2]; 3],
    /// [`Camera::nearness`] across the picture.
    pub(super) near: Slope,
    /// Least and greatest nearness of its corners.
    pub(super) range: [f32; 2],
    pub(super) paint: Paint,
    /// Whether its outside is seen.
    pub(super) is_front: bool,
    pub(super) form: Form,
}

/// Flat or curved.
#[derive(Clone, Copy, Debug)]
pub(super) enum Form {
    /// The unit normal, towards the eye.
    Flat(Vec3),
    /// Index into [`Stage::bends`].
    Curved(u32),
}

/// A value that changes evenly across the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slope {
    origin: Vec2,
    at_origin: f32,
    per_px: Vec2,
}

impl Slope {
    pub(super) fn at(&self, place: Vec2) -> f32 {
        self.at_origin + self.per_px.dot(place - self.origin)
    }

    pub(super) fn per_px(&self) -> Vec2 {
        self.per_px
    }

    /// Through three values at three places.
    fn through(places: [DVec2; 3], values: [f64; 3]) -> Self {
        let (u, v) = (places[1] - places[0], places[2] - places[0]);
        let (du, dv) = (values[1] - values[0], values[2] - values[0]);
        let area = u.perp_dot(v);
        let per_px = DVec2::new(du * v.y - dv * u.y, dv * u.x - du * v.x) / area;
        Self { origin: places[0].as_vec2(), at_origin: single(values[0]), per_px: per_px.as_vec2() }
    }
}

/// A curved facet's normal, to be made a unit vector: each part changes evenly across the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bend {
    parts: [Slope; 3],
}

impl Bend {
    pub(super) fn at(&self, place: Vec2) -> Vec3 {
        Vec3::from(self.parts.map(|p| p.at(place)))
    }
}

/// A straight line of constant width in the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stroke {
    pub(super) ends: [Vec2; 2],
    /// Nearness at the ends, a little towards the eye.
    pub(super) near: [f32; 2],
    /// Half the width, px.
    pub(super) half_width: f32,
    pub(super) colour: Vec3,
    /// How much of what is behind it a line hides when nothing is before it.
    pub(super) strength: f32,
    /// The share of that which is left behind many sheets.
    pub(super) least: f32,
}

/// How far lines lie before the faces that they bound, mm: more than the error of a face's depth,
/// less than a sheet is thick.
const LINE_LIFT_MM: f64 = 1.2;

impl Stage {
    /// Gathers a scene. `px` is the width that a fine line should have.
    pub(super) fn of(scene: &Scene, camera: &Camera, px: f64) -> Self {
        let [lo, hi] = scene.bounds();
        let mut stage = Self::default();
        let mut setter = Setter {
            stage: &mut stage,
            camera,
            sight: Sight::new(camera, 0.5 * (hi - lo).length()),
            px,
        };
        for body in &scene.bodies {
            setter.body(body);
        }
        for water in &scene.waters {
            setter.water(water);
        }
        for guide in &scene.guides {
            setter.dashed(guide);
        }
        stage
    }
}

struct Setter<'a> {
    stage: &'a mut Stage,
    camera: &'a Camera,
    sight: Sight,
    px: f64,
}

impl Setter<'_> {
    fn body(&mut self, body: &Body) {
        for triangle in &body.triangles {
            let paint = self.stage.paints.of(body.look, triangle.side);
            self.facet(triangle, paint);
        }
        let colour = light::linear(body.look.colour);
        let pen = ink::edge(colour, body.look.is_clear);
        for line in &body.edges {
            self.polyline(line, pen);
        }
        for ends in outline(body, self.camera) {
            self.line(ends, pen);
        }
        for line in &body.engraved {
            // Of lines at one depth the later one lies in front.
            if body.look.is_clear {
                self.polyline(line, ink::FROST);
            }
            self.polyline(line, ink::engraving(colour, body.look.is_clear));
        }
    }

    fn water(&mut self, water: &Water) {
        let size = water.max - water.min;
        if size.min_element() <= 0.0 {
            return;
        }
        let corner = |i: [f64; 3]| water.min + DVec3::from(i) * size;
        for axis in 0..3 {
            for end in [0.0, 1.0] {
                let (right, up) = ((axis + 1) % 3, (axis + 2) % 3);
                let at = |u: f64, v: f64| {
                    let mut unit = [0.0; 3];
                    unit[axis] = end;
                    unit[right] = u;
                    unit[up] = v;
                    corner(unit)
                };
                let mut normal = [0.0; 3];
                normal[axis] = 2.0 * end - 1.0;
                let mut quad = [at(0., 0.), at(1., 0.), at(1., 1.), at(0., 1.)];
                if end < 0.5 {
                    quad.reverse();
                }
                let is_top = axis == 2 && end > 0.5 && water.is_open;
                let paint = if is_top { Paint::WaterTop } else { Paint::WaterSide };
                for [a, b, c] in [[0, 1, 2], [0, 2, 3]] {
                    let triangle = Triangle {
                        corners: [quad[a], quad[b], quad[c]],
                        normals: [DVec3::from(normal); 3],
                        side: Side::Broad,
                    };
                    self.facet(&triangle, paint);
                }
                if is_top {
                    let line = [quad[0], quad[1], quad[2], quad[3], quad[0]];
                    self.polyline(&line, ink::WATERLINE);
                }
            }
        }
    }

    /// A guide line, in dashes that are equally long in the picture's world.
    /// Dashes and gaps go on around corners.
    fn dashed(&mut self, line: &[DVec3]) {
        const DASH_MM: f64 = 6.0;
        const PERIOD_MM: f64 = 10.0;
        // Where the last dash began, from the beginning of this stretch.
        let mut at = 0.0;
        for ends in line.windows(2) {
            let (a, b) = (ends[0], ends[1]);
            let length = a.distance(b);
            while at < length {
                let (from, to) = (at.max(0.0), (at + DASH_MM).min(length));
                if from < to {
                    self.line([a.lerp(b, from / length), a.lerp(b, to / length)], ink::GUIDE);
                }
                at += PERIOD_MM;
            }
            // The dash that the stretch ended in, or the gap after it, goes on in the next.
            at -= PERIOD_MM + length;
            if at + DASH_MM <= 0.0 {
                at += PERIOD_MM;
            }
        }
    }

    fn facet(&mut self, triangle: &Triangle, paint: Paint) {
        let corner = |i: usize| Corner {
            view: self.camera.view(triangle.corners[i]),
            normal: triangle.normals[i],
        };
        let polygon = self.sight.clip_polygon([corner(0), corner(1), corner(2)]);
        let curved = is_curved(triangle);
        for i in 2..polygon.len() {
            self.visible_facet([polygon[0], polygon[i - 1], polygon[i]], paint, curved);
        }
    }

    fn visible_facet(&mut self, mut corners: [Corner; 3], paint: Paint, curved: bool) {
        let place = |c: Corner| {
            let p = self.camera.place(c.view);
            [snapped(p.x), snapped(p.y)]
        };
        let mut places = corners.map(place);
        let area = doubled_area(places);
        if area == 0 {
            return;
        }
        // The picture's `y` runs down, so an outward, counter-clockwise triangle has a negative area.
        let is_front = area < 0;
        if is_front {
            places.swap(1, 2);
            corners.swap(1, 2);
        }
        let px = |[x, y]: [i64; 2]| DVec2::new(x as f64, y as f64) / super::pixel::SUBPIXELS as f64;
        let at = places.map(px);
        let near = corners.map(|c| self.camera.nearness(c.view.z));
        let range = near.map(single);
        let form = if curved {
            // Divided by depth, normals change evenly across a perspective picture.
            let weight = |i: usize| match self.camera.lens {
                Lens::Perspective => near[i] / near[0],
                Lens::Parallel => 1.0,
            };
            let sign = if is_front { 1.0 } else { -1.0 };
            let part = |axis: usize| {
                Slope::through(at, [0, 1, 2].map(|i| sign * corners[i].normal[axis] * weight(i)))
            };
            self.stage.bends.push(Bend { parts: [part(0), part(1), part(2)] });
            Form::Curved(super::pixel::index_32(self.stage.bends.len() - 1))
        } else {
            let n = corners[0].normal.as_vec3();
            Form::Flat(if is_front { n } else { -n })
        };
        self.stage.facets.push(Facet {
            corners: places,
            near: Slope::through(at, near),
            range: [range[0].min(range[1]).min(range[2]), range[0].max(range[1]).max(range[2])],
            paint,
            is_front,
            form,
        });
    }

    fn polyline(&mut self, line: &[DVec3], pen: ink::Pen) {
        let pen = pen.faded(self.length(line) / self.px);
        for ends in line.windows(2) {
            self.line([ends[0], ends[1]], pen);
        }
    }

    /// Length of a line in the picture, px.
    fn length(&self, line: &[DVec3]) -> f64 {
        let views = line.windows(2).filter_map(|ends| {
            self.sight.clip_line([self.camera.view(ends[0]), self.camera.view(ends[1])])
        });
        views.map(|[a, b]| self.camera.place(a).distance(self.camera.place(b))).sum()
    }

    fn line(&mut self, ends: [DVec3; 2], pen: ink::Pen) {
        let views = ends.map(|p| self.camera.view(p));
        let Some(views) = self.sight.clip_line(views) else { return };
        let near = views.map(|v| {
            let depth = (v.z - LINE_LIFT_MM).max(0.5 * v.z);
            single(self.camera.nearness(depth))
        });
        self.stage.strokes.push(Stroke {
            ends: views.map(|v| self.camera.place(v).as_vec2()),
            near,
            half_width: single(0.5 * pen.width * self.px),
            colour: pen.colour,
            strength: pen.strength,
            least: pen.least,
        });
    }
}

/// Twice the signed area; positive if the corners turn clockwise on the screen.
pub(super) fn doubled_area([a, b, c]: [[i64; 2]; 3]) -> i64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
}

impl Facet {
    /// Whether nothing shows through it.
    pub(super) fn is_opaque(&self) -> bool {
        matches!(self.paint, Paint::Opaque(_) | Paint::Cut(_))
    }

    /// Upper left and lower right corner of what it may touch, px.
    pub(super) fn extent(&self) -> [[f64; 2]; 2] {
        let px = |v: i64| v as f64 / super::pixel::SUBPIXELS as f64;
        let range = |axis: usize| {
            let [a, b, c] = self.corners.map(|c| px(c[axis]));
            [a.min(b).min(c) - 1.0, a.max(b).max(c) + 1.0]
        };
        let ([left, right], [top, bottom]) = (range(0), range(1));
        [[left, top], [right, bottom]]
    }
}

impl Stroke {
    /// Upper left and lower right corner of what it may touch, px.
    pub(super) fn extent(&self) -> [[f64; 2]; 2] {
        let [a, b] = self.ends;
        let reach = self.half_width + 1.0;
        let (lo, hi) = ((a.min(b) - reach).as_dvec2(), (a.max(b) + reach).as_dvec2());
        [lo.to_array(), hi.to_array()]
    }

    /// Nearness at the point of the stroke that is closest to a place.
    pub(super) fn near_at(&self, place: Vec2) -> f32 {
        let along = self.ends[1] - self.ends[0];
        let t = (place - self.ends[0]).dot(along) / along.length_squared().max(1e-12);
        self.near[0] + (self.near[1] - self.near[0]) * t.clamp(0.0, 1.0)
    }
}

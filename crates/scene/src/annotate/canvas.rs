//! Draws lines, dots and text over a picture.

use glam::DVec2;
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, Transform,
};

use super::font::Lettering;
use crate::image::Image;

/// Red, green, blue (sRGB) and how opaque.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ink(pub(crate) [u8; 3], pub(crate) f32);

/// A picture that is drawn on.
#[derive(Debug)]
pub(crate) struct Canvas {
    pixmap: Pixmap,
}

impl Canvas {
    /// `None` when the picture has no pixels.
    pub(crate) fn over(image: &Image) -> Option<Self> {
        let [width, height] = image.size.map(|n| u32::try_from(n).unwrap_or(0));
        let mut pixmap = Pixmap::new(width, height)?;
        let pixels = pixmap.data_mut().chunks_exact_mut(4);
        for (to, from) in pixels.zip(image.pixels.chunks_exact(3)) {
            to[..3].copy_from_slice(from);
            to[3] = u8::MAX;
        }
        Some(Self { pixmap })
    }

    /// The picture with everything drawn on it.
    pub(crate) fn into_image(self) -> Image {
        let size = [self.pixmap.width() as usize, self.pixmap.height() as usize];
        let opaque = self.pixmap.data().chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]);
        Image { size, pixels: opaque.collect() }
    }

    /// A line through points, `width` px wide.
    pub(crate) fn line(&mut self, points: &[DVec2], width: f64, ink: Ink) {
        if let Some(path) = polyline(points, false) {
            self.stroke(&path, width, ink);
        }
    }

    /// A filled polygon.
    pub(crate) fn polygon(&mut self, points: &[DVec2], ink: Ink) {
        if let Some(path) = polyline(points, true) {
            self.fill(&path, ink);
        }
    }

    /// A closed line.
    pub(crate) fn outline(&mut self, points: &[DVec2], width: f64, ink: Ink) {
        if let Some(path) = polyline(points, true) {
            self.stroke(&path, width, ink);
        }
    }

    /// A filled disc.
    pub(crate) fn disc(&mut self, centre: DVec2, radius: f64, ink: Ink) {
        let c = centre.as_vec2();
        if let Some(path) = PathBuilder::from_circle(c.x, c.y, single(radius)) {
            self.fill(&path, ink);
        }
    }

    /// Text whose base line begins at `start`, on a halo `halo` px wide.
    pub(crate) fn text(
        &mut self,
        lettering: &Lettering,
        text: &str,
        start: DVec2,
        ink: Ink,
        halo: Option<(f64, Ink)>,
    ) {
        let Some(path) = lettering.outline(text, start) else { return };
        if let Some((width, halo)) = halo {
            self.stroke(&path, 2.0 * width, halo);
        }
        self.fill(&path, ink);
    }

    fn fill(&mut self, path: &Path, ink: Ink) {
        self.pixmap.fill_path(path, &ink.paint(), FillRule::Winding, Transform::identity(), None);
    }

    fn stroke(&mut self, path: &Path, width: f64, ink: Ink) {
        let stroke = Stroke {
            width: single(width),
            line_cap: LineCap::Round,
            line_join: LineJoin::Round,
            ..Stroke::default()
        };
        self.pixmap.stroke_path(path, &ink.paint(), &stroke, Transform::identity(), None);
    }
}

impl Ink {
    fn paint(self) -> Paint<'static> {
        let [r, g, b] = self.0.map(|c| f32::from(c) / 255.0);
        let mut paint = Paint { anti_alias: true, ..Paint::default() };
        paint.set_color(Color::from_rgba(r, g, b, self.1).unwrap_or(Color::BLACK));
        paint
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "rounds to the nearest f32, which is exact enough"
)]
fn single(x: f64) -> f32 {
    x as f32
}

fn polyline(points: &[DVec2], close: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (i, p) in points.iter().map(|p| p.as_vec2()).enumerate() {
        if i == 0 {
            path.move_to(p.x, p.y);
        } else {
            path.line_to(p.x, p.y);
        }
    }
    if close {
        path.close();
    }
    path.finish()
}

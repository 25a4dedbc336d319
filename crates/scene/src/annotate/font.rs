//! Text as outlines.

use ab_glyph::{Font, FontRef, GlyphId, OutlineCurve, Point};
use glam::{DVec2, dvec2};
use tiny_skia::{Path, PathBuilder};

/// A typeface in one size.
#[derive(Debug)]
pub(crate) struct Lettering {
    font: FontRef<'static>,
    /// Pixels per unit of the font.
    scale: f64,
    /// Height of capital letters, px.
    pub(crate) cap_height: f64,
}

/// Regular or bold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
}

/// Height of a capital letter over the size of `DejaVu` Sans: 1493 of 2048 units, by the font's `OS/2`
/// table.
const CAP_HEIGHT: f64 = 1493.0 / 2048.0;

impl Lettering {
    /// `size` is the em height in px.
    pub(crate) fn new(weight: Weight, size: f64) -> Self {
        let bytes = match weight {
            Weight::Regular => dejavu::sans::regular(),
            Weight::Bold => dejavu::sans::bold(),
        };
        let font = FontRef::try_from_slice(bytes).expect("the font of the crate is a font");
        let scale = size / f64::from(font.units_per_em().unwrap_or(2048.0));
        Self { font, scale, cap_height: CAP_HEIGHT * size }
    }

    /// Width of a line of text, px.
    pub(crate) fn width(&self, text: &str) -> f64 {
        self.glyphs(text).last().map_or(0.0, |&(id, x)| x + self.advance(id))
    }

    /// Outlines of a line of text that begins at `start` on its base line, px.
    pub(crate) fn outline(&self, text: &str, start: DVec2) -> Option<Path> {
        let mut path = PathBuilder::new();
        for (glyph, x) in self.glyphs(text) {
            let Some(outline) = self.font.outline(glyph) else { continue };
            self.add(&outline.curves, start + dvec2(x, 0.0), &mut path);
        }
        path.finish()
    }

    fn add(&self, curves: &[OutlineCurve], origin: DVec2, path: &mut PathBuilder) {
        let at = |p: Point| {
            let offset = dvec2(f64::from(p.x), -f64::from(p.y)) * self.scale;
            (origin + offset).as_vec2()
        };
        let mut pen: Option<Point> = None;
        for curve in curves {
            let from = match curve {
                OutlineCurve::Line(a, _)
                | OutlineCurve::Quad(a, ..)
                | OutlineCurve::Cubic(a, ..) => *a,
            };
            if pen != Some(from) {
                if pen.is_some() {
                    path.close();
                }
                let p = at(from);
                path.move_to(p.x, p.y);
            }
            let to = match curve {
                OutlineCurve::Line(_, b) => {
                    let b_at = at(*b);
                    path.line_to(b_at.x, b_at.y);
                    *b
                }
                OutlineCurve::Quad(_, c, b) => {
                    let (c, b_at) = (at(*c), at(*b));
                    path.quad_to(c.x, c.y, b_at.x, b_at.y);
                    *b
                }
                OutlineCurve::Cubic(_, c, d, b) => {
                    let (c, d, b_at) = (at(*c), at(*d), at(*b));
                    path.cubic_to(c.x, c.y, d.x, d.y, b_at.x, b_at.y);
                    *b
                }
            };
            pen = Some(to);
        }
        if pen.is_some() {
            path.close();
        }
    }

    /// Each glyph and where it begins, px. Pairs are moved together as the font says.
    fn glyphs(&self, text: &str) -> Vec<(GlyphId, f64)> {
        let mut x = 0.0;
        let mut last: Option<GlyphId> = None;
        let place = |c: char| {
            let glyph = self.font.glyph_id(c);
            if let Some(last) = last {
                x += self.advance(last);
                x += f64::from(self.font.kern_unscaled(last, glyph)) * self.scale;
            }
            last = Some(glyph);
            (glyph, x)
        };
        text.chars().map(place).collect()
    }

    fn advance(&self, glyph: GlyphId) -> f64 {
        f64::from(self.font.h_advance_unscaled(glyph)) * self.scale
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_fills_its_width() {
        let lettering = Lettering::new(Weight::Regular, 20.0);
        for text in ["sock holder", "290 mm", "Ŵij ▽"] {
            let width = lettering.width(text);
            let bounds = lettering.outline(text, dvec2(5.0, 30.0)).unwrap().bounds();
            assert!(f64::from(bounds.left()) > 4.0, "{bounds:?}");
            assert!(f64::from(bounds.right()) < 5.0 + width + 1.0, "{bounds:?} {width}");
            assert!(f64::from(bounds.width()) > 0.9 * width, "{bounds:?} {width}");
        }
    }

    #[test]
    fn nothing_to_write_has_no_outline() {
        let lettering = Lettering::new(Weight::Bold, 20.0);
        assert!(lettering.outline("", DVec2::ZERO).is_none());
        assert!(lettering.outline(" ", DVec2::ZERO).is_none());
    }
}

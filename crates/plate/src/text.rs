//! Letters of single strokes, for engraving.
//!
//! The font is Sumpwright Stroke, made by `font/generate.py` from EMS Readability (SIL Open Font
//! License 1.1, text and authors in `font/OFL.txt`): Latin letters with Western and Central
//! European accents, digits, and the signs that drawings need (`ø ⌀ ° ± × µ ½ ≤ ≥ →`).

use glam::{DVec2, dvec2};

#[rustfmt::skip]
mod glyphs;

/// Text as open polylines, standing on the x axis from the origin to the right (mm).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TextStrokes {
    /// The lines to engrave, in writing order. Dots are small closed boxes.
    pub strokes: Vec<Vec<DVec2>>,
    /// How far the text advances; the ink may begin and end a little inside.
    pub width_mm: f64,
    /// Characters the font has no glyph for, each once, in order of appearance. They leave a gap
    /// as wide as a space.
    pub missing: Vec<char>,
}

impl TextStrokes {
    /// The strokes of the text written from `origin` in the direction of the unit vector `along`.
    pub fn written(&self, origin: DVec2, along: DVec2) -> Vec<Vec<DVec2>> {
        let place = |p: &DVec2| origin + along * p.x + along.perp() * p.y;
        self.strokes.iter().map(|stroke| stroke.iter().map(place).collect()).collect()
    }

    /// The same, mirrored, for the bottom face: who looks at that face reads it along `along`
    /// from `origin`, both given as seen from the top.
    pub fn written_mirrored(&self, origin: DVec2, along: DVec2) -> Vec<Vec<DVec2>> {
        let place = |p: &DVec2| origin + along * p.x - along.perp() * p.y;
        self.strokes.iter().map(|stroke| stroke.iter().map(place).collect()).collect()
    }
}

/// Writes one line of text whose capitals are `cap_height_mm` high.
///
/// The height is that of the middle of the engraved line; the cutter adds its own width. Accents
/// of capitals reach up to 1.6, descenders down to −0.4 of it.
///
/// ```
/// let text = plate::text::strokes("25 cm", 5.0);
/// assert!(text.missing.is_empty());
/// assert!(20.0 < text.width_mm && text.width_mm < 25.0);
/// assert_eq!(plate::text::strokes("水", 5.0).missing, ['水']);
/// ```
pub fn strokes(text: &str, cap_height_mm: f64) -> TextStrokes {
    let scale = cap_height_mm / UNITS_PER_CAP_HEIGHT;
    let mut written = TextStrokes::default();
    let mut at = 0.0;
    for char in text.chars() {
        let glyph = glyph(char);
        if glyph.is_none() && !written.missing.contains(&char) {
            written.missing.push(char);
        }
        let glyph = glyph.or_else(|| self::glyph(' ')).expect("the font has a space");
        let place = |&[x, y]: &[i16; 2]| scale * dvec2(at + f64::from(x), f64::from(y));
        written.strokes.extend(glyph.strokes.iter().map(|s| s.iter().map(place).collect()));
        at += f64::from(glyph.advance);
    }
    written.width_mm = scale * at;
    written
}

/// Height of H in the units of the table.
const UNITS_PER_CAP_HEIGHT: f64 = 1000.0;

struct Glyph {
    char: char,
    /// Where the next character begins.
    advance: i16,
    strokes: &'static [&'static [[i16; 2]]],
}

fn glyph(char: char) -> Option<&'static Glyph> {
    let index = glyphs::GLYPHS.binary_search_by_key(&char, |g| g.char).ok()?;
    glyphs::GLYPHS.get(index)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ink(text: &str) -> [DVec2; 2] {
        let strokes = strokes(text, 10.0).strokes;
        let points = strokes.iter().flatten();
        points.fold([DVec2::INFINITY, DVec2::NEG_INFINITY], |[lo, hi], &p| [lo.min(p), hi.max(p)])
    }

    #[test]
    fn capitals_are_as_high_as_asked() {
        let [lo, hi] = ink("H");
        assert!(lo.y.abs() < 1e-9 && (hi.y - 10.0).abs() < 1e-9);
        for char in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789".chars() {
            let [lo, hi] = ink(&char.to_string());
            assert!((-3.0..0.3).contains(&lo.y) && (9.5..10.5).contains(&hi.y), "{char} {lo} {hi}");
        }
    }

    #[test]
    fn every_glyph_keeps_to_its_own_room() {
        for glyph in glyphs::GLYPHS {
            let xs = glyph.strokes.iter().flat_map(|s| s.iter().map(|p| p[0]));
            let ys = glyph.strokes.iter().flat_map(|s| s.iter().map(|p| p[1]));
            let (char, advance) = (glyph.char, glyph.advance);
            assert!(advance > 0, "{char}");
            // An i with a wide accent may reach a little over the letter before.
            assert!(
                xs.clone().all(|x| -100 <= x && x < advance),
                "{char} overprints its neighbour"
            );
            assert!(ys.clone().all(|y| (-450..=1650).contains(&y)), "{char} is too tall");
            assert!(glyph.strokes.iter().all(|s| s.len() > 1), "{char} has a stroke of one point");
            assert!(glyph.strokes.is_empty() == char.is_whitespace(), "{char}");
        }
    }

    #[test]
    fn characters_are_in_order_and_unique() {
        assert!(glyphs::GLYPHS.windows(2).all(|w| w[0].char < w[1].char));
    }

    #[test]
    fn all_that_labels_need_is_there() {
        let needed = "abcdefghijklmnopqrstuvwxyz0123456789 .,:;-–—+=/()[]#%&'\"!?\u{a0}\
            øØ⌀°±×÷µμ¼½¾²³≤≥≈→←↑↓▲▼′″\
            ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöùúûüýÿŒœ\
            ĄąĆćČčĎďĐđĘęĚěŁłŃńŇňŐőŘřŚśŠšŞşȘșŤťȚțŮůŰűŹźŻżŽžıİğĞ€£";
        assert_eq!(strokes(needed, 5.0).missing, []);
    }

    #[test]
    fn missing_characters_are_told_once_and_leave_a_gap() {
        let text = strokes("a水b水\n", 5.0);
        assert_eq!(text.missing, ['水', '\n']);
        let space = strokes(" ", 5.0).width_mm;
        let letters = strokes("ab", 5.0).width_mm;
        assert!((text.width_mm - (letters + 3.0 * space)).abs() < 1e-9);
    }

    #[test]
    fn text_is_written_along_any_line_and_mirrored_for_the_bottom() {
        let text = strokes("L", 10.0);
        let up = text.written(dvec2(5.0, 6.0), DVec2::Y);
        let mirrored = text.written_mirrored(dvec2(5.0, 6.0), DVec2::NEG_X);
        for ((p, q), r) in text.strokes[0].iter().zip(&up[0]).zip(&mirrored[0]) {
            assert_eq!(*q, dvec2(5.0 - p.y, 6.0 + p.x));
            assert_eq!(*r, dvec2(5.0 - p.x, 6.0 + p.y));
        }
    }

    #[test]
    fn nothing_is_engraved_twice() {
        for glyph in glyphs::GLYPHS {
            for [a, b, c] in
                glyph.strokes.iter().flat_map(|s| s.windows(3)).map(|w| [w[0], w[1], w[2]])
            {
                let ([u, v], [p, q]) = (
                    [b[0] - a[0], b[1] - a[1]].map(i32::from),
                    [c[0] - b[0], c[1] - b[1]].map(i32::from),
                );
                let runs_back = u * p + v * q < 0 && u * q == v * p;
                assert!(!runs_back, "{} runs back over itself at {b:?}", glyph.char);
            }
        }
    }
}

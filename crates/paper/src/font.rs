//! The one family of letters that everything is set in, and how wide its words are.
//!
//! `DejaVu` Sans, regular and bold (Bitstream Vera licence): it has the signs that drawings need, `⌀ □ ± × ≤ ✓`. Words
//! are set glyph by glyph by their own advances, without kerning, so what is measured here is what stands in a file.

use std::sync::LazyLock;

use ab_glyph::{Font, FontRef, GlyphId};

use crate::figure::Lettering;

/// Height of a capital letter as a share of the em: 1493 of 2048 units, from the letter H of the font; the test
/// measures it.
pub const CAPITAL_PER_EM: f64 = 1493.0 / 2048.0;
/// How far letters such as `g` reach below the base line, as a share of the em: the lowest of the letters and signs that are used (`j Ç ( [ _`).
pub const DESCENT_PER_EM: f64 = 0.24;

static REGULAR: LazyLock<FontRef<'static>> = LazyLock::new(|| read(dejavu::sans::regular()));
static BOLD: LazyLock<FontRef<'static>> = LazyLock::new(|| read(dejavu::sans::bold()));

fn read(bytes: &'static [u8]) -> FontRef<'static> {
    FontRef::try_from_slice(bytes).expect("the font is part of the program")
}

fn face(is_bold: bool) -> &'static FontRef<'static> {
    if is_bold { &BOLD } else { &REGULAR }
}

/// The bytes of the font file, for writers that put it into a document.
pub fn file(is_bold: bool) -> &'static [u8] {
    if is_bold { dejavu::sans::bold() } else { dejavu::sans::regular() }
}

/// One letter of a line of words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font; 0 is the box for a letter that the font has not.
    pub id: u16,
    /// How far it moves the pen, as a share of the em.
    pub advance_em: f64,
    /// Where its letter begins in the text, byte.
    pub start: usize,
    /// Where it ends.
    pub end: usize,
}

/// The glyphs of a text, a letter each.
pub fn glyphs(text: &str, is_bold: bool) -> Vec<Glyph> {
    let glyph = |(start, letter): (usize, char)| {
        let id = face(is_bold).glyph_id(letter).0;
        let advance_em = advance_em(letter, is_bold);
        Glyph { id, advance_em, start, end: start + letter.len_utf8() }
    };
    text.char_indices().map(glyph).collect()
}

/// How far a letter moves the pen, as a share of the em.
pub(crate) fn advance_em(letter: char, is_bold: bool) -> f64 {
    let font = face(is_bold);
    let per_em = f64::from(font.units_per_em().unwrap_or(2048.0));
    f64::from(font.h_advance_unscaled(font.glyph_id(letter))) / per_em
}

/// Letters of a text that the font has no glyph for.
pub fn missing(text: &str) -> impl Iterator<Item = char> + '_ {
    text.chars().filter(|&letter| face(false).glyph_id(letter) == GlyphId(0))
}

impl Lettering {
    /// Size of the em, mm.
    pub fn em_mm(self) -> f64 {
        self.capital_mm / CAPITAL_PER_EM
    }

    /// How wide a text is on one line, mm.
    pub fn width_mm(self, text: &str) -> f64 {
        text.chars().map(|letter| advance_em(letter, self.is_bold)).sum::<f64>() * self.em_mm()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_have_their_nominal_height_and_letters_reach_no_deeper_than_said() {
        for is_bold in [false, true] {
            let font = face(is_bold);
            let outline = |letter| font.outline(font.glyph_id(letter)).expect("drawn").bounds;
            let per_em = f64::from(font.units_per_em().expect("it says so"));
            // The outline's box has y upwards: its "min" is the lower edge.
            let top = f64::from(outline('H').max.y.max(outline('H').min.y)) / per_em;
            assert!((top - CAPITAL_PER_EM).abs() < 1e-9, "{top}");
            let depths = "gjpqy(){}[],;Ç|_"
                .chars()
                .map(|letter| f64::from(outline(letter).min.y.min(outline(letter).max.y)));
            let deep = depths.fold(0.0, f64::min) / per_em;
            assert!((-DESCENT_PER_EM..-0.2).contains(&deep), "{deep}");
        }
    }

    #[test]
    fn the_signs_of_drawings_are_there() {
        assert_eq!(missing("⌀□±×≤≥✓→µ½°äöüßéčłű–—·•").collect::<String>(), "");
        assert_eq!(missing("mm 水").collect::<String>(), "水");
    }
}

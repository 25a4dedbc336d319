//! How much room a text takes, without its font.

/// Share of the font's size above the base line, and below it: letters with ascender and descender.
pub(super) const ASCENT: f64 = 0.78;
pub(super) const DESCENT: f64 = 0.24;

/// Width of a text at a font size, in the unit of the size: an estimate that is never less than in `DejaVu
/// Sans`, the widest of the fonts that the drawings ask for.
///
/// Classes of letters with the greatest advance in each. Our own table; checked letter by letter against
/// the font in the test below.
pub fn text_width(text: &str, size: f64, is_bold: bool) -> f64 {
    let em: f64 =
        text.chars().map(|c| if is_bold { 1.12 * advance(c) + 0.026 } else { advance(c) }).sum();
    em * size
}

/// Advance of a letter, em.
fn advance(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | 'I' | 'J' | '\'' => 0.31,
        ' ' | '.' | ',' | '|' | ':' | ';' => 0.35,
        'f' | 't' | 'r' | '(' | ')' | '/' | '!' | '-' | '[' | ']' | '·' | '\\' => 0.42,
        'c' | 's' | 'z' | 'k' | 'v' | 'x' | 'y' | 'L' | 'F' | '"' | '°' | '`' | '_' | '–' | '²'
        | '³' => 0.6,
        'm' | 'w' | 'M' | 'W' | '→' | '%' | '@' | '—' | '…' => 1.0,
        'G' | 'O' | 'Q' | 'D' | 'N' | 'H' | 'U' => 0.8,
        '<' | '>' | '=' | '+' | '±' | '≈' | '−' | '#' | '&' | '~' | '^' => 0.85,
        c if c.is_ascii_lowercase() || c.is_ascii_digit() => 0.645,
        c if c.is_ascii() => 0.71,
        // Scripts with wide letters take up to an em.
        _ => 1.0,
    }
}

/// The text in lines of at most this width, broken between words; a longer word stays whole, and so do a
/// number with its unit, and a time of several units.
pub(super) fn wrapped(text: &str, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in unbroken(text) {
        match lines.last_mut() {
            Some(line) if text_width(&format!("{line} {word}"), size, false) <= width => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// What times are told in.
const TIMES: [&str; 4] = ["s", "min", "h", "days"];
/// What else follows a number.
const UNITS: [&str; 10] = ["mm", "in", "cm", "m", "L", "gal", "L/h", "gph", "%", "°C"];

/// Words, each number together with its unit.
fn unbroken(text: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    let mut last = "";
    for word in text.split_whitespace() {
        let bare = |word: &str| word.trim_matches(|c: char| "(),.;:".contains(c)).to_owned();
        let is_number = |word: &str| bare(word).starts_with(|c: char| c.is_ascii_digit());
        let is_time = |word: &str| TIMES.contains(&bare(word).as_str());
        let is_unit = is_time(word) || UNITS.contains(&bare(word).as_str());
        // `3 h` goes on with `20 min`, but not after a comma nor into brackets.
        let goes_on = word.starts_with(|c: char| c.is_ascii_digit()) && TIMES.contains(&last);
        match parts.last_mut() {
            Some(part) if goes_on || (is_unit && is_number(last)) => {
                part.push(' ');
                part.push_str(word);
            }
            _ => parts.push(word.to_owned()),
        }
        last = word;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use ab_glyph::{Font, FontRef, ScaleFont};

    #[test]
    fn no_letter_is_wider_in_the_font_than_reckoned() {
        let mut off = Vec::new();
        for (bytes, is_bold) in [(dejavu::sans::regular(), false), (dejavu::sans::bold(), true)] {
            let font = FontRef::try_from_slice(bytes).expect("the font is whole");
            let units = f64::from(font.units_per_em().expect("a size"));
            for c in (' '..='~').chain("äöüéñøµ²³°·–→±≈−…".chars()) {
                let advance = f64::from(font.h_advance_unscaled(font.glyph_id(c))) / units;
                let reckoned = text_width(&c.to_string(), 1.0, is_bold);
                if reckoned < advance || 1.45 * advance + 0.25 < reckoned {
                    off.push(format!("{c}, bold {is_bold}: {advance} in the font, {reckoned}"));
                }
            }
            let ascent =
                f64::from(font.as_scaled(font.units_per_em().unwrap_or(1.0)).ascent()) / units;
            assert!(ASCENT <= ascent, "letters do not reach higher than the font: {ascent}");
        }
        assert_eq!(off, Vec::<String>::new());
    }

    #[test]
    fn text_is_broken_between_words() {
        let lines = wrapped("one two three", 1.0, text_width("one two", 1.0, false));
        assert_eq!(lines, ["one two", "three"]);
    }

    #[test]
    fn a_number_keeps_its_unit_and_a_time_its_parts() {
        let all = unbroken("it ran 21 times, last after 47 h 7 min, in 2 days (0.6 mm) in 3 s.");
        let numbers: Vec<&str> =
            all.iter().map(String::as_str).filter(|w| w.contains(' ')).collect();
        assert_eq!(numbers, ["47 h 7 min,", "2 days", "(0.6 mm)", "3 s."]);
    }
}

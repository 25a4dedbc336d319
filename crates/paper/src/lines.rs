//! From words to lines.

use crate::figure::Lettering;

/// A blank at which no line ends.
pub const NO_BREAK: char = '\u{a0}';

/// Units after which a number is not left alone at the end of a line.
const UNITS: &[&str] = &[
    "mm", "cm", "m", "in", "in.", "ft", "mm²", "m²", "cm²", "L", "l", "mL", "ml", "gal", "L/h",
    "gph", "mm/min", "in/min", "g", "kg", "lb", "°C", "°F", "°", "%", "h", "min", "s", "W", "V",
    "days", "hours", "minutes", "seconds",
];

/// Breaks a text into lines that are no wider than given. Lines end at blanks, never at one that forbids it, nor
/// between a number and its unit; a word wider than a line is broken where it must be. `\n` begins a new line.
///
/// ```
/// let lines = paper::broken("a door of 8 mm", paper::style::TEXT, 18.0);
/// assert_eq!(lines, ["a door of", "8 mm"]);
/// ```
pub fn broken(text: &str, lettering: Lettering, width_mm: f64) -> Vec<String> {
    text.split('\n').flat_map(|paragraph| one_broken(paragraph, lettering, width_mm)).collect()
}

fn one_broken(text: &str, lettering: Lettering, width_mm: f64) -> Vec<String> {
    let blank = lettering.width_mm(" ");
    let mut lines: Vec<String> = Vec::new();
    let (mut line, mut used) = (String::new(), 0.0);
    for word in unbreakable(text) {
        let needed = lettering.width_mm(&word);
        if !line.is_empty() && used + blank + needed <= width_mm {
            line = line + " " + &word;
            used += blank + needed;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut rest = word.as_str();
        while let Some(at) = fitting(rest, lettering, width_mm) {
            lines.push(rest[..at].to_owned());
            rest = &rest[at..];
        }
        line = rest.to_owned();
        used = lettering.width_mm(rest);
    }
    lines.push(line);
    // What is set has plain blanks: a reader of the file finds `8 mm` when searching for it.
    lines.iter().map(|line| line.replace(NO_BREAK, " ")).collect()
}

/// How many bytes of a word fit a width when not all do: at least one letter, and rather up to a blank, a hyphen or a
/// slash in it.
fn fitting(word: &str, lettering: Lettering, width_mm: f64) -> Option<usize> {
    let (mut width, mut good) = (0.0, None);
    for (start, letter) in word.char_indices() {
        width += crate::font::advance_em(letter, lettering.is_bold) * lettering.em_mm();
        if width > width_mm && start > 0 {
            return good.or(Some(start));
        }
        if matches!(letter, NO_BREAK | '-' | '/' | '_' | ',') {
            good = Some(start + letter.len_utf8());
        }
    }
    None
}

/// The parts of a text between blanks at which a line may end.
pub(crate) fn unbreakable(text: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')', '?', '!']);
        match parts.last_mut() {
            Some(before) if UNITS.contains(&bare) && ends_in_number(before) => {
                before.push(NO_BREAK);
                before.push_str(word);
            }
            _ => parts.push(word.to_owned()),
        }
    }
    parts
}

fn ends_in_number(word: &str) -> bool {
    let last = word.rsplit(NO_BREAK).next().unwrap_or(word);
    let number = last.trim_start_matches(['(', '±', '−', '-', '~', '≤', '≥', '⌀']);
    number.starts_with(|c: char| c.is_ascii_digit())
        && number.chars().all(|c| {
            c.is_ascii_digit() || matches!(c, '.' | ',' | '–' | '-' | '/' | '×' | '½' | '¼' | '¾')
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::TEXT;

    #[test]
    fn a_number_keeps_its_unit_and_a_blank_that_forbids_it_is_kept() {
        assert_eq!(
            unbreakable("cut 8 mm, then 3 to 5 min."),
            ["cut", "8\u{a0}mm,", "then", "3", "to", "5\u{a0}min."]
        );
        let lines = broken("one\u{a0}two three", TEXT, TEXT.width_mm("one two t"));
        assert_eq!(lines, ["one two", "three"]);
    }

    #[test]
    fn a_word_that_is_wider_than_the_line_is_broken_and_keeps_its_letters() {
        let lines = broken("x Donaudampfschifffahrt y", TEXT, 15.0);
        assert_eq!(lines.concat().replace(' ', ""), "xDonaudampfschifffahrty");
        assert!(lines.iter().all(|line| TEXT.width_mm(line) <= 15.0), "{lines:?}");
    }

    #[test]
    fn a_width_of_nothing_still_ends() {
        assert_eq!(broken("abc", TEXT, 0.0), ["a", "b", "c"]);
        assert_eq!(broken("", TEXT, 50.0), [""]);
    }
}

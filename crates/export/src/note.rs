//! Number, name and notes of a panel, drawn as single-stroke text below it.

use glam::{DVec2, dvec2};
use plate::{Face, text};

use crate::decimal::decimal;
use crate::panel::Panel;

/// Heights of capitals in mm: large for the number and name, smaller for the rest.
const HEADING_MM: f64 = 6.0;
const BODY_MM: f64 = 3.5;
/// From one baseline to the next, in heights of capitals.
const LINE_SPACING: f64 = 1.8;
/// From the panel's lower edge to the top of the heading.
const GAP_MM: f64 = 6.0;
/// Lines may be as wide as the panel, and at least this wide.
const LEAST_WIDTH_MM: f64 = 150.0;

/// The strokes of the note, below the box `[lo, hi]` around everything that is made, so that no
/// letter lies on a line that is cut.
pub(crate) fn strokes(panel: &Panel, [lo, hi]: [DVec2; 2]) -> Vec<Vec<DVec2>> {
    let width = (hi.x - lo.x).max(LEAST_WIDTH_MM);
    let mut strokes = Vec::new();
    let mut top = lo.y - GAP_MM;
    for (paragraph, height) in paragraphs(panel) {
        for line in wrap(&paragraph, |line| text::strokes(line, height).width_mm <= width) {
            let baseline = dvec2(lo.x, top - height);
            let moved = |stroke: &Vec<DVec2>| stroke.iter().map(|&p| p + baseline).collect();
            strokes.extend(text::strokes(&line, height).strokes.iter().map(moved));
            top -= LINE_SPACING * height;
        }
    }
    strokes
}

/// What the note says, each paragraph with its height of capitals.
fn paragraphs(panel: &Panel) -> Vec<(String, f64)> {
    let sheet = format!(
        "{}, {} mm thick, {} wanted",
        panel.material,
        decimal(panel.thickness_mm, 3),
        panel.quantity
    );
    let mut view = "Drawn in mm at full size, seen from the upper face.".to_owned();
    if has_lower_face(panel) {
        view += " Work on the lower face is drawn as seen through the sheet: mirror it when the sheet is turned over.";
    }
    let mut paragraphs = vec![
        (format!("{} {}", panel.number, panel.name), HEADING_MM),
        (sheet, BODY_MM),
        (view, BODY_MM),
    ];
    paragraphs.extend(panel.notes.iter().map(|note| (note.clone(), BODY_MM)));
    paragraphs
}

/// Whether anything is made from the lower face, where a sheet lies the other way round.
fn has_lower_face(panel: &Panel) -> bool {
    panel.pattern.pockets.iter().any(|p| p.face == Face::Bottom)
        || panel.pattern.engravings.iter().any(|e| e.face == Face::Bottom)
}

/// Breaks text between words into lines that fit. A word that does not fit has a line of its own.
fn wrap(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if fits(&format!("{line} {word}")) => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layers::tests::{panel, pattern};

    #[test]
    fn lines_break_between_words_and_lose_none() {
        let lines = wrap("one two three fourteen five", |line| line.len() <= 7);
        assert_eq!(lines, ["one two", "three", "fourteen", "five"]);
    }

    #[test]
    fn the_note_lies_below_the_panel() {
        let pattern = pattern();
        let note = strokes(&panel(&pattern), [dvec2(0.0, 0.0), dvec2(300.0, 200.0)]);
        assert!(!note.is_empty());
        for p in note.iter().flatten() {
            assert!(p.y < -1.0 && 0.0 <= p.x && p.x <= 300.0, "{p}");
        }
    }
}

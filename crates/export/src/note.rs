//! Number, name and notes of a panel, drawn as single-stroke text below it.

use glam::{DVec2, dvec2};
use plate::{Face, text};

use crate::decimal::decimal;
use crate::layers::{Layer, bounds, names};
use crate::panel::Panel;

/// Heights of capitals in mm: large for the number and name, smaller for the rest.
const HEADING_MM: f64 = 6.0;
const BODY_MM: f64 = 3.5;
/// The same on whole sheets, which are looked at from farther away.
const SHEET_HEADING_MM: f64 = 24.0;
const SHEET_BODY_MM: f64 = 12.0;
/// From one baseline to the next, in heights of capitals: descenders reach 0.4 down, accents on
/// capitals 1.6 up.
const LINE_SPACING: f64 = 2.0;
/// From the panel's lower edge to the top of the heading's capitals; accents take up to 3.6 of it.
const GAP_MM: f64 = 6.0;
/// Lines may be as wide as the panel, and at least this wide.
const LEAST_WIDTH_MM: f64 = 150.0;

/// The strokes of the note, below everything that is made, so that no letter lies on a line that
/// is cut.
pub(crate) fn strokes(panel: &Panel, made: &[Layer]) -> Vec<Vec<DVec2>> {
    let mut paragraphs = vec![(format!("{} {}", panel.number, panel.name), HEADING_MM)];
    paragraphs.extend(about(panel).into_iter().map(|words| (words, BODY_MM)));
    below(bounds(made), paragraphs, made)
}

/// The strokes of a heading and paragraphs below everything of a whole sheet.
pub(crate) fn strokes_of_sheet(heading: &str, about: &[String], made: &[Layer]) -> Vec<Vec<DVec2>> {
    let mut paragraphs = vec![(heading.to_owned(), SHEET_HEADING_MM)];
    paragraphs.extend(about.iter().map(|words| (words.clone(), SHEET_BODY_MM)));
    below(bounds(made), paragraphs, made)
}

/// A number on a part, in the middle of a place with so much room around it.
pub(crate) fn label(words: &str, at: DVec2, room_mm: f64) -> Vec<Vec<DVec2>> {
    let drawn = text::strokes(words, 1.0);
    let (width, height) = (drawn.width_mm.max(1e-9), 1.0);
    // Its corners stay within nine tenths of the room.
    let scale = (0.9 * 2.0 * room_mm / dvec2(width, height).length()).min(SHEET_HEADING_MM);
    let corner = at - 0.5 * scale * dvec2(width, height);
    let stroke = |stroke: &Vec<DVec2>| stroke.iter().map(|&p| corner + scale * p).collect();
    drawn.strokes.iter().map(stroke).collect()
}

/// Paragraphs, each with its height of capitals, below a rectangle; the last says which layers there are.
fn below(
    [lo, hi]: [DVec2; 2],
    mut paragraphs: Vec<(String, f64)>,
    made: &[Layer],
) -> Vec<Vec<DVec2>> {
    let work = names(made);
    let height = paragraphs.last().map_or(BODY_MM, |last| last.1);
    paragraphs.push((format!("Layers: {}.", work.join("; ")), height));
    let width = (hi.x - lo.x).max(LEAST_WIDTH_MM);
    let mut strokes = Vec::new();
    let mut top = lo.y - GAP_MM;
    for (paragraph, height) in paragraphs {
        for line in wrap(&legible(&paragraph), |line| text::strokes(line, height).width_mm <= width)
        {
            let baseline = dvec2(lo.x, top - height);
            let moved = |stroke: &Vec<DVec2>| stroke.iter().map(|&p| p + baseline).collect();
            strokes.extend(text::strokes(&line, height).strokes.iter().map(moved));
            top -= LINE_SPACING * height;
        }
    }
    strokes
}

/// What a shop must know of a panel besides its lines, a paragraph each.
pub(crate) fn about(panel: &Panel) -> Vec<String> {
    let Panel { project, material, order, quantity, .. } = panel;
    let thickness = decimal(panel.thickness_mm, 3);
    let mut view = "Drawn in mm at full size, seen from the upper face.".to_owned();
    if !panel.facing.is_empty() {
        view = format!("{view} {}", panel.facing);
    }
    view += if has_lower_face(panel) {
        " Work on the lower face is drawn as seen through the sheet: mirror it when the sheet is turned over."
    } else {
        " All work is done from the upper face."
    };
    let mut about = vec![
        format!("For: {project}"),
        format!("{material}: {order}; drawn {thickness} mm thick, {quantity} wanted."),
        view,
    ];
    about.extend(depths(panel));
    about.extend(panel.notes.iter().cloned());
    about
}

/// How deep pockets and engraving are.
fn depths(panel: &Panel) -> Option<String> {
    let mut depths: Vec<String> = Vec::new();
    for pocket in &panel.pattern.pockets {
        let depth = format!("pockets {} mm deep", decimal(pocket.depth_mm, 3));
        if !depths.contains(&depth) {
            depths.push(depth);
        }
    }
    if let Some(mm) = panel.engraving_mm.filter(|_| !panel.pattern.engravings.is_empty()) {
        depths.push(format!("engraving {} mm deep", decimal(mm, 3)));
    }
    (!depths.is_empty()).then(|| format!("Depths: {}.", depths.join("; ")))
}

/// Whether anything is made from the lower face, where a sheet lies the other way round.
fn has_lower_face(panel: &Panel) -> bool {
    panel.pattern.pockets.iter().any(|p| p.face == Face::Bottom)
        || panel.pattern.engravings.iter().any(|e| e.face == Face::Bottom)
}

/// The text with a question mark for every character that the font does not have: a gap would hide
/// that something is missing. The SVG's title has the name in full.
fn legible(text: &str) -> String {
    let missing = text::strokes(text, BODY_MM).missing;
    text.chars().map(|c| if missing.contains(&c) { '?' } else { c }).collect()
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
    use crate::layers::{
        layers,
        tests::{panel, pattern},
    };

    #[test]
    fn lines_break_between_words_and_lose_none() {
        let lines = wrap("one two three fourteen five", |line| line.len() <= 7);
        assert_eq!(lines, ["one two", "three", "fourteen", "five"]);
    }

    #[test]
    fn a_note_says_sheet_face_and_depths() {
        let pattern = pattern();
        let about = about(&panel(&pattern)).join("\n");
        let expected = "For: a sump\n\
            cast acrylic: order 8 mm sheet (measured 7.7 to 8 mm); drawn 7.85 mm thick, 2 wanted.\n\
            Drawn in mm at full size, seen from the upper face. Upper face = inside of the sump. Work on the lower \
            face is drawn as seen through the sheet: mirror it when the sheet is turned over.\n\
            Depths: pockets 4 mm deep; pockets 2.625 mm deep; engraving 0.3 mm deep.";
        assert_eq!(about, expected);
    }

    #[test]
    fn a_panel_worked_from_one_side_says_so() {
        let mut pattern = pattern();
        pattern.pockets.retain(|pocket| pocket.face == Face::Top);
        assert!(about(&panel(&pattern))[2].ends_with("All work is done from the upper face."));
    }

    #[test]
    fn characters_that_cannot_be_drawn_are_seen_to_be_missing() {
        assert_eq!(legible("leaf ø 水 2"), "leaf ø ? 2");
    }

    #[test]
    fn the_note_lies_below_the_panel() {
        let pattern = pattern();
        let mut layers = layers(&panel(&pattern));
        layers.retain(|layer| layer.is_made);
        let note = strokes(&panel(&pattern), &layers);
        assert!(!note.is_empty());
        for p in note.iter().flatten() {
            assert!(p.y < -1.0 && 0.0 <= p.x && p.x <= 300.0, "{p}");
        }
    }
}

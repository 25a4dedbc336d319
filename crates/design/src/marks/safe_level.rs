//! The mark of the highest safe running level on a scale: a line across it with the word `MAX` beside.

use findings::Finding;
use glam::DVec2;
use params::{LevelMarks, MarkUnit};
use units::Length;

use super::{LONG_MM, NUMBER_MM, SCALE_MM, WORD_OVER_MM, reach, step_mm};
use crate::draft::Builder;
use crate::resolve::SafeLevel;

/// What stands beside the line.
const WORD: &str = "MAX";
/// How far the line reaches over the ends of the long marks, mm; our judgement: seen at a glance.
const OVER_MM: f64 = 4.0;
/// Between word and line, or word and numbers, mm.
const GAP_MM: f64 = 1.5;
/// Code of all that keeps the mark off a scale.
const CODE: &str = "safe-level-off-marks";

/// Room for the scale: to either side of its middle, and the height of the wall.
pub(super) struct Room {
    /// To the reader's left and right of the scale's middle, mm.
    pub(super) beside_mm: [f64; 2],
    /// Height of the wall above the inside of the bottom, mm.
    pub(super) top_mm: f64,
}

/// The strokes that mark the level, in the plane and with the origin of the scale: x to the reader's right
/// from its middle, y the height. None with a finding where the scale has no place for them.
pub(super) fn strokes(
    b: &mut Builder<'_>,
    marks: &LevelMarks,
    level: &SafeLevel,
    room: &Room,
    parameter: &str,
) -> Vec<Vec<DVec2>> {
    let y = level.height_mm;
    let Some([first, last]) = reach(marks) else { return Vec::new() };
    let shown = b.show(y);
    let off = |key: &str, message: String, hint: String| {
        Finding::tight(CODE, format!("{parameter}.{key}"), message).with_hint(hint)
    };
    if y > last {
        let wanted = (y / step_mm(marks)).ceil() * step_mm(marks);
        let message = format!(
            "the highest safe running level of `{}`, {shown}, lies above the scale, which ends at {}: it is not engraved",
            level.chamber,
            b.show(last)
        );
        // Over its highest mark a scale carries the word for its unit.
        let hint = if wanted + WORD_OVER_MM + NUMBER_MM <= room.top_mm {
            format!("extend the scale: `to = {}`", written(marks.unit, wanted))
        } else {
            "the wall has no room for a higher scale: put a mark of your own there".to_owned()
        };
        b.find(off("to", message, hint));
        return Vec::new();
    }
    if y < first || y < 0.5 * NUMBER_MM {
        let message = format!(
            "the highest safe running level of `{}`, {shown}, lies below the scale, which begins at {}: it is not engraved",
            level.chamber,
            b.show(first)
        );
        b.find(off("from", message, "begin the scale lower with `from`".to_owned()));
        return Vec::new();
    }
    let text = plate::text::strokes(WORD, NUMBER_MM);
    let [left_mm, right_mm] = room.beside_mm;
    let [near, far] = [-0.5 * SCALE_MM, -0.5 * SCALE_MM + LONG_MM];
    let line = [near - OVER_MM, far];
    let on_left = line[0] - GAP_MM - text.width_mm;
    let on_right = 0.5 * SCALE_MM + GAP_MM;
    let text_x = if -on_left <= left_mm {
        on_left
    } else if on_right + text.width_mm <= right_mm && -line[0] <= left_mm {
        on_right
    } else {
        let message = format!(
            "beside the scale there is no room for the mark of the highest safe running level, {shown}: it is not engraved"
        );
        let hint = "move the scale with `at`, further from the chamber's sides".to_owned();
        b.find(off("at", message, hint));
        return Vec::new();
    };
    let shift = DVec2::new(text_x, y - 0.5 * NUMBER_MM);
    let word = text.strokes.into_iter().map(|s| s.into_iter().map(|p| p + shift).collect());
    std::iter::once(line.map(|x| DVec2::new(x, y)).to_vec()).chain(word).collect()
}

/// A height as it is written in the file, in the unit of the scale.
fn written(unit: MarkUnit, mm: f64) -> String {
    match unit {
        MarkUnit::Cm => format!("{mm}"),
        MarkUnit::In => format!("\"{} in\"", Length::mm(mm).to_in()),
    }
}

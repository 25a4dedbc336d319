//! The level that is kept in the return chamber, and the highest that may be.

use super::Sump;
use super::cuts::Cut;
use super::frame::Frame;
use super::levels::SAME_LEVEL_MM;
use crate::plot::paper::{Area, Paper, Text, dashed};
use crate::plot::words;

/// Colour of both marks.
pub(super) const MARK: &str = "#8f2f1c";
/// How the marks are drawn.
pub(super) const DASH: &str = "2.4 0.7";
const SIZE: f64 = 2.2;

/// A height in the return chamber.
struct Mark {
    words: &'static str,
    height_m: f64,
}

/// Kept level and highest safe one, where this cut crosses the return chamber.
fn marks(sump: &Sump<'_>, cut: &Cut) -> Vec<Mark> {
    let reserve = &sump.report.reserve;
    if !cut.basins.contains(&reserve.basin) {
        return Vec::new();
    }
    let kept = if reserve.kept_is_assumed { "kept (assumed)" } else { "kept" };
    let highest = reserve.highest_safe_m.map(|height_m| Mark { words: "MAX", height_m });
    highest.into_iter().chain([Mark { words: kept, height_m: reserve.kept_m }]).collect()
}

/// Thin lines across the return chamber; none where the level in flow is drawn already.
pub(super) fn lines(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    let i = sump.report.reserve.basin;
    for mark in marks(sump, cut) {
        let level_m = sump.report.basins[i].level_m.mid;
        if (mark.height_m - level_m).abs() * 1e3 <= SAME_LEVEL_MM {
            continue;
        }
        let basin = &sump.design.waterworks.basins[i];
        let y = frame.y(mark.height_m * 1e3);
        let ends = [[frame.x(basin.min.x), y], [frame.x(basin.max.x), y]];
        paper.line(ends[0], ends[1], &dashed(MARK, 0.2, DASH));
        paper.keep_off(ends[0], ends[1]);
    }
}

/// The marks' names with their heights; those that found no room.
pub(super) fn labels(
    paper: &mut Paper,
    sump: &Sump<'_>,
    cut: &Cut,
    frame: &Frame,
    bodies: &[Area],
) -> Vec<String> {
    let basin = &sump.design.waterworks.basins[sump.report.reserve.basin];
    let sides = [frame.x(basin.min.x), frame.x(basin.max.x)];
    let mut unnamed = Vec::new();
    for mark in marks(sump, cut) {
        let height = words::height(mark.height_m, sump.design.report);
        let y = frame.y(mark.height_m * 1e3);
        let long = format!("{} {height}", mark.words);
        let is_placed = [long.as_str(), mark.words].into_iter().any(|words| {
            let text = Text::new(words, [0.0; 2], SIZE).colour(MARK);
            beside(paper, text, y, sides, bodies) || beside(paper, text.on_patch(), y, sides, &[])
        });
        if !is_placed {
            unnamed.push(long);
        }
    }
    unnamed
}

/// Puts a text on its line or under it, as far to the right as is free.
fn beside(
    paper: &mut Paper,
    text: Text<'_>,
    y: f64,
    [left, right]: [f64; 2],
    bodies: &[Area],
) -> bool {
    let text = text.end();
    let ends = std::iter::successors(Some(right - 1.0), |x| Some(x - 0.5));
    let places = ends
        .take_while(|x| *x - text.width() > left + 0.5)
        .flat_map(|x| [[x, y - 0.9], [x, y + 0.5 + 0.8 * SIZE]]);
    let is_free = |text: &Text<'_>| {
        let area = text.area();
        paper.is_free(&area) && !bodies.iter().any(|body| body.overlaps(&area))
    };
    let Some(text) = places.map(|at| Text { at, ..text }).find(is_free) else { return false };
    paper.text(&text);
    true
}

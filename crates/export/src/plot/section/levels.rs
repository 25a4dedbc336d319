//! Water up to its level, with the band, and the dimensions of level and freeboard.

use super::Sump;
use super::cuts::Cut;
use super::frame::Frame;
use crate::plot::paper::{Area, BLACK, Paper, Text, dashed, stroke};
use crate::plot::words;

pub(super) const WATER: &str = "#cfe6f1";
pub(super) const BAND: &str = "fill=\"#1f6f9f\" fill-opacity=\"0.3\"";
pub(super) const LEVEL: &str = "#0b4f7a";
/// Levels at rest that are nearer than this to the level in flow are not drawn, mm.
const SAME_LEVEL_MM: f64 = 2.0;

/// Water in every basin of the cut and in its socks.
pub(super) fn water(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for &i in &cut.basins {
        let basin = &sump.design.waterworks.basins[i];
        let level_mm = sump.report.basins[i].level_m.mid * 1e3;
        let style = format!("fill=\"{WATER}\"");
        paper.rect(frame.at(basin.min.x, 0.0), frame.at(basin.max.x, level_mm), &style);
    }
    for (shelf, sock) in sump.design.waterworks.shelves.iter().zip(&sump.report.socks) {
        if cut.basins.contains(&shelf.basin) {
            let half = 0.5 * shelf.diameter_mm;
            for middle in &shelf.middles {
                let from = frame.at(middle.x - half, shelf.sock_end_mm);
                let to = frame.at(middle.x + half, sock.clean_m.mid * 1e3);
                paper.rect(from, to, &format!("fill=\"{WATER}\""));
            }
        }
    }
}

/// Level lines with their bands, over all that stands in the water.
pub(super) fn lines(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for &i in &cut.basins {
        let (basin, report) = (&sump.design.waterworks.basins[i], &sump.report.basins[i]);
        let [x0, x1] = [frame.x(basin.min.x), frame.x(basin.max.x)];
        let level = report.level_m.map(|m| m * 1e3);
        paper.rect([x0, frame.y(level.low)], [x1, frame.y(level.high)], BAND);
        if (report.rest_m * 1e3 - level.mid).abs() > SAME_LEVEL_MM {
            let y = frame.y(report.rest_m * 1e3);
            paper.line([x0, y], [x1, y], &dashed(LEVEL, 0.2, "0.6 0.8"));
        }
        paper.open(&format!("level-{}-{}", cut.letter, report.name.replace([' ', ','], "-")));
        let y = frame.y(level.mid);
        paper.line([x0, y], [x1, y], &stroke(LEVEL, 0.35));
        paper.close();
    }
    for (shelf, sock) in sump.design.waterworks.shelves.iter().zip(&sump.report.socks) {
        if !cut.basins.contains(&shelf.basin) {
            continue;
        }
        let level = sock.clean_m.map(|m| m * 1e3);
        let half = 0.5 * shelf.diameter_mm;
        for middle in &shelf.middles {
            let (a, b) = (middle.x - half, middle.x + half);
            paper.rect(frame.at(a, level.low), frame.at(b, level.high), BAND);
            paper.line(frame.at(a, level.mid), frame.at(b, level.mid), &stroke(LEVEL, 0.35));
        }
    }
}

/// Height of the level above the bottom and of the rim above the level, upright at the basin's upstream
/// side.
pub(super) fn dimensions(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    let units = sump.design.report;
    for &i in &cut.basins {
        let (basin, report) = (&sump.design.waterworks.basins[i], &sump.report.basins[i]);
        let x = frame.x(basin.min.x) + OFFSET.min(0.35 * (basin.max.x - basin.min.x) / frame.scale);
        let level = report.level_m.mid;
        upright(paper, x, [frame.y(0.0), frame.y(level * 1e3)], &words::height(level, units));
        let freeboard = words::height(report.rim_m - level, units);
        upright(paper, x, [frame.y(level * 1e3), frame.y(report.rim_m * 1e3)], &freeboard);
    }
}

/// From the side of a basin to its dimensions, mm on paper.
pub(super) const OFFSET: f64 = 4.6;

/// An upright dimension; without its number where that has no room, for the tables tell it too.
fn upright(paper: &mut Paper, x: f64, [from, to]: [f64; 2], words: &str) {
    let pen = stroke(BLACK, 0.13);
    for (y, d) in [(from, -1.0), (to, 1.0)] {
        paper.line([x - 1.0, y], [x + 1.0, y], &pen);
        if from - to > 4.0 {
            paper.path(
                &[[x, y], [x - 0.45, y + 1.5 * d], [x + 0.45, y + 1.5 * d]],
                true,
                &format!("fill=\"{BLACK}\""),
            );
        }
    }
    paper.line([x, from], [x, to], &pen);
    let text = Text::new(words, [x + 0.8, 0.5 * (from + to)], 2.3).middle().turned().on_patch();
    if text.width() + 4.0 <= from - to && paper.is_free(&text.area()) {
        paper.text(&text);
    } else {
        paper.keep_free(Area { min: [x - 0.5, to], max: [x + 0.5, from] });
    }
}

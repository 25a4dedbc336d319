//! Water up to its level, with the band, and the dimensions of level and freeboard.

use design::Shelf;
use glam::DVec2;

use super::Sump;
use super::cuts::Cut;
use super::frame::Frame;
use super::room::{HALF_NUMBER, Uprights};
use crate::plot::paper::{Area, BLACK, Paper, Text, dashed, stroke};
use crate::plot::words;

pub(super) const WATER: &str = "#cfe6f1";
pub(super) const BAND: &str = "fill=\"#1f6f9f\" fill-opacity=\"0.3\"";
pub(super) const LEVEL: &str = "#0b4f7a";
/// Levels at rest that are nearer than this to the level in flow are not drawn, mm.
pub(super) const SAME_LEVEL_MM: f64 = 2.0;

/// Water in every basin of the cut and in its socks.
pub(super) fn water(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for &i in &cut.basins {
        let basin = &sump.design.waterworks.basins[i];
        let level_mm = sump.report.basins[i].level_m.mid * 1e3;
        let style = format!("fill=\"{WATER}\"");
        paper.rect(frame.at(basin.min.x, 0.0), frame.at(basin.max.x, level_mm), &style);
    }
    for (shelf, sock) in sump.design.waterworks.shelves.iter().zip(&sump.report.socks) {
        let half = 0.5 * shelf.diameter_mm;
        for middle in hanging(sump, cut, shelf) {
            let from = frame.at(middle.x - half, shelf.sock_end_mm);
            let to = frame.at(middle.x + half, sock.clean_m.mid * 1e3);
            paper.rect(from, to, &format!("fill=\"{WATER}\""));
        }
    }
}

/// Level lines with their bands, over all that stands in the water.
pub(super) fn lines(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for &i in &cut.basins {
        let (basin, report) = (&sump.design.waterworks.basins[i], &sump.report.basins[i]);
        let [x0, x1] = [frame.x(basin.min.x), frame.x(basin.max.x)];
        let level = report.level_m.map(|m| m * 1e3);
        band(paper, [x0, frame.y(level.low)], [x1, frame.y(level.high)]);
        if (report.rest_m * 1e3 - level.mid).abs() > SAME_LEVEL_MM {
            let y = frame.y(report.rest_m * 1e3);
            paper.line([x0, y], [x1, y], &dashed(LEVEL, 0.2, "0.6 0.8"));
            paper.keep_off([x0, y], [x1, y]);
        }
        paper.open(&format!("level-{}-{}", cut.letter, report.name.replace([' ', ','], "-")));
        let y = frame.y(level.mid);
        paper.line([x0, y], [x1, y], &stroke(LEVEL, 0.35));
        paper.close();
    }
    for (shelf, sock) in sump.design.waterworks.shelves.iter().zip(&sump.report.socks) {
        let level = sock.clean_m.map(|m| m * 1e3);
        let half = 0.5 * shelf.diameter_mm;
        for middle in hanging(sump, cut, shelf) {
            let (a, b) = (middle.x - half, middle.x + half);
            band(paper, frame.at(a, level.low), frame.at(b, level.high));
            paper.line(frame.at(a, level.mid), frame.at(b, level.mid), &stroke(LEVEL, 0.35));
        }
    }
}

/// Middles of the socks of a shelf that this cut shows.
fn hanging<'a>(
    sump: &'a Sump<'_>,
    cut: &'a Cut,
    shelf: &'a Shelf,
) -> impl Iterator<Item = &'a DVec2> {
    shelf.middles.iter().filter(|m| cut.is_nearest(&sump.cuts, shelf.basin, m.y))
}

/// The band of a level; text keeps off it, and off the line in it.
fn band(paper: &mut Paper, a: [f64; 2], b: [f64; 2]) {
    paper.rect(a, b, BAND);
    paper.keep_free(Area::between(a, b).grown(0.25));
}

/// Height of the level above the bottom and of the rim above the level, upright where there is room.
pub(super) fn dimensions(
    paper: &mut Paper,
    sump: &Sump<'_>,
    cut: &Cut,
    frame: &Frame,
    places: &[Uprights],
    bodies: &[Area],
) {
    let units = sump.design.report;
    for (&i, place) in cut.basins.iter().zip(places) {
        let report = &sump.report.basins[i];
        let level = report.level_m.mid;
        let ends = [0.0, level * 1e3, report.rim_m * 1e3].map(|mm| frame.y(mm));
        let words = [words::height(level, units), words::height(report.rim_m - level, units)];
        upright(paper, place.level, [ends[0], ends[1]], &words[0], bodies);
        upright(paper, place.freeboard, [ends[1], ends[2]], &words[1], bodies);
    }
}

/// Shares of a dimension's length at which its number may stand: the middle first.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];

/// An upright dimension, its line broken for its number; without that where it has no room, for the tables
/// tell it too.
fn upright(paper: &mut Paper, x: f64, [from, to]: [f64; 2], words: &str, bodies: &[Area]) {
    let pen = stroke(BLACK, 0.13);
    let mut head = 0.0;
    for (y, d) in [(from, -1.0), (to, 1.0)] {
        paper.line([x - 1.0, y], [x + 1.0, y], &pen);
        if from - to > 4.0 {
            head = 1.5;
            paper.path(
                &[[x, y], [x - 0.45, y + head * d], [x + 0.45, y + head * d]],
                true,
                &format!("fill=\"{BLACK}\""),
            );
        }
    }
    let text = Text::new(words, [x + 0.8, 0.0], 2.3).middle().turned();
    let room = Area {
        min: [x - 2.0 * HALF_NUMBER, to + head + 0.5],
        max: [x + 2.0 * HALF_NUMBER, from - head - 0.5],
    };
    let places = || SHARES.map(|share| Text { at: [x + 0.8, to + share * (from - to)], ..text });
    let has_room = |text: &Text<'_>| text.area().is_within(&room) && paper.is_free(&text.area());
    let is_clear =
        |text: &Text<'_>| has_room(text) && !bodies.iter().any(|body| body.overlaps(&text.area()));
    let clear = places().into_iter().find(is_clear);
    let number = clear.or_else(|| places().map(Text::on_patch).into_iter().find(has_room));
    let pieces = if let Some(text) = &number {
        paper.text(text);
        let area = text.area();
        vec![[from, area.max[1] + 0.3], [area.min[1] - 0.3, to]]
    } else {
        vec![[from, to]]
    };
    for [a, b] in pieces {
        paper.line([x, a], [x, b], &pen);
        paper.keep_off([x, a], [x, b]);
    }
}

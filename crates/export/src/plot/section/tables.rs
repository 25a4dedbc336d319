//! The numbers of the drawing as two tables.

use super::labels::{drop_m, short};
use super::{MARGIN, SIZE, Sump};
use crate::plot::measure::wrapped;
use crate::plot::paper::{GREY, Paper, Text};
use crate::plot::table::{ROW, Rows, table, table_width};
use crate::plot::words;

/// Levels on the left and ways on the right, or one below the other; the lower end.
pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, [x, y]: [f64; 2], width: f64) -> f64 {
    let (levels, ways) = (levels(sump), ways(sump));
    let (left, right) = (table_width(&levels, SIZE), table_width(&ways, SIZE));
    let mut end = if left + right + 14.0 <= width - 2.0 * MARGIN {
        let a = table(paper, &levels, SIZE, [x, y]);
        let b = table(paper, &ways, SIZE, [x + left + 14.0, y]);
        a.max(b)
    } else {
        let y = table(paper, &levels, SIZE, [x, y]);
        table(paper, &ways, SIZE, [x, y + 5.0])
    };
    if sump.report.band_is_doubtful {
        let text = "The figures in brackets may be too narrow: a case that was computed as a check lay outside them.";
        for line in wrapped(text, SIZE, width - 2.0 * MARGIN) {
            paper.text(&Text::new(&line, [x, end + 2.0], SIZE).colour(GREY));
            end += ROW;
        }
    }
    end
}

fn levels(sump: &Sump<'_>) -> Rows {
    let units = sump.design.report;
    let height = |m: f64| words::height(m, units);
    let head = ["", "level in flow", "at rest", "freeboard", "least freeboard"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for b in &sump.report.basins {
        rows.push(vec![
            b.name.clone(),
            words::height_with_band(b.level_m, units),
            height(b.rest_m),
            height(b.rim_m - b.level_m.mid),
            height(b.rim_m - b.level_m.high),
        ]);
    }
    let reserve = &sump.report.reserve;
    let rim = sump.report.basins[reserve.basin].rim_m;
    let none = || "none is safe".to_owned();
    rows.push(vec![
        format!("MAX of {}", reserve.chamber),
        reserve.highest_safe_m.map_or_else(none, height),
        String::new(),
        reserve.highest_safe_m.map_or_else(String::new, |m| height(rim - m)),
        String::new(),
    ]);
    for sock in &sump.report.socks {
        let rim = sump.report.basins.iter().find(|b| b.name == sock.chamber).map(|b| b.rim_m);
        let over = |level: f64| rim.map_or_else(String::new, |rim| height(rim - level));
        rows.push(vec![
            format!("socks of {}", sock.chamber),
            words::height_with_band(sock.clean_m, units),
            String::new(),
            over(sock.clean_m.mid),
            over(sock.clean_m.high),
        ]);
    }
    rows
}

fn ways(sump: &Sump<'_>) -> Rows {
    let units = sump.design.report;
    let head = ["leaf", "way", "lower edge", "level over it", "flow", "drop", ""];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for w in &sump.report.ways {
        let is_wet = w.head_m.mid > 0.0;
        rows.push(vec![
            w.leaf.clone(),
            short(w.kind).to_owned(),
            words::height(w.sill_m, units),
            if is_wet { words::height_with_band(w.head_m, units) } else { "dry".to_owned() },
            if is_wet { words::flow(w.flow_m3_s, units) } else { String::new() },
            if is_wet { words::height(drop_m(sump.report, w), units) } else { String::new() },
            if is_wet && w.is_drowned { "drowned".to_owned() } else { String::new() },
        ]);
    }
    rows
}

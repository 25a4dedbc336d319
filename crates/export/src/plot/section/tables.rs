//! The numbers of the drawing as two tables.

use super::labels::{drop_m, short};
use super::{MARGIN, SIZE, Sump};
use crate::plot::measure::{text_width, wrapped};
use crate::plot::paper::{GREY, Paper, Text, stroke};
use crate::plot::words;

/// Height of a row, mm.
const ROW: f64 = 4.4;
/// Between columns.
const GAP: f64 = 4.0;

/// Levels on the left and ways on the right, or one below the other; the lower end.
pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, [x, y]: [f64; 2], width: f64) -> f64 {
    let (levels, ways) = (levels(sump), ways(sump));
    let (left, right) = (table_width(&levels), table_width(&ways));
    let mut end = if left + right + 14.0 <= width - 2.0 * MARGIN {
        let a = table(paper, &levels, [x, y]);
        let b = table(paper, &ways, [x + left + 14.0, y]);
        a.max(b)
    } else {
        let y = table(paper, &levels, [x, y]);
        table(paper, &ways, [x, y + 5.0])
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

/// Rows of cells; the first row is the head.
type Rows = Vec<Vec<String>>;

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

fn column_widths(rows: &Rows) -> Vec<f64> {
    let count = rows.first().map_or(0, Vec::len);
    let width = |k: usize| {
        rows.iter()
            .enumerate()
            .map(|(i, row)| text_width(&row[k], SIZE, i == 0))
            .fold(0.0, f64::max)
    };
    (0..count).map(width).collect()
}

fn table_width(rows: &Rows) -> f64 {
    column_widths(rows).iter().map(|w| w + GAP).sum::<f64>() - GAP
}

fn table(paper: &mut Paper, rows: &Rows, [x0, y0]: [f64; 2]) -> f64 {
    let widths = column_widths(rows);
    let mut y = y0;
    for (i, row) in rows.iter().enumerate() {
        let mut x = x0;
        for (cell, width) in row.iter().zip(&widths) {
            if !cell.is_empty() {
                let text = Text::new(cell, [x, y], SIZE);
                paper.text(&if i == 0 { text.bold() } else { text });
            }
            x += width + GAP;
        }
        let pen = stroke("#c4cbd0", if i == 0 { 0.3 } else { 0.12 });
        paper.line([x0, y + 1.3], [x0 + table_width(rows), y + 1.3], &pen);
        y += ROW;
    }
    y
}

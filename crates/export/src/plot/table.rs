//! Tables on a drawing.

use super::measure::text_width;
use super::paper::{Paper, Text, stroke};

/// Height of a row, mm.
pub(super) const ROW: f64 = 4.4;
/// Between columns.
const GAP: f64 = 4.0;

/// Rows of cells; the first row is the head.
pub(super) type Rows = Vec<Vec<String>>;

fn column_widths(rows: &Rows, size: f64) -> Vec<f64> {
    let count = rows.first().map_or(0, Vec::len);
    let width = |k: usize| {
        rows.iter()
            .enumerate()
            .map(|(i, row)| text_width(&row[k], size, i == 0))
            .fold(0.0, f64::max)
    };
    (0..count).map(width).collect()
}

/// Width of all columns.
pub(super) fn table_width(rows: &Rows, size: f64) -> f64 {
    column_widths(rows, size).iter().map(|w| w + GAP).sum::<f64>() - GAP
}

/// Draws a table from the base line of its head; the base line after its last row.
pub(super) fn table(paper: &mut Paper, rows: &Rows, size: f64, [x0, y0]: [f64; 2]) -> f64 {
    let widths = column_widths(rows, size);
    let mut y = y0;
    for (i, row) in rows.iter().enumerate() {
        let mut x = x0;
        for (cell, width) in row.iter().zip(&widths) {
            if !cell.is_empty() {
                let text = Text::new(cell, [x, y], size);
                paper.text(&if i == 0 { text.bold() } else { text });
            }
            x += width + GAP;
        }
        let pen = stroke("#c4cbd0", if i == 0 { 0.3 } else { 0.12 });
        paper.line([x0, y + 1.3], [x0 + table_width(rows, size), y + 1.3], &pen);
        y += ROW;
    }
    y
}

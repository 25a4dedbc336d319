//! The scale of a drawing, and its bar.

use super::paper::{Paper, Text};
use super::words;
use crate::decimal::decimal;

/// Scales to choose from, as drawings have them: ISO 5455 (1979) with 1:2.5, 1:4 and 1:8 between, which
/// go with inches.
const SCALES: [f64; 11] = [1.0, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0, 20.0, 25.0, 50.0, 100.0];

/// How many millimetres one on paper stands for, so that a length is no longer than `longest` mm there.
pub(super) fn of(length_mm: f64, longest: f64) -> f64 {
    SCALES.into_iter().find(|s| length_mm / s <= longest).unwrap_or(SCALES[SCALES.len() - 1])
}

/// A bar in each unit; where they end.
pub(super) fn bars(paper: &mut Paper, scale: f64, [x, y]: [f64; 2]) -> f64 {
    let mut right = x;
    let mut top = y;
    for units in [units::System::Metric, units::System::UsCustomary] {
        let unit = words::height_unit(units);
        // The longest round length that is at most 50 mm on paper.
        let most = 50.0 * scale * 1e-3 * unit.per_si;
        let round = (-1..5).flat_map(|k| [1.0, 2.0, 5.0].map(|m| m * 10f64.powi(k)));
        let length = round.filter(|v| *v <= most).fold(0.0, f64::max);
        let end = x + length / unit.per_si * 1e3 / scale;
        let half = 0.5 * (x + end);
        paper.rect(
            [x, top],
            [half, top + 1.2],
            "fill=\"#1d2328\" stroke=\"#1d2328\" stroke-width=\"0.15\"",
        );
        paper.rect(
            [half, top],
            [end, top + 1.2],
            "fill=\"#ffffff\" stroke=\"#1d2328\" stroke-width=\"0.15\"",
        );
        let text = format!("{} {}", decimal(length, 2), unit.name);
        let text = Text::new(&text, [end + 1.5, top + 1.4], 2.3);
        paper.text(&text);
        right = right.max(end + 1.5 + text.width());
        top += 4.5;
    }
    right
}

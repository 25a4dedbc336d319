//! The scale, and what the signs mean.

use super::SIZE;
use super::bodies::{Kind, Thing};
use super::gaps::RED;
use crate::decimal::decimal;
use crate::plot::measure::text_width;
use crate::plot::paper::{Paper, Text};
use crate::plot::scale::bars;

/// Size of a sample, mm.
const SAMPLE: [f64; 2] = [7.0, 3.2];

/// Scale with a bar, then the signs of what is drawn, from `[x, y]`; the lower end.
pub(super) fn draw(
    paper: &mut Paper,
    things: &[Thing],
    scale: f64,
    [x0, y0]: [f64; 2],
    width: f64,
) -> f64 {
    let note = format!("Scale 1 : {} when printed at full size.", decimal(scale, 2));
    let mut y = y0 + 3.0;
    paper.text(&Text::new(&note, [x0, y], SIZE));
    y += 4.0;
    let right = bars(paper, scale, [x0, y]);
    y += 2.0;
    let mut x = right + 8.0;
    let indent = x;
    let mut place = |words: &str| {
        let needs = SAMPLE[0] + 1.5 + text_width(words, SIZE, false) + 5.0;
        if x + needs > width - x0 && x > indent {
            x = indent;
            y += 5.0;
        }
        let at = [x, y];
        x += needs;
        at
    };
    let drawn = Kind::ALL.into_iter().filter(|kind| things.iter().any(|t| t.kind == *kind));
    for kind in drawn {
        let [x, y] = place(kind.words());
        let corner = [x, y - SAMPLE[1] + 0.6];
        paper.rect(corner, [corner[0] + SAMPLE[0], corner[1] + SAMPLE[1]], kind.style());
        paper.text(&Text::new(kind.words(), [x + SAMPLE[0] + 1.5, y], SIZE));
    }
    let words = "clearance";
    let [x, y] = place(words);
    let middle = y - 0.5 * SAMPLE[1] + 0.6;
    for end in [x, x + SAMPLE[0]] {
        paper.arrow([x + 0.5 * SAMPLE[0], middle], [end, middle], RED, 0.18);
    }
    paper.text(&Text::new(words, [x + SAMPLE[0] + 1.5, y], SIZE));
    (y + 2.0).max(y0 + 14.0)
}

//! The scale and what the signs mean.

use super::levels::{BAND, LEVEL, WATER};
use super::reserve::{DASH, MARK};
use super::things::{EQUIPMENT, SOCK};
use super::{SIZE, Sump};
use crate::decimal::decimal;
use crate::plot::measure::text_width;
use crate::plot::paper::{Paper, Text, dashed, stroke};
use crate::plot::scale;

/// Size of a sample, mm.
const SAMPLE: [f64; 2] = [7.0, 3.2];

/// Scale with a bar, then the signs, from `[x, y]`; the lower end.
pub(super) fn draw(
    paper: &mut Paper,
    sump: &Sump<'_>,
    [x0, y0]: [f64; 2],
    width: f64,
    has_several: bool,
) -> f64 {
    let where_from = if has_several {
        "equipment, pipes, socks and fittings in the nearest section"
    } else {
        "equipment, pipes, socks and fittings wherever they stand across the width"
    };
    let note = format!(
        "Scale 1 : {} when printed at full size. Outlines: {where_from}.",
        decimal(sump.scale, 2)
    );
    let mut y = y0 + 3.0;
    paper.text(&Text::new(&note, [x0, y], SIZE));
    y += 4.0;
    let right = scale::bars(paper, sump.scale, [x0, y]);
    y += 2.0;
    let mut x = right + 8.0;
    let indent = x;
    let has_socks = !sump.design.waterworks.shelves.is_empty();
    for (words, sample) in samples() {
        if words == "sock" && !has_socks {
            continue;
        }
        let needs = SAMPLE[0] + 1.5 + text_width(words, SIZE, false) + 5.0;
        if x + needs > width - x0 {
            x = indent;
            y += 5.0;
        }
        sample(paper, [x, y - SAMPLE[1] + 0.6]);
        paper.text(&Text::new(words, [x + SAMPLE[0] + 1.5, y], SIZE));
        x += needs;
    }
    (y + 2.0).max(y0 + 14.0)
}

type Sample = (&'static str, fn(&mut Paper, [f64; 2]));

fn samples() -> [Sample; 9] {
    fn boxed(paper: &mut Paper, at: [f64; 2], style: &str) {
        paper.rect(at, [at[0] + SAMPLE[0], at[1] + SAMPLE[1]], style);
    }
    fn lined(paper: &mut Paper, at: [f64; 2], style: &str) {
        let y = at[1] + 0.5 * SAMPLE[1];
        paper.line([at[0], y], [at[0] + SAMPLE[0], y], style);
    }
    [
        ("sheet, cut", |p, at| boxed(p, at, super::frame::CUT)),
        ("water", |p, at| boxed(p, at, &format!("fill=\"{WATER}\""))),
        ("level in flow", |p, at| lined(p, at, &stroke(LEVEL, 0.35))),
        ("its band", |p, at| boxed(p, at, BAND)),
        ("level at rest", |p, at| lined(p, at, &dashed(LEVEL, 0.2, "0.6 0.8"))),
        ("kept level, MAX (highest safe)", |p, at| lined(p, at, &dashed(MARK, 0.2, DASH))),
        ("flow", |p, at| {
            let y = at[1] + 0.5 * SAMPLE[1];
            p.arrow([at[0], y], [at[0] + SAMPLE[0], y], LEVEL, 0.4);
        }),
        ("sock", |p, at| boxed(p, at, SOCK)),
        ("equipment", |p, at| boxed(p, at, EQUIPMENT)),
    ]
}

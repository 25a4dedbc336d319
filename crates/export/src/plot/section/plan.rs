//! A small plan that shows where the sections run.

use super::MARGIN;
use super::Sump;
use super::cuts::Cut;
use super::levels::{LEVEL, WATER};
use crate::plot::paper::{BLACK, Paper, Text, dashed};

/// The plan is so much smaller than the sections.
const SMALLER: f64 = 2.5;

/// The plan with the front below, from `[x0, y]` downwards; its lower end.
pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, cuts: &[Cut], [x0, y]: [f64; 2]) -> f64 {
    let scale = sump.scale * SMALLER;
    let outside = sump.design.outside;
    let top = y + 6.0;
    let bottom = top + outside.y / scale;
    let at = |x: f64, y: f64| [x0 + x / scale, bottom - y / scale];
    let title = format!("Plan, 1 : {}", crate::decimal::decimal(scale, 2));
    paper.text(&Text::new(&title, [MARGIN, y + 2.0], 3.0).bold());
    paper.open("plan");
    paper.rect(
        at(0.0, 0.0),
        at(outside.x, outside.y),
        "fill=\"#6d7780\" stroke=\"#2b3238\" stroke-width=\"0.15\"",
    );
    let works = &sump.design.waterworks;
    for basin in &works.basins {
        paper.rect(
            at(basin.min.x, basin.min.y),
            at(basin.max.x, basin.max.y),
            &format!("fill=\"{WATER}\""),
        );
    }
    let mut drawn: Vec<[usize; 2]> = Vec::new();
    for report in &sump.report.ways {
        let [a, b] = report.between;
        if report.flow_m3_s.abs() < 1e-6
            || b >= works.basins.len()
            || a >= works.basins.len()
            || drawn.contains(&[a, b])
        {
            continue;
        }
        drawn.push([a, b]);
        let (up, down) = (&works.basins[a], &works.basins[b]);
        // From the middle of what they have in common, across what parts them.
        let lo = up.min.max(down.min);
        let hi = up.max.min(down.max);
        let middle = 0.5 * (lo + hi);
        let along = lo.x > hi.x;
        let reach = 2.2 * scale;
        let d =
            if along { (down.min.x - up.min.x).signum() } else { (down.min.y - up.min.y).signum() };
        // Off the middle, where names stand.
        let (x, y) = if along {
            (middle.x, lo.y + 0.25 * (hi.y - lo.y))
        } else {
            (lo.x + 0.2 * (hi.x - lo.x), middle.y)
        };
        let ends = if along {
            [at(x - d * reach, y), at(x + d * reach, y)]
        } else {
            [at(x, y - d * reach), at(x, y + d * reach)]
        };
        let [from, to] = if report.flow_m3_s > 0.0 { ends } else { [ends[1], ends[0]] };
        paper.arrow(from, to, LEVEL, 0.4);
    }
    for cut in cuts {
        let [left, y] = at(0.0, cut.y_mm);
        let right = at(outside.x, cut.y_mm)[0];
        paper.line([left - 4.0, y], [right + 4.0, y], &dashed(BLACK, 0.25, "4 0.8 0.8 0.8"));
        for (x, from) in [(left - 4.0, -1.0), (right + 4.0, 1.0)] {
            // The arrows of a section point where one looks.
            paper.arrow([x, y], [x, y - 3.0], BLACK, 0.25);
            paper.text(
                &Text::new(&cut.letter.to_string(), [x + from * 2.2, y + 0.9], 3.0).middle().bold(),
            );
        }
    }
    for (basin, report) in
        works.basins.iter().zip(&sump.report.basins).filter(|(_, r)| r.is_chamber)
    {
        let middle = 0.5 * (basin.min + basin.max);
        let [x, y] = at(middle.x, middle.y);
        let text = Text::new(&report.name, [x, y + 0.6], 2.3).middle().on_patch();
        let is_narrow = text.width() + 2.0 > (basin.max.x - basin.min.x) / scale;
        let text = if is_narrow { Text { at: [x + 0.6, y], ..text.turned() } } else { text };
        if paper.is_free(&text.area()) {
            paper.text(&text);
        }
    }
    paper.close();
    paper.text(
        &Text::new("front", [x0 + 0.5 * outside.x / scale, bottom + 3.4], 2.3)
            .middle()
            .colour("#59636b"),
    );
    bottom + 5.0
}

//! Panels of curves, one below the other, with names at the ends of the curves.

use super::super::paper::{GREY, Paper, Text, dashed, stroke};
use super::super::spread::spread;
use super::super::words;
use super::SIZE;
use super::columns::{Column, Columns};
use super::curves::{Chart, Curve, Panel};
use crate::decimal::decimal;

/// Height of a name at the end of a curve, mm.
const NAME: f64 = 3.6;
/// Between panels.
const GAP: f64 = 4.5;

/// Upper and lower edge of every panel, from `top` downwards.
pub(super) fn spans(chart: &Chart, top: f64) -> Vec<[f64; 2]> {
    let mut top = top;
    let span = |panel: &Panel| {
        let count =
            panel.curves.iter().map(|_| 1.0).chain(panel.rims.iter().map(|_| 1.0)).sum::<f64>();
        let span = [top, top + panel.height.max(count * NAME + 1.0)];
        top = span[1] + GAP;
        span
    };
    chart.panels.iter().map(span).collect()
}

/// The heights that a panel shows, in its unit, with some space above and below.
pub(super) fn range(panel: &Panel) -> [f64; 2] {
    let ends = panel.curves.iter().flat_map(Curve::range).chain(panel.rims.iter().map(|r| r.1));
    let [lo, hi] = ends.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| [a.min(v), b.max(v)]);
    let pad = (0.05 * (hi - lo)).max(1e-6);
    [if panel.has_zero { 0.0 } else { lo - pad }, hi + pad]
}

/// One panel with its axis, its curves and their names.
pub(super) fn draw(paper: &mut Paper, columns: &Columns, panel: &Panel, [top, bottom]: [f64; 2]) {
    let [lo, hi] = range(panel);
    let y_of = |v: f64| bottom - (v - lo) / (hi - lo) * (bottom - top);
    let left = columns.all[0].x[0];
    let right = columns.all[columns.all.len() - 1].x[1];
    paper.open(&format!("panel-{}", panel.title.replace([' ', ','], "-")));
    let middle = 0.5 * (top + bottom);
    paper.text(&Text::new(panel.title, [left - 17.0, middle], SIZE).turned().middle().bold());
    paper.text(&Text::new(&panel.axis, [left - 13.0, middle], SIZE).turned().middle().colour(GREY));
    columns.grid(paper, top, bottom);
    for v in words::ticks(lo, hi, (bottom - top) / 6.0) {
        for c in &columns.all {
            paper.line([c.x[0], y_of(v)], [c.x[1], y_of(v)], &stroke("#dfe4e7", 0.15));
        }
        paper.line([left - 1.2, y_of(v)], [left, y_of(v)], &stroke(GREY, 0.2));
        paper.text(&Text::new(&decimal(v, 2), [left - 1.8, y_of(v) + 0.9], SIZE).end());
    }
    for (_, v) in &panel.rims {
        for c in &columns.all {
            paper.line([c.x[0], y_of(*v)], [c.x[1], y_of(*v)], &dashed("#1d2328", 0.3, "2 1.2"));
        }
    }
    for curve in &panel.curves {
        for (column, id) in columns.all.iter().zip(["left", "right"]) {
            paper.open(&format!("curve-{id}-{}", curve.name.replace([' ', ','], "-")));
            line(paper, column, curve, &y_of);
            paper.close();
        }
        if let Some((t_s, [low, high])) = curve.whisker
            && let Some(c) = columns.column_of(t_s)
        {
            let x = c.x_of(t_s);
            let pen = stroke(curve.colour, 0.3);
            paper.line([x, y_of(low)], [x, y_of(high)], &pen);
            for v in [low, high] {
                paper.line([x - 0.9, y_of(v)], [x + 0.9, y_of(v)], &pen);
            }
        }
    }
    names(paper, panel, right, [top, bottom], &y_of);
    paper.close();
}

/// The part of a curve in a column, without points that nobody could see.
fn line(paper: &mut Paper, column: &Column, curve: &Curve, y_of: &impl Fn(f64) -> f64) {
    let clipped = clip(&curve.points, column.t_s);
    let mut points: Vec<[f64; 2]> = Vec::new();
    for (i, &[t, v]) in clipped.iter().enumerate() {
        let point = [column.x_of(t), y_of(v)];
        let is_far = points.last().is_none_or(|p| (p[0] - point[0]).hypot(p[1] - point[1]) > 0.08);
        if is_far || i + 1 == clipped.len() {
            points.push(point);
        }
    }
    let dash = if curve.dash.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{}\"", curve.dash)
    };
    let pen = format!("{} stroke-linejoin=\"round\"{dash}", stroke(curve.colour, 0.45));
    paper.path(&points, false, &pen);
}

/// The polyline between two instants, its ends found on its straight pieces.
fn clip(points: &[[f64; 2]], [from, to]: [f64; 2]) -> Vec<[f64; 2]> {
    let mut kept = Vec::new();
    for pair in points.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        if b[0] < from || to < a[0] {
            continue;
        }
        let at = |t: f64| {
            let length = b[0] - a[0];
            if length > 0.0 { [t, a[1] + (b[1] - a[1]) * (t - a[0]) / length] } else { b }
        };
        if kept.is_empty() {
            kept.push(if a[0] < from { at(from) } else { a });
        }
        kept.push(if to < b[0] { at(to) } else { b });
    }
    kept
}

/// Names with the last value, spread along the right edge, each joined to its curve.
fn names(
    paper: &mut Paper,
    panel: &Panel,
    right: f64,
    within: [f64; 2],
    y_of: &impl Fn(f64) -> f64,
) {
    let show = |v: f64| {
        format!("{} {}", decimal(v, if panel.unit.name == "mm" { 0 } else { 1 }), panel.unit.name)
    };
    let curves = panel.curves.iter().map(|c| (c.name.clone(), c.last(), c.colour, c.dash, 0.45));
    let rims = panel.rims.iter().map(|(n, v)| (n.clone(), *v, "#1d2328", "2 1.2", 0.3));
    let all: Vec<_> = curves.chain(rims).collect();
    let wanted: Vec<f64> = all.iter().map(|a| y_of(a.1)).collect();
    let places =
        spread(&wanted, &vec![NAME - 0.3; all.len()], 0.3, [within[0] - 1.0, within[1] + 1.0]);
    for ((name, value, colour, dash, width), (from, to)) in
        all.iter().zip(wanted.iter().zip(places))
    {
        let pen =
            if dash.is_empty() { stroke(colour, *width) } else { dashed(colour, *width, dash) };
        paper.path(&[[right + 0.3, *from], [right + 3.5, to], [right + 8.0, to]], false, &pen);
        let text = format!("{name}, {}", show(*value));
        paper.text(&Text::new(&text, [right + 9.0, to + 0.9], 2.5).colour(colour));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_ends_where_its_column_does() {
        let points = [[-60.0, 1.0], [0.0, 1.0], [100.0, 3.0], [200.0, 3.0]];
        assert_eq!(clip(&points, [0.0, 50.0]), [[0.0, 1.0], [0.0, 1.0], [50.0, 2.0]]);
        assert_eq!(clip(&points, [150.0, 200.0]), [[150.0, 3.0], [200.0, 3.0]]);
    }
}

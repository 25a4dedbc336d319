//! How a panel is held: a style of line for each way.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Mark, Stroke, style};
use strength::Held;

use super::labels::Labels;
use super::{Frame, PLAIN};
use crate::plot::spread;

/// From the panel to the first row of names, mm.
const LEADER: f64 = 3.2;
/// From one row of names to the next, mm.
const ROW: f64 = 4.2;

/// The line of a way of being held; none where nothing holds.
pub(super) fn stroke(held: Held) -> Option<Stroke> {
    let line =
        |width: f64, dashes: &[f64]| Stroke { width, colour: style::INK, dashes: dashes.to_vec() };
    match held {
        Held::Free => None,
        Held::Glued => Some(line(0.9, &[])),
        // Drawn with a white core, so that it reads as two thin lines.
        Held::Rim => Some(line(1.3, &[])),
        Held::Guided => Some(line(0.9, &[4.0, 1.6])),
        Held::Rests => Some(line(0.9, &[1.0, 1.2])),
    }
}

/// Draws one line in the style of how it holds.
pub(super) fn line(figure: &mut Figure, held: Held, from: DVec2, to: DVec2) {
    let Some(stroke) = stroke(held) else { return };
    figure.line(from, to, stroke);
    if held == Held::Rim {
        figure.line(from, to, Stroke::whole(0.6, [255, 255, 255]));
    }
}

/// A small triangle where a brace meets the upper edge; its tip at `tip`.
pub(super) fn brace(figure: &mut Figure, tip: DVec2) {
    let corners = [tip, tip + dvec2(-1.6, -2.8), tip + dvec2(1.6, -2.8)];
    figure.marks.push(Mark::path(&corners, true, None, Some(style::INK)));
}

/// All of them, and below the panel the names of what stands upright against it; how far down they reach.
pub(super) fn draw(figure: &mut Figure, frame: &Frame<'_>, labels: &mut Labels) -> f64 {
    let panel = frame.panel;
    for support in &panel.lines {
        let [from, to] = support.ends_mm.map(|end| frame.place(end));
        line(figure, support.held, from, to);
        if support.is_edge {
            labels.take(from - 0.5, to + 0.5);
        } else {
            labels.avoid(from, to);
        }
    }
    let [lo, hi] = panel.rectangle_mm;
    for &x in panel.braces_mm.iter().filter(|x| (lo.x..=hi.x).contains(*x)) {
        let tip = frame.place(dvec2(x, hi.y));
        brace(figure, tip);
    }
    for at in panel.screws.iter().flat_map(|screws| &screws.at_mm) {
        let at = frame.place(*at);
        screw(figure, at);
        labels.take(at - SCREW, at + SCREW);
    }
    names(figure, frame)
}

/// Half the width of the sign of a screw, mm.
const SCREW: f64 = 1.4;

/// A screw that holds the panel, in its axis: a ring with the cross of its centre lines.
pub(super) fn screw(figure: &mut Figure, at: DVec2) {
    figure.circle(at, 0.9, Some(Stroke::whole(0.35, style::INK)), Some([255, 255, 255]));
    for arm in [dvec2(SCREW, 0.0), dvec2(0.0, SCREW)] {
        figure.line(at - arm, at + arm, Stroke::whole(0.18, style::INK));
    }
}

/// Names of upright supports between the edges, below the panel, each with a leader.
fn names(figure: &mut Figure, frame: &Frame<'_>) -> f64 {
    let upright = |line: &&strength::Line| {
        !line.is_edge && (line.ends_mm[0].x - line.ends_mm[1].x).abs() < 1e-6
    };
    let mut named: Vec<(f64, &str)> = Vec::new();
    for line in frame.panel.lines.iter().filter(upright) {
        let x = frame.place(line.ends_mm[0]).x;
        // Strips on both sides of one leaf are one support to the eye.
        if !named.iter().any(|(other, name)| *name == line.by && (other - x).abs() < 3.0) {
            named.push((x, &line.by));
        }
    }
    let [from, to] = frame.corners();
    let wanted: Vec<f64> = named.iter().map(|(x, _)| *x).collect();
    let widths: Vec<f64> = named.iter().map(|(_, name)| PLAIN.width_mm(name)).collect();
    let spots = spread::rows(&wanted, &widths, 2.0, [from.x, to.x]);
    let mut below: f64 = 0.0;
    for ((x, name), spot) in named.iter().zip(&spots) {
        #[expect(clippy::cast_precision_loss, reason = "a few rows")]
        let top = to.y + LEADER + ROW * spot.row as f64;
        let thin = || Stroke::whole(0.12, super::FAINT);
        figure.polyline(
            &[dvec2(*x, to.y + 0.6), dvec2(*x, to.y + 1.4), dvec2(spot.middle, top - 0.4)],
            thin(),
        );
        let base = dvec2(spot.middle, top + PLAIN.capital_mm);
        figure.words(base, *name, PLAIN, Anchor::Middle);
        below = below.max(base.y + 0.8 - to.y);
    }
    below
}

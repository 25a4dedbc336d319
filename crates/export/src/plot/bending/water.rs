//! The water of the load that bends the panel most, on both faces.

use design::Design;
use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Mark, Stroke, style};
use strength::Panel;
use units::Length;

use super::labels::Labels;
use super::{Frame, PLAIN};

/// Between the panel and the words beside it, mm.
const GAP: f64 = 5.0;
/// How far a water line reaches beyond the panel, mm.
const BEYOND: f64 = 3.6;
/// A level below this is none, mm.
const NONE_MM: f64 = 0.05;

/// Level on the upper face and on the lower one, in the panel's frame; `None` where there is no water, or of a panel that
/// lies.
fn levels_mm(design: &Design, panel: &Panel) -> [Option<f64>; 2] {
    let pose = &design.placed[panel.placed].pose;
    let stands = pose.matrix3.y_axis.z > 0.5;
    let Some(load) = panel.loads.get(panel.deflection.load).filter(|_| stands) else {
        return [None, None];
    };
    let foot_mm = pose.translation.z - design.floor_z;
    [load.before_mm, load.behind_mm].map(|mm| (mm > NONE_MM).then_some(mm - foot_mm))
}

/// What stands beside each line.
fn words(design: &Design, panel: &Panel) -> [Vec<String>; 2] {
    let load = panel.loads.get(panel.deflection.load);
    let heights = load.map_or([0.0; 2], |load| [load.before_mm, load.behind_mm]);
    let levels = levels_mm(design, panel);
    let tell = |side: usize, words: &str| {
        levels[side].map_or(Vec::new(), |_| {
            vec![words.to_owned(), Length::mm(heights[side]).show(design.report)]
        })
    };
    [tell(0, "water, this side"), tell(1, "water, far side")]
}

/// How much room the words want on the left and on the right, mm.
pub(super) fn widths(design: &Design, panel: &Panel) -> [f64; 2] {
    words(design, panel).map(|lines| {
        let widths = lines.iter().map(|line| PLAIN.width_mm(line));
        widths.reduce(f64::max).map_or(0.0, |width| width + GAP)
    })
}

/// How far the highest water stands over the panel, mm on paper.
pub(super) fn above_mm(design: &Design, panel: &Panel, bounds: [DVec2; 2], scale: f64) -> f64 {
    let highest = levels_mm(design, panel).into_iter().flatten().reduce(f64::max);
    let braces = if panel.braces_mm.is_empty() { 0.0 } else { 3.4 };
    highest.map_or(0.0, |level| ((level - bounds[1].y) / scale + 3.0).max(0.0)).max(braces)
}

pub(super) fn draw(figure: &mut Figure, frame: &Frame<'_>, labels: &mut Labels) {
    let [from, to] = frame.corners();
    let words = words(frame.design, frame.panel);
    for (side, level) in levels_mm(frame.design, frame.panel).into_iter().enumerate() {
        let Some(level) = level else { continue };
        let y = frame.place(dvec2(0.0, level)).y;
        let [a, b] = [dvec2(from.x - BEYOND, y), dvec2(to.x + BEYOND, y)];
        // Drawn to the side where its words are.
        let [a, b] = if side == 0 { [a, dvec2(to.x, y)] } else { [dvec2(from.x, y), b] };
        figure.line(a, b, stroke(side));
        labels.avoid(a, b);
        let (tip, anchor, x) = if side == 0 {
            (a + dvec2(1.5, 0.0), Anchor::End, from.x - GAP)
        } else {
            (b - dvec2(1.5, 0.0), Anchor::Start, to.x + GAP)
        };
        triangle(figure, tip);
        for (row, line) in words[side].iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "two rows")]
            let y = y + 0.5 * PLAIN.capital_mm + (row as f64 - 0.5) * PLAIN.leading_mm();
            figure.words(dvec2(x, y), line, PLAIN, anchor);
        }
    }
}

/// The line of water on this side (0) and on the far side (1): neither is whole, as lines of equal deflection are.
pub(super) fn stroke(side: usize) -> Stroke {
    let dashes = if side == 0 { vec![6.0, 1.0, 0.9, 1.0] } else { vec![2.0, 1.4] };
    Stroke { width: 0.35, colour: style::ACCENT, dashes }
}

/// The sign of a water level: a triangle that stands on its tip.
pub(super) fn triangle(figure: &mut Figure, tip: DVec2) {
    let corners = [tip, tip + dvec2(-1.2, -2.0), tip + dvec2(1.2, -2.0)];
    let stroke = Stroke::whole(0.25, style::ACCENT);
    figure.marks.push(Mark::path(&corners, true, Some(stroke), Some([255, 255, 255])));
}

//! What the lines and signs mean, and the scale.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Stroke, style};
use strength::Held;

use super::supports::{self, brace};
use super::{FAINT, Frame, MARGIN, PLAIN, lines, water, words};
use crate::decimal::decimal;
use crate::plot::words::height_unit;

/// Length of a line, and width of a sign, mm.
const SAMPLES: [f64; 2] = [11.0, 4.0];
/// From one row to the next, mm.
const ROW: f64 = 5.2;
/// Between entries of one row, mm.
const BETWEEN: f64 = 7.0;

/// What is drawn before the words of an entry.
#[derive(Clone, Copy, Debug)]
enum Sample {
    Held(Held),
    Free,
    Brace,
    Screw,
    Water(usize),
    Line,
    Bent,
    Stressed,
    Corner,
}

impl Sample {
    fn length_mm(self) -> f64 {
        let [line, sign] = SAMPLES;
        match self {
            Self::Brace | Self::Screw | Self::Bent | Self::Stressed | Self::Corner => sign,
            _ => line,
        }
    }
}

/// The key in rows from `y` down, then the scale; where the next line begins.
pub(super) fn draw(figure: &mut Figure, frame: &Frame<'_>, y: f64, width: f64) -> f64 {
    let mut at = dvec2(MARGIN, y);
    for (sample, words) in entries(frame) {
        let long = sample.length_mm();
        let wide = long + 1.8 + PLAIN.width_mm(&words);
        if at.x > MARGIN && at.x + wide > width - MARGIN {
            at = dvec2(MARGIN, at.y + ROW);
        }
        draw_sample(figure, sample, at);
        figure.words(at + dvec2(long + 1.8, 0.5 * PLAIN.capital_mm), words, PLAIN, Anchor::Start);
        at.x += wide + BETWEEN;
    }
    scale_bar(figure, frame, at.y + ROW + 0.6)
}

fn entries(frame: &Frame<'_>) -> Vec<(Sample, String)> {
    let panel = frame.panel;
    let mut entries = Vec::new();
    let ways = [
        (Held::Glued, "glued"),
        (Held::Rim, "glued to the rim, which bends with it"),
        (Held::Guided, "in its guide"),
        (Held::Rests, "rests on something"),
    ];
    for (held, words) in ways {
        if panel.lines.iter().any(|line| line.held == held) {
            entries.push((Sample::Held(held), words.to_owned()));
        }
    }
    if panel.edges.contains(&Held::Free) {
        entries.push((Sample::Free, "free edge".to_owned()));
    }
    if !panel.braces_mm.is_empty() {
        entries.push((Sample::Brace, "brace".to_owned()));
    }
    if let Some(screws) = &panel.screws {
        entries.push((Sample::Screw, format!("screw {}", screws.size)));
    }
    let wet = water::widths(frame.design, panel);
    for (side, words) in [(0, "water on this side"), (1, "water on the far side")] {
        if wet[side] > 0.0 {
            entries.push((Sample::Water(side), words.to_owned()));
        }
    }
    entries.extend(words::lines(frame).map(|words| (Sample::Line, words)));
    entries.push((Sample::Bent, "greatest deflection".to_owned()));
    entries.push((Sample::Stressed, "greatest stress".to_owned()));
    if words::corner(panel).is_some() {
        entries.push((Sample::Corner, "more, at the edge of an opening".to_owned()));
    }
    entries
}

fn draw_sample(figure: &mut Figure, sample: Sample, at: DVec2) {
    let (from, to) = (at, at + dvec2(sample.length_mm(), 0.0));
    let middle = 0.5 * (from + to);
    match sample {
        Sample::Held(held) => supports::line(figure, held, from, to),
        Sample::Free => figure.line(from, to, Stroke::whole(0.18, FAINT)),
        Sample::Brace => brace(figure, middle + dvec2(0.0, 1.4)),
        Sample::Screw => supports::screw(figure, middle),
        Sample::Water(side) => {
            figure.line(from, to, water::stroke(side));
            water::triangle(figure, middle);
        }
        Sample::Line => figure.line(from, to, lines::stroke()),
        Sample::Bent => lines::ring(figure, middle),
        Sample::Stressed => lines::cross(figure, middle),
        Sample::Corner => lines::diamond(figure, middle),
    }
}

/// A bar in the units of the file, with the scale in words; where the next line begins.
fn scale_bar(figure: &mut Figure, frame: &Frame<'_>, y: f64) -> f64 {
    let unit = height_unit(frame.design.report);
    let most = 50.0 * frame.scale * 1e-3 * unit.per_si;
    let round = (-1..5).flat_map(|k| [1.0, 2.0, 5.0].map(|m| m * 10f64.powi(k)));
    let length = round.filter(|v| *v <= most).fold(0.0, f64::max);
    let long = length / unit.per_si * 1e3 / frame.scale;
    let stroke = || Stroke::whole(0.15, style::INK);
    let (from, half) = (dvec2(MARGIN, y - 0.6), dvec2(0.5 * long, 1.2));
    figure.rectangle(from, from + half, Some(stroke()), Some(style::INK));
    let middle = from + dvec2(half.x, 0.0);
    figure.rectangle(middle, middle + half, Some(stroke()), Some([255, 255, 255]));
    let words =
        format!("{} {}; scale 1:{}", decimal(length, 2), unit.name, decimal(frame.scale, 1));
    figure.words(
        from + dvec2(long + 2.0, 0.6 + 0.5 * PLAIN.capital_mm),
        words,
        PLAIN,
        Anchor::Start,
    );
    y + ROW + 1.6
}

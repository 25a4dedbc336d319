//! Chains of dimensions beside the drawing: the sump in its cabinet, its height, and the openings.

use design::Surroundings;
use glam::{DVec2, DVec3};
use units::Length;

use super::Sheet;
use super::view::{Frame, View};
use crate::plot::measure::text_width;
use crate::plot::paper::{Area, BLACK, GREY, Paper, Text, stroke};
use crate::plot::spread::spread;

const SIZE: f64 = 2.4;
const WIDTH: f64 = 0.18;
/// From the drawing to the first chain, and from chain to chain, mm.
const AWAY: f64 = 5.0;
const NEXT: f64 = 8.5;
/// A number stands so far off its line, mm.
const OFF: f64 = 0.9;
/// What does not fit between its stops has its base line so far beyond the line.
const OUT: f64 = 3.5;
/// The lines of an outer chain begin so far beyond the inner one.
const BEYOND: f64 = 4.3;
/// Stops nearer than this are one, mm.
const SAME_MM: f64 = 0.05;

/// Draws the chains; what they need below the drawing, mm.
pub(super) fn draw(
    paper: &mut Paper,
    sheet: &Sheet<'_>,
    frame: &Frame,
    [lo, hi]: [DVec2; 2],
) -> f64 {
    let (design, view) = (sheet.design, sheet.view);
    let [corner, far] = [DVec3::ZERO, design.outside].map(|p| view.flat(p));
    let inside = design.surroundings.as_ref().map(|s| s.inside.map(|p| view.flat(p)));
    let stops = |k: usize| {
        let mut stops = vec![corner[k], far[k]];
        stops.extend(inside.iter().flatten().map(|p| p[k]));
        stops
    };
    let units = design.report;
    paper.open("chains");
    let level = Chain { is_level: true, line: frame.y(lo.y) + AWAY, from: frame.y(corner.y) };
    let mut used = 1.0;
    level.draw(paper, &stops(0), |mm| frame.x(mm), units);
    let line = frame.x(hi.x) + AWAY;
    let upright = |line: f64| Chain { is_level: false, line, from: frame.x(far.x) };
    let mut heights = stops(1);
    if view == View::Side && design.surroundings.as_ref().is_some_and(|s| !s.has_ceiling) {
        // Its walls end somewhere, but nothing is in the way there.
        heights.truncate(3);
    }
    upright(line).draw(paper, &heights, |mm| frame.y(mm), units);
    let front = design.surroundings.as_ref().filter(|_| view == View::Side).and_then(front);
    if let Some([along, heights]) = front {
        // Its lines begin beyond the inner chain, or they would run through numbers there.
        let outer = Chain { is_level: false, line: line + NEXT, from: line + BEYOND };
        outer.draw(paper, &heights, |mm| frame.y(mm), units);
        let below = Chain { line: level.line + NEXT, from: level.line + BEYOND, ..level };
        below.draw(paper, &along, |mm| frame.x(mm), units);
        used += 1.0;
    }
    paper.close();
    AWAY + (used - 1.0) * NEXT + 4.0
}

/// Where the openings of the front begin and end, along it and in height: hands and parts go through them.
fn front(around: &Surroundings) -> Option<[Vec<f64>; 2]> {
    let gaps: Vec<[DVec3; 2]> =
        around.openings.iter().filter(|o| o.out.y < -0.5).map(|o| o.gap).collect();
    let stops = |k: usize| {
        let ends = around.inside.iter().chain(gaps.iter().flatten());
        ends.map(|p| p[k]).collect::<Vec<f64>>()
    };
    (!gaps.is_empty()).then(|| [stops(0), stops(2)])
}

/// A row of dimensions, one after the other.
#[derive(Clone, Copy)]
struct Chain {
    is_level: bool,
    /// Where its line runs: y of a level one, x of an upright one.
    line: f64,
    /// Where the lines to it begin.
    from: f64,
}

impl Chain {
    fn at(&self, along: f64, line: f64) -> [f64; 2] {
        if self.is_level { [along, line] } else { [line, along] }
    }

    fn draw(
        &self,
        paper: &mut Paper,
        stops_mm: &[f64],
        place: impl Fn(f64) -> f64,
        units: units::System,
    ) {
        let mut stops = stops_mm.to_vec();
        stops.sort_by(f64::total_cmp);
        stops.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
        for stop in &stops {
            let at = place(*stop);
            let (from, to) = (self.at(at, self.from + 1.0), self.at(at, self.line + 1.2));
            paper.line(from, to, &stroke(GREY, 0.1));
            paper.keep_off(from, to);
        }
        let pieces: Vec<([f64; 2], String)> = stops
            .windows(2)
            .map(|w| ([place(w[0]), place(w[1])], Length::mm(w[1] - w[0]).show(units)))
            .collect();
        let wanted: Vec<f64> = pieces.iter().map(|([a, b], _)| 0.5 * (a + b)).collect();
        let widths: Vec<f64> = pieces.iter().map(|(_, w)| text_width(w, SIZE, false)).collect();
        let ends = pieces.iter().flat_map(|(ends, _)| *ends);
        let [lo, hi] =
            ends.fold([f64::INFINITY, f64::NEG_INFINITY], |[lo, hi], v| [lo.min(v), hi.max(v)]);
        // A narrow piece at an end has its number outside of the chain.
        let middles = spread(&wanted, &widths, 2.0, [lo - 14.0, hi + 14.0]);
        for ((ends, words), middle) in pieces.iter().zip(&middles) {
            self.piece(paper, *ends);
            let needs = text_width(words, SIZE, false) + 0.6;
            let off = if (ends[1] - ends[0]).abs() < needs { OUT } else { -OFF };
            let text = if self.is_level {
                Text::new(words, [*middle, self.line + off], SIZE).middle()
            } else {
                Text::new(words, [self.line + off, *middle], SIZE).middle().turned()
            };
            paper.text(&text.colour(BLACK).on_patch());
        }
        let ends = [self.at(lo, self.line), self.at(hi, self.line)];
        paper.keep_free(Area::between(ends[0], ends[1]).grown(0.4));
    }

    /// Arrows from end to end, or from outside where it is narrow.
    fn piece(&self, paper: &mut Paper, [a, b]: [f64; 2]) {
        let (a, b) = (a.min(b), a.max(b));
        let at = |along: f64| self.at(along, self.line);
        if b - a < 3.0 {
            paper.arrow(at(a - 2.4), at(a), BLACK, WIDTH);
            paper.arrow(at(b + 2.4), at(b), BLACK, WIDTH);
        } else {
            let middle = 0.5 * (a + b);
            paper.arrow(at(middle), at(a), BLACK, WIDTH);
            paper.arrow(at(middle), at(b), BLACK, WIDTH);
        }
    }
}

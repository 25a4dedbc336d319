//! A panel under water: how it is held, how high the water stands, and how far it bends, as lines of equal deflection.

mod key;
mod labels;
mod lines;
mod panel;
mod supports;
mod thin;
mod water;
mod words;

use design::Design;
use glam::{DVec2, dvec2};
use paper::{Anchor, Colour, Figure, Lettering, broken, style};
use strength::Panel;

use self::labels::Labels;
use super::scale;
use crate::figure_svg;

/// White space around everything, mm.
const MARGIN: f64 = 9.0;
/// The panel is drawn no longer and no higher than this, mm on paper.
const LONGEST: [f64; 2] = [230.0, 120.0];
/// The words want at least so much width, mm.
const LEAST_WIDTH: f64 = 190.0;
/// What is read in the drawing.
const PLAIN: Lettering = Lettering { capital_mm: 2.1, ..style::TEXT };
/// What stands back: fine lines of the panel, notes.
const FAINT: Colour = [120, 126, 132];
/// Behind the panel.
const SHEET: Colour = [246, 248, 248];

/// The drawing of one panel as the text of an SVG file. `panel` must be of this design.
///
/// Everything is told by line style and words, nothing by colour alone, so that it prints in black and white.
pub fn bending(design: &Design, panel: &Panel) -> String {
    let title = format!("{}: how it bends", panel.name);
    figure_svg::write(&figure(design, panel, &title), &title)
}

/// What the parts of the drawing need to know.
#[derive(Clone, Copy, Debug)]
struct Frame<'a> {
    design: &'a Design,
    panel: &'a Panel,
    /// Where the panel's frame has its origin on paper.
    origin: DVec2,
    /// How many millimetres one on paper stands for.
    scale: f64,
    /// Corners of the panel in its frame, mm.
    bounds: [DVec2; 2],
}

impl Frame<'_> {
    /// From the panel's frame, `y` upwards, to paper, `y` downwards.
    fn place(&self, p: DVec2) -> DVec2 {
        self.origin + dvec2(p.x, -p.y) / self.scale
    }

    /// The upper left and the lower right corner of the panel on paper.
    fn corners(&self) -> [DVec2; 2] {
        let [lo, hi] = self.bounds;
        [self.place(dvec2(lo.x, hi.y)), self.place(dvec2(hi.x, lo.y))]
    }
}

fn figure(design: &Design, panel: &Panel, title: &str) -> Figure {
    let bounds = panel::bounds(design, panel);
    let size = bounds[1] - bounds[0];
    let scale = scale::of(size.x, LONGEST[0]).max(scale::of(size.y, LONGEST[1]));
    let beside = water::widths(design, panel).map(|width| width.max(6.0));
    let width = (size.x / scale + beside[0] + beside[1] + 2.0 * MARGIN).max(LEAST_WIDTH);
    let mut figure = Figure::new(dvec2(width, 0.0));

    let mut y = MARGIN + 4.0;
    figure.words(dvec2(MARGIN, y), title, style::LARGE.bold(), Anchor::Start);
    y += 7.0;
    for sentence in words::head(design, panel) {
        y = paragraph(&mut figure, &sentence, style::TEXT, y, width);
    }
    y += 4.0;
    let drawn = size / scale;
    let left = MARGIN + beside[0] + 0.5 * (width - 2.0 * MARGIN - beside[0] - beside[1] - drawn.x);
    let top = y + water::above_mm(design, panel, bounds, scale);
    let origin = dvec2(left - bounds[0].x / scale, top + bounds[1].y / scale);
    let frame = Frame { design, panel, origin, scale, bounds };

    let mut labels = Labels::within(frame.corners());
    panel::draw(&mut figure, &frame, &mut labels);
    lines::draw(&mut figure, &frame);
    let below = supports::draw(&mut figure, &frame, &mut labels);
    water::draw(&mut figure, &frame, &mut labels);
    lines::mark(&mut figure, &frame, &mut labels);
    for [lo, hi] in panel::openings(&frame) {
        labels.take(lo, hi);
    }
    lines::label(&mut figure, &frame, &mut labels);

    y = top + drawn.y + below + 7.0;
    y = key::draw(&mut figure, &frame, y, width);
    for sentence in words::foot(panel) {
        y = paragraph(&mut figure, &sentence, style::SMALL, y, width);
    }
    figure.size.y = y + MARGIN - 3.0;
    figure
}

/// Words over the whole width; where the next line begins.
fn paragraph(figure: &mut Figure, words: &str, lettering: Lettering, y: f64, width: f64) -> f64 {
    let mut y = y;
    for line in broken(words, lettering, width - 2.0 * MARGIN) {
        figure.words(dvec2(MARGIN, y), line, lettering, Anchor::Start);
        y += lettering.leading_mm();
    }
    y
}

#[cfg(test)]
mod tests;

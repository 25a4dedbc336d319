//! Plan and side view of a sump in its cabinet, with the tightest clearances as dimensions.

mod bodies;
mod chain;
mod gaps;
mod key;
mod outline;
mod rows;
mod view;

use design::Design;
use fit::{Clearance, Report};

use self::view::{Frame, View};
use super::measure::wrapped;
use super::paper::{GREY, Paper, Text};
use super::scale;
use super::table::{ROW, table, table_width};

/// White space around everything, mm.
const MARGIN: f64 = 8.0;
/// Room for the chains of dimensions beside the drawing, mm.
const BESIDE: f64 = 22.0;
/// What is shown is drawn no longer and no higher than this, mm on paper.
const LONGEST: [f64; 2] = [330.0, 230.0];
/// The words and the table want at least so much width, mm.
const LEAST_WIDTH: f64 = 250.0;
/// Between the halves of the table, mm.
const BETWEEN: f64 = 14.0;
/// Size of plain text.
const SIZE: f64 = 2.6;

/// The plan: everything from above, as the text of one SVG file. `report` must be of the same design.
pub fn fit_plan(design: &Design, report: &Report) -> String {
    draw(design, report, View::Plan)
}

/// The side view: everything from the front, cut open, as the text of one SVG file. `report` must be of the
/// same design.
pub fn fit_side(design: &Design, report: &Report) -> String {
    draw(design, report, View::Side)
}

/// Everything that the parts of the drawing need to know.
struct Sheet<'a> {
    design: &'a Design,
    view: View,
    /// What is dimensioned, the tightest first.
    gaps: Vec<&'a Clearance>,
}

fn draw(design: &Design, report: &Report, view: View) -> String {
    let sheet = Sheet { design, view, gaps: gaps::chosen(design, report, view) };
    let outlines = bodies::all(&sheet);
    let [lo, hi] = bodies::extent(&sheet, &outlines);
    let scale = scale::of(hi.x - lo.x, LONGEST[0]).max(scale::of(hi.y - lo.y, LONGEST[1]));
    let drawn = (hi - lo) / scale;
    let listed = rows::rows(&sheet);
    let width = (drawn.x + 2.0 * (MARGIN + BESIDE))
        .max(LEAST_WIDTH)
        .max(table_width(&listed, SIZE) + 2.0 * MARGIN);
    let halves = rows::halves(listed, width - 2.0 * MARGIN - BETWEEN);
    let mut paper = Paper::default();
    let title = format!("{}: {}", design.title, view.title());
    paper.text(&Text::new(&title, [MARGIN, 12.0], 5.0).bold());
    let about = view.about();
    let mut y = 18.0;
    for line in wrapped(about, 3.0, width - 2.0 * MARGIN) {
        paper.text(&Text::new(&line, [MARGIN, y], 3.0).colour(GREY));
        y += 4.4;
    }
    y += 4.0;
    let x0 = 0.5 * (width - drawn.x) - lo.x / scale;
    let frame = Frame { origin: [x0, y + hi.y / scale], scale };
    let foot = y + drawn.y;
    paper.open(view.id());
    bodies::draw(&mut paper, &outlines, &frame);
    let below = chain::draw(&mut paper, &sheet, &frame, [lo, hi]);
    let unnumbered = gaps::draw(&mut paper, &sheet, &frame, [lo, hi]);
    let unnamed = bodies::names(&mut paper, &outlines, &frame, [lo, hi]);
    paper.close();

    y = key::draw(&mut paper, &outlines, scale, [MARGIN, foot + below + 6.0], width);
    for (what, names) in [
        ("Drawn without a name, for want of room", &unnamed),
        ("Dimensions for which there is no room, by their number in the table", &unnumbered),
    ] {
        if names.is_empty() {
            continue;
        }
        let note = format!("{what}: {}.", names.join(", "));
        for line in wrapped(&note, SIZE, width - 2.0 * MARGIN) {
            y += ROW;
            paper.text(&Text::new(&line, [MARGIN, y], SIZE).colour(GREY));
        }
    }
    // Halves side by side where there is room.
    let mut below = y;
    for (i, half) in halves.iter().enumerate() {
        let at = if i == 0 { MARGIN } else { MARGIN + table_width(&halves[0], SIZE) + BETWEEN };
        below = below.max(table(&mut paper, half, SIZE, [at, y + 8.0]));
    }
    y = below;
    paper.finish([width, y + MARGIN - 3.0], &title, about)
}

//! The long section of a sump in which water runs, to scale and with dimensions.

mod cuts;
mod frame;
mod key;
mod labels;
mod leaves;
mod levels;
mod names;
mod parts;
mod plan;
mod reserve;
mod room;
mod rulers;
mod tables;
mod things;

use design::Design;
use water::Report;

use self::cuts::cuts;
use self::frame::Frame;
use super::paper::{GREY, Paper, Text};
use super::scale;
use super::words;

/// White space around everything, mm.
const MARGIN: f64 = 8.0;
/// The box is drawn no longer than this, mm on paper.
const LONGEST: f64 = 330.0;
/// Room for the ruler on either side of the box, mm.
const RULER: f64 = 17.0;
/// The tables want at least so much width, mm.
const LEAST_WIDTH: f64 = 308.0;
/// Size of plain text.
const SIZE: f64 = 2.6;
/// From line to line.
const LEADING: f64 = 3.7;

/// Everything that the parts of the drawing need to know.
struct Sump<'a> {
    design: &'a Design,
    report: &'a Report,
    scale: f64,
    cuts: Vec<cuts::Cut>,
}

/// A long section through the sump with the level of every chamber, as the text of one SVG file. Where
/// chambers lie side by side there is one section through each row, and a plan that shows where they
/// run.
///
/// `report` must have been made of the same design.
pub fn long_section(design: &Design, report: &Report) -> String {
    let scale = scale::of(design.outside.x, LONGEST);
    let sump = Sump { design, report, scale, cuts: cuts(design) };
    let length = design.outside.x / scale;
    let [left, right] = rulers::overhang(design).map(|mm| mm / scale + MARGIN + RULER);
    let width = (left + length + right).max(LEAST_WIDTH);
    let x0 = left + 0.5 * (width - left - length - right);
    let units = design.report;
    let mut paper = Paper::default();

    let title = format!("{}: long section", design.title);
    paper.text(&Text::new(&title, [MARGIN, 12.0], 5.0).bold());
    let flow = words::with_band(report.return_flow_m3_s, |q| words::flow(q, units));
    let about = format!(
        "Levels with {flow} up to the display; in brackets: how far the formulas may be off. Heights are above the inside of the bottom."
    );
    let mut y = 18.0;
    for line in super::measure::wrapped(&about, 3.0, width - 2.0 * MARGIN) {
        paper.text(&Text::new(&line, [MARGIN, y], 3.0).colour(GREY));
        y += 4.4;
    }

    let cuts = &sump.cuts;
    let mut unnamed = Vec::new();
    for cut in cuts {
        let name = (cuts.len() > 1).then(|| cut.name(units));
        y = view(&mut paper, &sump, cut, name.as_deref(), [x0, y], width, &mut unnamed);
    }
    if cuts.len() > 1 {
        y = plan::draw(&mut paper, &sump, cuts, [x0, y + 4.0]);
    }
    y = key::draw(&mut paper, &sump, [MARGIN, y + 5.0], width, cuts.len() > 1);
    if !unnamed.is_empty() {
        let note = format!("Drawn without a name, for want of room: {}.", unnamed.join(", "));
        for line in super::measure::wrapped(&note, SIZE, width - 2.0 * MARGIN) {
            y += LEADING;
            paper.text(&Text::new(&line, [MARGIN, y], SIZE).colour(GREY));
        }
    }
    y = tables::draw(&mut paper, &sump, [MARGIN, y + 7.0], width);
    paper.finish([width, y + MARGIN - 3.0], &title, &about)
}

/// One section with its labels; its lower end.
fn view(
    paper: &mut Paper,
    sump: &Sump<'_>,
    cut: &cuts::Cut,
    name: Option<&str>,
    [x0, mut y]: [f64; 2],
    width: f64,
    unnamed: &mut Vec<String>,
) -> f64 {
    if let Some(name) = name {
        paper.text(&Text::new(name, [MARGIN, y + 4.0], 3.4).bold());
        y += 6.0;
    }
    let within = [MARGIN, width - MARGIN];
    let places = room::uprights(sump, cut, x0);
    let above = labels::chambers(sump, cut, &places, within);
    let headroom = things::headroom(sump, cut);
    let frame = Frame {
        x0,
        y0: y
            + above.height()
            + headroom
            + (sump.design.outside.z - sump.design.floor_z) / sump.scale,
        scale: sump.scale,
    };
    paper.open(&format!("section-{}", cut.letter));
    frame::walls(paper, sump, cut, &frame);
    levels::water(paper, sump, cut, &frame);
    things::behind(paper, sump, cut, &frame);
    leaves::draw(paper, sump, cut, &frame);
    levels::lines(paper, sump, cut, &frame);
    reserve::lines(paper, sump, cut, &frame);
    rulers::draw(paper, sump, &frame);
    let bodies = room::bodies(sump, cut, &frame);
    levels::dimensions(paper, sump, cut, &frame, &places, &bodies);
    leaves::arrows(paper, sump, cut, &frame);
    above.draw_above(paper, frame.y(frame::rim_mm(sump.design)) - headroom, |i| {
        let level = sump.report.basins[i].level_m.mid * 1e3;
        frame.y(level)
    });
    unnamed.extend(reserve::labels(paper, sump, cut, &frame, &bodies));
    unnamed.extend(names::draw(paper, sump, cut, &frame, &bodies));
    let below = labels::leaves(sump, cut, x0, within);
    let foot = frame.y(-sump.design.floor_z);
    below.draw_below(paper, foot);
    paper.close();
    foot + below.height() + 2.0
}

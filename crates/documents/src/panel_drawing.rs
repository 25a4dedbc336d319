//! A drawing of one panel, for whoever cuts it or checks it.
//!
//! One view of the upper face to a scale of ISO 5455, in lines of ISO 128-2 (0.5 mm and 0.25 mm) and lettering of ISO 3098
//! (2.5 mm), dimensioned after ISO 129-1, on a sheet after ISO 5457 with the fields of ISO 7200. These are the conventions
//! as remembered; no conformity is claimed. Depths stand in the table, and a section beside the view shows each kind of
//! groove and step.

pub(crate) mod dimensions;
mod features;
mod layout;
mod legend;
mod notches;
mod notes;
pub(crate) mod place;
mod sections;
mod view;

use design::{Design, Piece};
use glam::{DVec2, dvec2};
use paper::{Document, Figure, Page, PaperForm};
use params::Papers;
use plate::{Contour, FlatPattern};
use study::PanelWords;

use crate::drawing_sheet::{self, LETTERS};
use crate::lengths::Lengths;
use crate::title_block::{self, TitleBlock};
use dimensions::Stations;
use features::{Feature, real};
use layout::Layout;
use notes::{glued, notes};
use view::{Side, View};

/// Scales that drawings are made to: ISO 5455, reduction.
pub(crate) const SCALES: [u32; 6] = [1, 2, 5, 10, 20, 50];
/// What holds where no tolerance is written, mm: what a router keeps and glued edges need (our judgement); the letter to the
/// shop says the same.
pub(crate) const TOLERANCE_MM: f64 = 0.2;
/// Between the parts of a sheet.
const GAP_MM: f64 = 5.0;

/// All that a drawing of a panel is made from.
#[derive(Clone, Copy, Debug)]
pub struct PanelDrawing<'a> {
    /// The design that it is of.
    pub design: &'a Design,
    /// Which panel.
    pub piece: &'a Piece,
    /// What is cut, in the panel's own frame.
    pub pattern: &'a FlatPattern,
    /// What is said of it.
    pub words: &'a PanelWords,
    /// What stands in the title block.
    pub papers: &'a Papers,
    /// Paper to draw on.
    pub paper: PaperForm,
}

/// Draws a panel. A small one is drawn on the paper of texts, if that gives it the same scale.
pub fn panel_drawing(of: &PanelDrawing<'_>) -> Document {
    let piece = of.piece;
    let outer = of.pattern.through.iter().filter_map(Contour::bounds);
    let bounds =
        outer.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or([DVec2::ZERO, DVec2::ONE]);
    let (mut rows, notches) = features::features(of.pattern, of.words.engraving_mm);
    let stations = Stations::of(of.pattern, &notches, bounds);
    let (glued, other_glue) = glued(of.design, piece);
    let notes = notes(of, &stations, &glued, &other_glue);
    for row in &mut rows {
        row.first = row.first.map(|p| p - bounds[0]);
    }
    let lengths = Lengths(of.design.report);
    let size = bounds[1] - bounds[0];
    let sections = sections::of(piece, &rows, size);
    let layout = Layout::best(of.paper, size, &stations, rows.len(), &sections, &notes);
    let scale = format!("1:{}", layout.scale);
    let sheets = if layout.has_own_table { 2 } else { 1 };
    let mut title = TitleBlock {
        papers: of.papers,
        kind: "Panel drawing",
        title: &format!("{} {}", piece.number, piece.name),
        project: &of.design.title,
        number: &piece.number,
        sheet: [1, sheets],
        scale: &scale,
        paper: layout.paper_name,
        unit: lengths.unit(),
        tolerance: &tolerance(lengths),
    };
    let mut figure = drawing_sheet::empty(layout.page);
    let [_, corner] = drawing_sheet::space(layout.page);
    title.draw(&mut figure, corner);
    let view = View { bounds, origin: layout.origin, scale: 1.0 / f64::from(layout.scale) };
    draw_view(&mut figure, of, &view, &layout, &stations, &rows, &glued);
    let [at, size] = layout.legend;
    let table = if layout.has_own_table { 0.0 } else { legend::table_height(rows.len()) };
    if !layout.has_own_table {
        legend::table(&mut figure, at, size.x, &rows, lengths);
    }
    let below = at + dvec2(0.0, table);
    sections::draw(&mut figure, below, size.x, &sections, lengths);
    let below = below + dvec2(0.0, sections::height(&sections, size.x));
    legend::notes(&mut figure, below, size.x, &notes);

    let bookmark = (1, format!("{} {}", piece.number, piece.name));
    let mut pages = vec![Page { figure, bookmarks: vec![bookmark], parts: Vec::new() }];
    if layout.has_own_table {
        title.sheet = [2, 2];
        pages.push(table_sheet(&title, &layout, &rows, lengths));
    }
    let date = Some(of.papers.date.clone()).filter(|date| !date.is_empty());
    Document {
        title: format!("{}: panel {} {}", of.design.title, piece.number, piece.name),
        author: of.papers.owner.clone(),
        date,
        language: "en",
        pages,
    }
}

fn draw_view(
    figure: &mut Figure,
    of: &PanelDrawing<'_>,
    view: &View,
    layout: &Layout,
    stations: &Stations,
    rows: &[Feature],
    glued: &[Side],
) {
    let [lo, hi] = layout.region;
    let mut room = place::Room { within: [lo, hi], ..place::Room::default() };
    view::draw(figure, view, of.pattern, glued, &mut room);
    dimensions::draw(figure, view, stations, Lengths(of.design.report), &mut room);
    // Small things first: large ones have more places for their letters.
    let mut order: Vec<&Feature> = rows.iter().collect();
    let area = |row: &Feature| (row.first[1] - row.first[0]).element_product();
    order.sort_by(|a, b| area(a).total_cmp(&area(b)));
    for row in order {
        let mut target = row.first.map(|p| p + view.bounds[0]);
        if let features::Form::AllRound(width) = row.shape {
            // The letter points at the step, not into the middle of the panel.
            let [lo, hi] = target;
            target = [
                lo + dvec2(0.25 * (hi.x - lo.x), 0.0),
                dvec2(lo.x + 0.3 * (hi.x - lo.x), lo.y + width),
            ];
        }
        let words = match row.count() {
            1 => row.tag.clone(),
            n => format!("{n} × {}", row.tag),
        };
        let lettering = LETTERS.bold().in_colour(paper::style::ACCENT);
        let is_round = matches!(row.shape, features::Form::Round(_));
        room.put_near(figure, view.corners(target), is_round, &words, lettering);
    }
}

/// The second sheet of a panel with more features than its drawing has room for.
fn table_sheet(
    title: &TitleBlock<'_>,
    layout: &Layout,
    rows: &[Feature],
    lengths: Lengths,
) -> Page {
    let mut figure = drawing_sheet::empty(layout.page);
    let [lo, hi] = drawing_sheet::space(layout.page);
    title.draw(&mut figure, hi);
    let height = hi.y - lo.y - title_block::SIZE.y - 2.0 * GAP_MM;
    let mut most = rows.len();
    while most > 1 && legend::table_height(most) > height {
        most -= 1;
    }
    let n = real(rows.len().div_ceil(most.max(1)));
    let width = (hi.x - lo.x - GAP_MM * (n + 1.0)) / n;
    for (i, part) in rows.chunks(most.max(1)).enumerate() {
        let at = lo + dvec2(GAP_MM + (width + GAP_MM) * real(i), GAP_MM);
        legend::table(&mut figure, at, width, part, lengths);
    }
    Page { figure, bookmarks: vec![(2, "Table".to_owned())], parts: Vec::new() }
}

/// The general tolerance in words.
pub(crate) fn tolerance(lengths: Lengths) -> String {
    format!("±{} for sizes and depths; grooves as in the letter", lengths.with_unit(TOLERANCE_MM))
}

/// The whole part of a length, mm.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=10000")]
pub(crate) fn whole(mm: f64) -> usize {
    mm.clamp(0.0, 10_000.0) as usize
}

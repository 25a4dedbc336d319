//! A drawing of one panel, for whoever cuts it or checks it.
//!
//! One view of the upper face to a scale of ISO 5455, in lines of ISO 128-2 (0.5 mm and 0.25 mm) and lettering of ISO 3098
//! (2.5 mm), dimensioned after ISO 129-1, on a sheet after ISO 5457 with the fields of ISO 7200. These are the conventions
//! as remembered; no conformity is claimed. Depths stand in the table, so no second view is drawn.

pub(crate) mod dimensions;
mod features;
mod legend;
mod notches;
pub(crate) mod place;
mod view;

use design::{Design, Piece, PieceId};
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
    let (mut rows, notches) = features::features(of.pattern);
    let stations = Stations::of(of.pattern, &notches, bounds);
    let (glued, other_glue) = glued(of.design, piece);
    let notes = notes(of, &stations, &glued, &other_glue);
    for row in &mut rows {
        row.first = row.first.map(|p| p - bounds[0]);
    }
    let layout = Layout::best(of.paper, bounds[1] - bounds[0], &stations, rows.len(), &notes);

    let lengths = Lengths(of.design.report);
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
    legend::notes(&mut figure, at + dvec2(0.0, table), size.x, &notes);

    let bookmark = (1, format!("{} {}", piece.number, piece.name));
    let mut pages = vec![Page { figure, bookmarks: vec![bookmark] }];
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
        room.put_near(figure, view.corners(target), &words, lettering);
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
    Page { figure, bookmarks: vec![(2, "Table".to_owned())] }
}

/// Which sides of the panel's box are glued, and what else of it is, in words.
fn glued(design: &Design, piece: &Piece) -> (Vec<Side>, Vec<String>) {
    let id: Option<PieceId> = design.pieces.iter().position(|other| other.number == piece.number);
    let (mut sides, mut others) = (Vec::new(), Vec::new());
    for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
        for (placed, face) in [joint.a, joint.b].into_iter().zip(&joint.faces) {
            if Some(design.placed[placed].piece) != id {
                continue;
            }
            match face.as_str() {
                "left edge" => sides.push(Side::Left),
                "right edge" => sides.push(Side::Right),
                "lower edge" => sides.push(Side::Lower),
                "upper edge" => sides.push(Side::Upper),
                other if !others.iter().any(|known| known == other) => {
                    others.push(other.to_owned());
                }
                _ => {}
            }
        }
    }
    sides.sort_unstable();
    sides.dedup();
    (sides, others)
}

fn notes(
    of: &PanelDrawing<'_>,
    stations: &Stations,
    glued: &[Side],
    other_glue: &[String],
) -> Vec<String> {
    let piece = of.piece;
    let lengths = Lengths(of.design.report);
    let mut notes = vec![format!("Material: {}.", study::stock::words(of.design, piece))];
    if let plate::Shape::Sheet(plate) = &piece.shape {
        notes.push(format!(
            "Drawn for t = {}. Quantity: {}.",
            lengths.with_unit(plate.thickness),
            piece.quantity
        ));
    }
    if !of.words.facing.is_empty() {
        notes.push(format!("View of the upper face. {}", of.words.facing));
    }
    notes.extend(corner_radii(of.pattern, lengths));
    if let (Some(depth), false) = (of.words.engraving_mm, of.pattern.engravings.is_empty()) {
        notes.push(format!("Thin lines in colour: engraved, {} deep.", lengths.with_unit(depth)));
    }
    if !glued.is_empty() {
        let edges =
            "Edges with a dash-dotted line are glued: left as cut, square, not flame polished.";
        notes.push(edges.to_owned());
    }
    if !other_glue.is_empty() {
        notes.push(format!("Something is glued to: {}.", other_glue.join(", ")));
    }
    notes.extend(of.words.notes.iter().cloned());
    if stations.is_cut {
        notes.push(
            "Not every corner is dimensioned: the DXF of this panel has them all.".to_owned(),
        );
    }
    if of.design.report == units::System::UsCustomary {
        notes.push("Lengths are decimal inches.".to_owned());
    }
    notes.push("In the conventions of ISO 128, 129-1, 5455, 5457 and 7200.".to_owned());
    notes
}

/// `Corners of the outline: 4 × R 3.`
fn corner_radii(pattern: &FlatPattern, lengths: Lengths) -> Option<String> {
    let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
    let mut radii: Vec<(f64, usize)> = Vec::new();
    for radius in outer.flat_map(|contour| &contour.0).filter_map(plate::Segment::radius) {
        match radii.iter_mut().find(|(other, _)| (other - radius).abs() < features::SAME_MM) {
            Some((_, n)) => *n += 1,
            None => radii.push((radius, 1)),
        }
    }
    radii.sort_by(|a, b| a.0.total_cmp(&b.0));
    let words: Vec<String> =
        radii.iter().map(|(r, n)| format!("{n} × R {}", lengths.number(*r))).collect();
    (!words.is_empty()).then(|| format!("Roundings of the outline: {}.", words.join(", ")))
}

/// What lies where on the sheet.
#[derive(Clone, Debug, PartialEq)]
struct Layout {
    page: DVec2,
    paper_name: &'static str,
    /// The view is so many times smaller.
    scale: u32,
    /// Where the view and its dimensions may lie.
    region: [DVec2; 2],
    /// Lower left corner of the view.
    origin: DVec2,
    /// Upper left corner and size of the table with the notes.
    legend: [DVec2; 2],
    /// Whether the table goes onto a sheet of its own.
    has_own_table: bool,
}

impl Layout {
    /// The largest scale; of equal ones the smaller paper, the table on this sheet, and then the legend at the side.
    fn best(
        paper: PaperForm,
        size: DVec2,
        stations: &Stations,
        rows: usize,
        notes: &[String],
    ) -> Self {
        let mut found: Vec<Self> = Vec::new();
        for has_own_table in [false, true] {
            if has_own_table && rows == 0 {
                continue;
            }
            let height = |width: f64| {
                let table = if has_own_table { 0.0 } else { legend::table_height(rows) };
                table + legend::notes_height(notes, width)
            };
            let sheets = [
                (paper.text(), paper.text_name(), 0.0),
                (paper.drawing(), paper.drawing_name(), 1.0),
            ];
            for (page, paper_name, is_large) in sheets {
                for (region, legend) in places(page, is_large > 0.5, height) {
                    found.extend(SCALES.iter().find_map(|&scale| {
                        let origin = fits(size / f64::from(scale), region, stations)?;
                        Some(Self {
                            page,
                            paper_name,
                            scale,
                            region,
                            origin,
                            legend,
                            has_own_table,
                        })
                    }));
                }
            }
        }
        // A second sheet is worth it when the view becomes more than two and a half times as large by it.
        let rank = |layout: &Self| layout.scale * if layout.has_own_table { 26 } else { 10 };
        let first = found
            .iter()
            .enumerate()
            .min_by_key(|(i, layout)| (rank(layout), *i))
            .map(|(_, layout)| layout.clone());
        first.unwrap_or_else(|| {
            // No panel is so large that none of the scales fits; a file with one is refused before.
            let page = paper.drawing();
            let [lo, hi] = drawing_sheet::space(page);
            let legend = [lo + GAP_MM, dvec2(150.0, 100.0)];
            let (scale, region) = (100, [lo, hi]);
            let origin = dvec2(lo.x + 40.0, hi.y - 60.0);
            Self {
                page,
                paper_name: paper.drawing_name(),
                scale,
                region,
                origin,
                legend,
                has_own_table: true,
            }
        })
    }
}

/// Ways to part a sheet into a region for the view and one for the legend, given the legend's height for its width.
fn places(
    page: DVec2,
    is_lying: bool,
    height: impl Fn(f64) -> f64,
) -> Vec<([DVec2; 2], [DVec2; 2])> {
    let [lo, hi] = drawing_sheet::space(page);
    let block = hi - title_block::SIZE;
    let mut ways = Vec::new();
    if is_lying {
        // At the right, above the title block.
        for width in [116.0, 140.0, title_block::SIZE.x - GAP_MM] {
            let (x, needed) = (hi.x - width - GAP_MM, height(width));
            if needed <= block.y - lo.y - 2.0 * GAP_MM {
                let legend = [dvec2(x, lo.y + 0.5 * GAP_MM), dvec2(width, needed)];
                ways.push(([lo, dvec2(x - GAP_MM, block.y)], legend));
                ways.push(([lo, dvec2(x.min(block.x) - GAP_MM, hi.y)], legend));
            }
        }
        // At the left, beside the title block.
        let width = block.x - lo.x - 2.0 * GAP_MM;
        let needed = height(width).max(title_block::SIZE.y - GAP_MM);
        let y = hi.y - needed - GAP_MM;
        if y > lo.y + 60.0 {
            ways.push((
                [lo, dvec2(hi.x, y - GAP_MM)],
                [dvec2(lo.x + GAP_MM, y), dvec2(width, needed)],
            ));
        }
    } else {
        // Above the title block, over the whole width.
        let width = hi.x - lo.x - 2.0 * GAP_MM;
        let needed = height(width);
        let y = block.y - needed - GAP_MM;
        if y > lo.y + 60.0 {
            ways.push((
                [lo, dvec2(hi.x, y - GAP_MM)],
                [dvec2(lo.x + GAP_MM, y), dvec2(width, needed)],
            ));
        }
    }
    ways
}

/// Where the lower left corner of a view of this size lies, in the middle of its region with its dimensions.
fn fits(size: DVec2, [lo, hi]: [DVec2; 2], stations: &Stations) -> Option<DVec2> {
    let [left, right, above, below] = stations.margins();
    let (lo, hi) = (lo + 2.0, hi - 2.0);
    let free = hi - lo - size - dvec2(left + right, above + below);
    (free.min_element() >= 0.0)
        .then(|| dvec2(lo.x + left + 0.5 * free.x, hi.y - below - 0.5 * free.y))
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

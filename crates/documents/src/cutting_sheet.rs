//! The cutting sheets of one stock: each sheet to buy with the panels on it, to a scale of ISO 5455.

mod list;
mod nest;

use design::Design;
use glam::{DVec2, dvec2};
use paper::{Document, Page, PaperForm};
use params::File;
use shop::{LaidSheet, StockPlan, Work};

use crate::drawing_sheet;
use crate::lengths::Lengths;
use crate::panel_drawing::{SCALES, tolerance};
use crate::title_block::{self, TitleBlock};

/// Width of the list beside the nest.
const LIST_MM: f64 = 118.0;
/// Between the parts of a sheet, and around the nest for its dimensions.
const GAP_MM: f64 = 5.0;
const LEFT_MM: f64 = 16.0;
const BELOW_MM: f64 = 14.0;

/// All that the cutting sheets of a stock are made from.
#[derive(Clone, Copy, Debug)]
pub struct CuttingSheets<'a> {
    /// The file: process, papers. Prices stay with the maker: these sheets go to the shop.
    pub file: &'a File,
    /// The design.
    pub design: &'a Design,
    /// What lies where.
    pub plan: &'a StockPlan,
    /// What is done to each panel.
    pub works: &'a [Work],
    /// Paper to draw on.
    pub paper: PaperForm,
}

impl CuttingSheets<'_> {
    /// What is done to a piece.
    fn work(&self, piece: design::PieceId) -> Option<&Work> {
        self.works.iter().find(|work| work.piece == piece)
    }
}

/// A page for each sheet of the plan with its list beside the nest. Where the nest alone has a larger scale, and where the
/// list is longer than the page, the list has pages of its own.
pub fn cutting_sheet(of: &CuttingSheets<'_>) -> Document {
    let most = list::most_lines(list_height(of.paper));
    let mut sheets: Vec<Vec<Content<'_>>> = Vec::new();
    for sheet in &of.plan.sheets {
        let lines = list::lines(of, sheet);
        let mut parts: Vec<Vec<list::Line>> = lines.chunks(most).map(<[_]>::to_vec).collect();
        let nest = Nest::best(of.paper, sheet);
        let beside = if nest.has_list && !parts.is_empty() { parts.remove(0) } else { Vec::new() };
        let mut pages = vec![Content { sheet, nest: Some(nest), columns: vec![beside] }];
        // Three lists have room on a page without a nest.
        pages.extend(parts.chunks(3).map(|some| Content {
            sheet,
            nest: None,
            columns: some.to_vec(),
        }));
        sheets.push(pages);
    }
    let contents: Vec<Content<'_>> = sheets.into_iter().flatten().collect();
    let count = contents.len();
    let pages =
        contents.iter().enumerate().map(|(i, content)| page(of, content, [i + 1, count])).collect();
    let papers = &of.file.papers;
    Document {
        title: format!("{}: cutting sheets of {}", of.design.title, of.plan.sheet),
        author: papers.owner.clone(),
        date: Some(papers.date.clone()).filter(|date| !date.is_empty()),
        language: "en",
        pages,
    }
}

/// What stands on one page.
struct Content<'a> {
    sheet: &'a LaidSheet,
    /// The nest, if it is on this page.
    nest: Option<Nest>,
    /// Lists: one beside a nest, or up to three from the left.
    columns: Vec<Vec<list::Line>>,
}

/// Where the nest lies on its page.
#[derive(Clone, Copy, Debug)]
struct Nest {
    scale: u32,
    origin: DVec2,
    region: [DVec2; 2],
    /// Whether there is room for the list beside it.
    has_list: bool,
}

impl Nest {
    /// The largest scale; of equal ones that with the list beside it.
    fn best(paper: PaperForm, sheet: &LaidSheet) -> Self {
        let [lo, hi] = drawing_sheet::space(paper.drawing());
        let block = hi - title_block::SIZE;
        let x = hi.x - LIST_MM - 2.0 * GAP_MM;
        let regions = [
            ([lo, dvec2(x, block.y)], true),
            ([lo, dvec2(block.x.min(x) - GAP_MM, hi.y)], true),
            ([lo, dvec2(hi.x, block.y)], false),
        ];
        let at = |(region, has_list): ([DVec2; 2], bool)| {
            let room = region[1] - region[0] - dvec2(LEFT_MM + GAP_MM, BELOW_MM + GAP_MM);
            let fits = |&scale: &u32| (sheet.size_mm / f64::from(scale)).cmple(room).all();
            let scale = SCALES.into_iter().find(fits).unwrap_or(100);
            let free = room - sheet.size_mm / f64::from(scale);
            let right = region[0].x + LEFT_MM + 0.5 * free.x;
            let origin = dvec2(right, region[1].y - BELOW_MM - 0.5 * free.y);
            Self { scale, origin, region, has_list }
        };
        let [mut best, other, alone] = regions.map(at);
        for one in [other, alone] {
            if one.scale < best.scale {
                best = one;
            }
        }
        best
    }
}

/// Room for the list above the title block.
fn list_height(paper: PaperForm) -> f64 {
    let [lo, hi] = drawing_sheet::space(paper.drawing());
    hi.y - title_block::SIZE.y - lo.y - 2.0 * GAP_MM
}

fn page(of: &CuttingSheets<'_>, content: &Content<'_>, number: [usize; 2]) -> Page {
    let paper = of.paper.drawing();
    let mut figure = drawing_sheet::empty(paper);
    let [lo, hi] = drawing_sheet::space(paper);
    let sheet = content.sheet;
    let lengths = Lengths(of.design.report);
    let mut list_at = lo + GAP_MM;
    let mut scale = "–".to_owned();
    if let Some(nest) = content.nest {
        nest::draw(&mut figure, of, sheet, nest.origin, 1.0 / f64::from(nest.scale), nest.region);
        list_at.x = hi.x - LIST_MM - GAP_MM;
        scale = format!("1:{}", nest.scale);
    }
    for lines in &content.columns {
        list::draw(&mut figure, list_at, LIST_MM, lines);
        list_at.x += LIST_MM + 2.0 * GAP_MM;
    }
    let title = TitleBlock {
        papers: &of.file.papers,
        kind: "Cutting sheet",
        title: &sheet.name,
        project: &of.design.title,
        number: &sheet.name,
        sheet: number,
        scale: &scale,
        paper: of.paper.drawing_name(),
        unit: lengths.unit(),
        tolerance: &tolerance(lengths),
    };
    title.draw(&mut figure, hi);
    let bookmarks = if content.nest.is_some() { vec![(1, sheet.name.clone())] } else { Vec::new() };
    Page { figure, bookmarks, parts: Vec::new() }
}

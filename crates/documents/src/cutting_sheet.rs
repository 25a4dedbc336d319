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
use crate::panel_drawing::{SCALES, TOLERANCE};
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
    /// The file: process, prices, papers.
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

/// A page for each sheet of the plan, and further ones where a list is longer than its page.
pub fn cutting_sheet(of: &CuttingSheets<'_>) -> Document {
    let lists: Vec<Vec<list::Line>> =
        of.plan.sheets.iter().map(|sheet| list::lines(of, sheet)).collect();
    let most = list::most_lines(list_height(of.paper));
    let parts = |lines: &Vec<list::Line>| lines.len().div_ceil(most).max(1);
    let count: usize = lists.iter().map(parts).sum();
    let mut pages = Vec::new();
    for (sheet, lines) in of.plan.sheets.iter().zip(&lists) {
        for part in 0..parts(lines) {
            let some =
                lines.get(part * most..((part + 1) * most).min(lines.len())).unwrap_or_default();
            pages.push(page(of, sheet, some, [pages.len() + 1, count]));
        }
    }
    let papers = &of.file.papers;
    Document {
        title: format!("{}: cutting sheets of {}", of.design.title, of.plan.sheet),
        author: papers.owner.clone(),
        date: Some(papers.date.clone()).filter(|date| !date.is_empty()),
        language: "en",
        pages,
    }
}

/// Room for the list above the title block.
fn list_height(paper: PaperForm) -> f64 {
    let [lo, hi] = drawing_sheet::space(paper.drawing());
    hi.y - title_block::SIZE.y - lo.y - 2.0 * GAP_MM
}

fn page(
    of: &CuttingSheets<'_>,
    sheet: &LaidSheet,
    lines: &[list::Line],
    number: [usize; 2],
) -> Page {
    let paper = of.paper.drawing();
    let mut figure = drawing_sheet::empty(paper);
    let [lo, hi] = drawing_sheet::space(paper);
    let list_at = dvec2(hi.x - LIST_MM - GAP_MM, lo.y + GAP_MM);
    // The nest has the rest: above the title block, or left of it over the whole height.
    let block = hi - title_block::SIZE;
    let wide = [lo, dvec2(list_at.x - GAP_MM, block.y)];
    let high = [lo, dvec2(block.x - GAP_MM, hi.y)];
    let fit = |[lo, hi]: [DVec2; 2]| {
        let room = hi - lo - dvec2(LEFT_MM + GAP_MM, BELOW_MM + GAP_MM);
        let fits = |&scale: &u32| (sheet.size_mm / f64::from(scale)).cmple(room).all();
        SCALES.into_iter().find(fits).unwrap_or(100)
    };
    let region = if fit(high) < fit(wide) { high } else { wide };
    let scale = fit(region);
    let size = sheet.size_mm / f64::from(scale);
    let free = region[1] - region[0] - size - dvec2(LEFT_MM, BELOW_MM);
    let origin = dvec2(region[0].x + LEFT_MM + 0.5 * free.x, region[1].y - BELOW_MM - 0.5 * free.y);
    nest::draw(&mut figure, of, sheet, origin, 1.0 / f64::from(scale), region);
    list::draw(&mut figure, list_at, LIST_MM, lines);
    let title = TitleBlock {
        papers: &of.file.papers,
        kind: "Cutting sheet",
        title: &sheet.name,
        project: &of.design.title,
        number: &sheet.name,
        sheet: number,
        scale: &format!("1:{scale}"),
        paper: of.paper.drawing_name(),
        unit: Lengths(of.design.report).unit(),
        tolerance: TOLERANCE,
    };
    title.draw(&mut figure, hi);
    Page { figure, bookmarks: vec![(1, sheet.name.clone())] }
}

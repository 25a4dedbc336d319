//! Where view, table and notes lie on which paper, and to which scale.

use glam::{DVec2, dvec2};
use paper::PaperForm;

use super::GAP_MM;
use super::dimensions::Stations;
use super::sections::Section;
use super::{SCALES, legend, sections};
use crate::{drawing_sheet, title_block};

/// What lies where on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    pub(super) page: DVec2,
    pub(super) paper_name: &'static str,
    /// The view is so many times smaller.
    pub(super) scale: u32,
    /// Where the view and its dimensions may lie.
    pub(super) region: [DVec2; 2],
    /// Lower left corner of the view.
    pub(super) origin: DVec2,
    /// Upper left corner and size of the table with the notes.
    pub(super) legend: [DVec2; 2],
    /// Whether the table goes onto a sheet of its own.
    pub(super) has_own_table: bool,
}

impl Layout {
    /// The largest scale; of equal ones the smaller paper, the table on this sheet, and then the legend at the side.
    pub(super) fn best(
        paper: PaperForm,
        size: DVec2,
        stations: &Stations,
        rows: usize,
        sections: &[Section],
        notes: &[String],
    ) -> Self {
        let mut found: Vec<Self> = Vec::new();
        for has_own_table in [false, true] {
            if has_own_table && rows == 0 {
                continue;
            }
            let height = |width: f64| {
                let table = if has_own_table { 0.0 } else { legend::table_height(rows) };
                table + sections::height(sections, width) + legend::notes_height(notes, width)
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

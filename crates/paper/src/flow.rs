//! From blocks to pages.

mod blocks;
mod fill;
mod slab;
mod table;

use glam::{DVec2, dvec2};

use crate::block::Block;
use crate::figure::{Anchor, Stroke};
use crate::page::{Page, PaperForm};
use crate::style::{RULE, SMALL};

/// The paper that text flows on, and what is repeated on every page.
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    /// Width and height of a page, mm.
    pub size: DVec2,
    /// Left margin, mm: wide enough for holes to file it by.
    pub left_mm: f64,
    /// Right margin, mm.
    pub right_mm: f64,
    /// Upper margin, mm; the head stands in it.
    pub top_mm: f64,
    /// Lower margin, mm; the foot stands in it.
    pub bottom_mm: f64,
    /// Above every page but the first: the title.
    pub head: String,
    /// Below every page, beside `page 1 of 3`.
    pub foot: String,
}

impl Form {
    /// Upright paper for text with margins of our own choice.
    pub fn text(paper: PaperForm, head: impl Into<String>, foot: impl Into<String>) -> Self {
        let (head, foot) = (head.into(), foot.into());
        Self {
            size: paper.text(),
            left_mm: 25.0,
            right_mm: 20.0,
            top_mm: 24.0,
            bottom_mm: 22.0,
            head,
            foot,
        }
    }

    /// Width of a line, mm.
    pub fn width_mm(&self) -> f64 {
        self.size.x - self.left_mm - self.right_mm
    }

    /// Height for text on a page, mm.
    pub fn height_mm(&self) -> f64 {
        self.size.y - self.top_mm - self.bottom_mm
    }
}

/// Lays blocks out on as many pages as they need; at least one.
///
/// Lines are broken greedily. A heading stays with what follows; of a paragraph no line stands alone at either end of a
/// page; a table's head is repeated and its rows are not split, unless one is higher than a page.
pub fn flow(blocks: &[Block], form: &Form) -> Vec<Page> {
    let room = dvec2(form.width_mm(), form.height_mm());
    let slabs = blocks::slabs(blocks, room);
    let mut pages = fill::pages(slabs, form);
    let count = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        add_edges(page, form, i + 1, count);
    }
    pages
}

/// Head and foot.
fn add_edges(page: &mut Page, form: &Form, number: usize, count: usize) {
    let [left, right] = [form.left_mm, form.size.x - form.right_mm];
    let rule = || Stroke::whole(0.15, RULE);
    let figure = &mut page.figure;
    if number > 1 {
        let base = form.top_mm - 9.0;
        figure.words(dvec2(left, base), form.head.as_str(), SMALL, Anchor::Start);
        figure.line(dvec2(left, base + 2.2), dvec2(right, base + 2.2), rule());
    }
    let base = form.size.y - form.bottom_mm + 10.5;
    figure.line(dvec2(left, base - 4.2), dvec2(right, base - 4.2), rule());
    figure.words(dvec2(left, base), form.foot.as_str(), SMALL, Anchor::Start);
    let of = format!("page {number} of {count}");
    figure.words(dvec2(right, base), of, SMALL, Anchor::End);
}

//! The pieces that a page is filled with, from top to bottom.

use std::rc::Rc;

use glam::DVec2;

use crate::figure::{Anchor, Lettering, Mark};
use crate::part::{Part, Tag};

/// A strip across the page that is never split. Its marks count from its upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Slab {
    /// How high it is.
    pub(super) height: f64,
    /// Space above it, left out at the top of a page.
    pub(super) space: f64,
    /// What is drawn.
    pub(super) marks: Vec<Mark>,
    /// What of it is what; their marks are counted in `marks`.
    pub(super) parts: Vec<Part>,
    /// Whether no page may end after it, if that can be had.
    pub(super) stays_with_next: bool,
    /// Whether a page begins with it.
    pub(super) begins_page: bool,
    /// For the rest of a table: the head to repeat when a page begins with it.
    pub(super) head: Option<Rc<Self>>,
    /// Words of caution that it is part of: slabs of equal number share a frame.
    pub(super) frame: Option<usize>,
    /// What readers show beside the pages.
    pub(super) bookmark: Option<(u8, String)>,
}

impl Slab {
    /// A line of words with its leading.
    pub(super) fn line(text: &str, lettering: Lettering, x: f64, tag: &Tag) -> Self {
        let mut slab = Self { height: lettering.leading_mm(), ..Self::default() };
        slab.write(text, lettering, DVec2::new(x, 0.0), Anchor::Start, tag);
        slab
    }

    /// Words into a line whose upper edge is at `at`.
    pub(super) fn write(
        &mut self,
        text: &str,
        lettering: Lettering,
        at: DVec2,
        anchor: Anchor,
        tag: &Tag,
    ) {
        let n = self.marks.len();
        if !text.is_empty() {
            let at = at + DVec2::new(0.0, base_mm(lettering));
            let text = text.to_owned();
            self.marks.push(Mark::Words { at, text, lettering, anchor, turned_deg: 0.0 });
        }
        // Empty cells are cells too.
        self.parts.push(Part { marks: n..self.marks.len(), tag: tag.clone() });
    }

    /// Its marks and parts after those that there are already.
    pub(super) fn place(&self, at: DVec2, marks: &mut Vec<Mark>, parts: &mut Vec<Part>) {
        let n = marks.len();
        marks.extend(self.marks.iter().map(|mark| mark.placed(at, 1.0)));
        parts.extend(self.parts.iter().map(|part| Part {
            marks: part.marks.start + n..part.marks.end + n,
            tag: part.tag.clone(),
        }));
    }

    /// The same further to the right.
    pub(super) fn moved(mut self, by: DVec2) -> Self {
        self.marks = self.marks.iter().map(|mark| mark.placed(by, 1.0)).collect();
        self
    }
}

/// From the upper edge of a line to its base line: the capital in the middle of the leading.
pub(super) fn base_mm(lettering: Lettering) -> f64 {
    0.5 * (lettering.leading_mm() + lettering.capital_mm)
}

/// Ties the slabs of one thing: of a paragraph no line stands alone at either end of a page.
pub(super) fn tie_ends(slabs: &mut [Slab]) {
    let n = slabs.len();
    if n > 1 {
        slabs[0].stays_with_next = true;
        slabs[n - 2].stays_with_next = true;
    }
}

/// Ties all, so that they stay on one page if it has room for them.
pub(super) fn tie_all(slabs: &mut [Slab]) {
    let n = slabs.len();
    for slab in slabs.iter_mut().take(n.saturating_sub(1)) {
        slab.stays_with_next = true;
    }
}

//! From slabs to pages.

use glam::{DVec2, dvec2};

use super::Form;
use super::slab::Slab;
use crate::figure::{Figure, Mark, Stroke};
use crate::page::Page;
use crate::style::{ACCENT, TINT};

/// Fills pages from top to bottom.
pub(super) fn pages(slabs: Vec<Slab>, form: &Form) -> Vec<Page> {
    let mut filler = Filler { form, done: Vec::new(), on_page: Vec::new(), y: 0.0 };
    let mut chain: Vec<Slab> = Vec::new();
    for slab in slabs {
        let is_last = !slab.stays_with_next;
        if slab.begins_page && !chain.is_empty() {
            filler.put(std::mem::take(&mut chain));
        }
        chain.push(slab);
        if is_last {
            filler.put(std::mem::take(&mut chain));
        }
    }
    filler.put(chain);
    filler.end_page();
    filler.done
}

/// The pages so far, and the one that is being filled.
struct Filler<'a> {
    form: &'a Form,
    done: Vec<Page>,
    /// Slabs of the page in the making with the height of their upper edge.
    on_page: Vec<(f64, Slab)>,
    y: f64,
}

impl Filler<'_> {
    /// Puts slabs that belong together: on this page, else all on the next, else, where a page is too small, one by
    /// one.
    fn put(&mut self, chain: Vec<Slab>) {
        let room = self.form.height_mm() + 1e-9;
        if chain.first().is_some_and(|slab| slab.begins_page) {
            self.end_page_if_begun();
        }
        let height = self.height_of(&chain);
        if self.y + height > room && !self.on_page.is_empty() {
            // A chain that is higher than a page begins where it is, if some of it fits.
            let fits_a_page = height_at_top(&chain) <= room;
            let some = &chain[..chain.len().min(3)];
            if fits_a_page || self.y + self.height_of(some) > room {
                self.end_page();
            }
        }
        for slab in chain {
            let space = if self.on_page.is_empty() { 0.0 } else { slab.space };
            if !self.on_page.is_empty() && self.y + space + slab.height > room {
                self.end_page();
            }
            self.lay(slab);
        }
    }

    fn lay(&mut self, slab: Slab) {
        if self.on_page.is_empty()
            && let Some(head) = &slab.head
        {
            let head = Slab::clone(head);
            let height = head.height;
            self.on_page.push((0.0, head));
            self.y = height;
        } else if !self.on_page.is_empty() {
            self.y += slab.space;
        }
        let height = slab.height;
        self.on_page.push((self.y, slab));
        self.y += height;
    }

    fn height_of(&self, chain: &[Slab]) -> f64 {
        let first = chain.first().map_or(0.0, |slab| slab.space);
        let skipped = if self.on_page.is_empty() { first } else { 0.0 };
        chain.iter().map(|slab| slab.space + slab.height).sum::<f64>() - skipped
    }

    fn end_page_if_begun(&mut self) {
        if !self.on_page.is_empty() {
            self.end_page();
        }
    }

    fn end_page(&mut self) {
        if self.on_page.is_empty() && !self.done.is_empty() {
            return;
        }
        let at = dvec2(self.form.left_mm, self.form.top_mm);
        let mut figure = Figure::new(self.form.size);
        let slabs = std::mem::take(&mut self.on_page);
        let placed: Vec<_> = slabs.iter().map(|(y, slab)| (*y, slab.height, slab)).collect();
        frames(&placed, at, self.form.width_mm(), &mut figure.marks);
        let (mut bookmarks, mut parts) = (Vec::new(), Vec::new());
        for (y, slab) in &slabs {
            slab.place(at + dvec2(0.0, *y), &mut figure.marks, &mut parts);
            bookmarks.extend(slab.bookmark.clone());
        }
        self.done.push(Page { figure, bookmarks, parts });
        self.y = 0.0;
    }
}

fn height_at_top(chain: &[Slab]) -> f64 {
    let first = chain.first().map_or(0.0, |slab| slab.space);
    chain.iter().map(|slab| slab.space + slab.height).sum::<f64>() - first
        + chain.first().and_then(|slab| slab.head.as_ref()).map_or(0.0, |head| head.height)
}

/// Draws the frames of words of caution behind slabs: one around all that follow each other in it.
pub(super) fn frames(slabs: &[(f64, f64, &Slab)], at: DVec2, width: f64, marks: &mut Vec<Mark>) {
    let mut i = 0;
    while i < slabs.len() {
        let Some(frame) = slabs[i].2.frame else {
            i += 1;
            continue;
        };
        let first = i;
        while i < slabs.len() && slabs[i].2.frame == Some(frame) {
            i += 1;
        }
        let (top, end) = (slabs[first].0, slabs[i - 1].0 + slabs[i - 1].1);
        let (lo, hi) = (at + dvec2(0.0, top), at + dvec2(width, end));
        let mut figure = Figure::default();
        figure.rectangle(lo, hi, Some(Stroke::whole(0.2, ACCENT)), Some(TINT));
        figure.rectangle(lo, dvec2(lo.x + 1.4, hi.y), None, Some(ACCENT));
        marks.extend(figure.marks);
    }
}

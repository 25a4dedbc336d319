//! A panel as it is laid.

use design::PieceId;
use glam::DVec2;
use plate::Contour;

use super::{gaps::Gaps, grid, opening};
use crate::Work;
use crate::nest::{Item, Rect, Size};

/// A panel with its bounding box.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub(super) piece: PieceId,
    /// Lower left and upper right corner, in the part's own frame, mm.
    pub(super) bounds: [DVec2; 2],
    /// Rectangles in its openings, from the lower left corner of its bounding box, mm: as large as a part in them may be.
    rooms: Vec<[DVec2; 2]>,
    /// The rectangles around its openings, likewise, drawn in by what must stay between parts: nothing in an opening
    /// reaches beyond. Of a part in several pieces too, in whose openings nothing is laid.
    openings: Vec<[DVec2; 2]>,
    /// The same, as large as what the tool leaves of what falls out.
    pub(super) rests: Vec<[DVec2; 2]>,
}

impl Part {
    /// `None` when the panel has no outline.
    pub(super) fn new(work: &Work, gaps: &Gaps, has_rooms: bool) -> Option<Self> {
        let through = &work.pattern.through;
        let bounds = through.iter().filter_map(Contour::bounds);
        let bounds = bounds.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])?;
        let is_outer = |contour: &&Contour| 0.0 < contour.signed_area();
        // In a part of several pieces one may lie in the opening of another.
        let is_open = has_rooms && through.iter().filter(is_outer).count() == 1;
        let within = |clear: i32| -> Vec<[DVec2; 2]> {
            let openings = through.iter().filter(|contour| is_open && !is_outer(contour));
            let rects = openings.flat_map(|contour| opening::largest(contour, grid::mm(clear)));
            rects.map(|rect| rect.map(|corner| corner - bounds[0])).collect()
        };
        let (rooms, rests) = (within(gaps.between), within(gaps.width));
        let clear = DVec2::splat(grid::mm(gaps.between));
        let boxes = through.iter().filter(|contour| has_rooms && !is_outer(contour));
        let boxes = boxes.filter_map(Contour::bounds).map(|[lo, hi]| [lo + clear, hi - clear]);
        let openings = boxes.filter(|[lo, hi]| lo.cmplt(*hi).all());
        let openings = openings.map(|rect| rect.map(|corner| corner - bounds[0])).collect();
        Some(Self { piece: work.piece, bounds, rooms, openings, rests })
    }

    /// Length and width, mm.
    pub(super) fn size_mm(&self) -> DVec2 {
        self.bounds[1] - self.bounds[0]
    }

    pub(super) fn item(&self, gaps: &Gaps) -> Item {
        let size = self.size_mm();
        let side = |mm: f64| grid::up(mm) + gaps.between;
        let room = |[lo, hi]: &[DVec2; 2]| {
            // One step smaller on every side: a part that is turned is rounded at its other side.
            let [x, y] = [lo.x, lo.y].map(|mm| grid::up(mm) + 1);
            let [right, top] = [hi.x, hi.y].map(|mm| grid::down(mm) - 1 + gaps.between);
            Rect { x, y, size: Size { width: right - x, height: top - y } }
        };
        let opening = |[lo, hi]: &[DVec2; 2]| {
            // One step larger on every side, so that rounding proves nothing.
            let [x, y] = [lo.x, lo.y].map(|mm| grid::down(mm) - 1);
            let [right, top] = [hi.x, hi.y].map(|mm| grid::up(mm) + 1 + gaps.between);
            Rect { x, y, size: Size { width: right - x, height: top - y } }
        };
        Item {
            size: Size { width: side(size.x), height: side(size.y) },
            turns: true,
            rooms: self.rooms.iter().map(room).collect(),
            openings: self.openings.iter().map(opening).collect(),
        }
    }

    /// Where the origin of its own frame lies when the lower left corner of its bounding box lies at `at`, mm.
    pub(super) fn origin(&self, at: DVec2, is_turned: bool) -> DVec2 {
        // Turned by 90° counter-clockwise its left upper corner comes to lie lower left.
        let corner = if is_turned {
            DVec2::new(self.bounds[0].x, self.bounds[1].y).perp()
        } else {
            self.bounds[0]
        };
        at - corner
    }
}

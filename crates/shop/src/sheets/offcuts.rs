//! What is left of a sheet and worth keeping, and the cuts of a saw.

use std::cmp::Reverse;

use glam::DVec2;

use super::{gaps::Gaps, grid, part::Part};
use crate::nest::{Free, Rect, Size, saw};
use crate::{Laid, Offcut, SawCut};

/// Least length and width of an offcut that is named, mm; our judgement: a baffle or some strips can be cut from it.
const LEAST_MM: [f64; 2] = [200.0, 100.0];
/// So many are named of one sheet at most; our judgement.
const MOST: usize = 6;

/// What is left of a sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Rest {
    rects: Vec<Rect>,
    pub(super) saw_cuts: Vec<SawCut>,
}

impl Rest {
    /// Of a sheet with parts on it. The strip along the edges belongs to what is left: whoever lays on it leaves it again.
    pub(super) fn of(size_mm: DVec2, laid: &[(Laid, &Part)], gaps: &Gaps) -> Self {
        let size = Size { width: grid::down(size_mm.x), height: grid::down(size_mm.y) };
        let sawn = gaps.is_straight_through.then(|| {
            let parts: Vec<Rect> = laid.iter().map(|(laid, part)| covered(laid, part)).collect();
            saw::cuts(size, &parts, gaps.width)
        });
        match sawn.flatten() {
            Some(sawn) => {
                Self { rects: sawn.rests, saw_cuts: sawn.cuts.into_iter().map(saw_cut).collect() }
            }
            None => Self { rects: left(size, laid, gaps), saw_cuts: Vec::new() },
        }
    }

    /// Those worth keeping, the largest first.
    pub(super) fn offcuts(&self, sheet: &str) -> Vec<Offcut> {
        let mut rects: Vec<Rect> =
            self.rects.iter().copied().filter(|rect| is_usable(*rect)).collect();
        rects.sort_by_key(|rect| (Reverse(rect.size.area()), rect.y, rect.x));
        rects.truncate(MOST);
        let name = |letter: char, rect: &Rect| Offcut {
            name: format!("{sheet}-{letter}"),
            corners_mm: [[rect.x, rect.y], [rect.right(), rect.top()]]
                .map(|p| p.map(grid::mm).into()),
        };
        ('a'..='z').zip(&rects).map(|(letter, rect)| name(letter, rect)).collect()
    }
}

fn is_usable(rect: Rect) -> bool {
    let Size { width, height } = rect.size;
    let [long, short] = LEAST_MM.map(grid::up);
    long <= width.max(height) && short <= width.min(height)
}

/// The largest free rectangle that is worth keeping, then the largest beside it, and so on.
fn left(size: Size, laid: &[(Laid, &Part)], gaps: &Gaps) -> Vec<Rect> {
    let mut free = Free::whole(size);
    for (laid, part) in laid {
        let Rect { x, y, size: Size { width, height } } = covered(laid, part);
        let size = Size { width: width + 2 * gaps.width, height: height + 2 * gaps.width };
        free.take_away(Rect { x: x - gaps.width, y: y - gaps.width, size });
        for rest in &part.rests {
            let corners = rest.map(|corner| laid.point(part.bounds[0] + corner));
            free.extend(between(corners[0].min(corners[1]), corners[0].max(corners[1])));
        }
    }
    let mut rects = Vec::new();
    while let Some(largest) = free.largest(is_usable) {
        free.take_away(largest);
        rects.push(largest);
    }
    rects
}

/// What lies within two corners, on the grid.
fn between(lo: DVec2, hi: DVec2) -> Option<Rect> {
    let [x, y] = [lo.x, lo.y].map(grid::up);
    let size = Size { width: grid::down(hi.x) - x, height: grid::down(hi.y) - y };
    (0 < size.width && 0 < size.height).then_some(Rect { x, y, size })
}

/// What a part covers, on the grid.
fn covered(laid: &Laid, part: &Part) -> Rect {
    let corners = part.bounds.map(|corner| laid.point(corner));
    let (lo, hi) = (corners[0].min(corners[1]), corners[0].max(corners[1]));
    let [x, y] = [lo.x, lo.y].map(grid::down);
    let size = Size { width: grid::up(hi.x) - x, height: grid::up(hi.y) - y };
    Rect { x, y, size }
}

/// The middle of the blade, mm.
fn saw_cut(cut: saw::Cut) -> SawCut {
    let Rect { x, y, .. } = cut.blade;
    let [lo, hi] =
        [[x, y], [cut.blade.right(), cut.blade.top()]].map(|p| DVec2::from(p.map(grid::mm)));
    let middle = 0.5 * (lo + hi);
    let ends_mm = if cut.is_upright {
        [DVec2::new(middle.x, lo.y), DVec2::new(middle.x, hi.y)]
    } else {
        [DVec2::new(lo.x, middle.y), DVec2::new(hi.x, middle.y)]
    };
    SawCut { ends_mm, depth: cut.depth }
}

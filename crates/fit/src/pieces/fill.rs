//! What a sheet looks like for planning: small openings filled up.

use glam::{DVec2, DVec3};
use plate::{Arrangement, Interval};

use super::{NARROW_MM, Occupants, Openings};

/// Heights of every cell for planning, and whether something moves in it.
pub(crate) struct Filled {
    /// Never less than the cell's own.
    pub(crate) heights: Vec<Option<Interval>>,
    /// What can move against the sheet and is within the cell's rectangle.
    pub(crate) within: Vec<Vec<[DVec3; 2]>>,
}

/// Fills up cells that are inside the sheet, narrow, and have nothing in them, to the height of what is around them. Cells
/// that share an arc get heights of which one contains the other, so that it is clear which way the
/// arc may bulge.
pub(crate) fn filled(
    arrangement: &Arrangement,
    openings: Openings,
    occupants: Occupants<'_>,
) -> Filled {
    let n = arrangement.cells.len();
    let mut heights = arrangement.cells.clone();
    let whole = heights.iter().flatten().copied().reduce(union).unwrap_or([0.0; 2]);
    for height in heights.iter_mut().flatten() {
        *height = levelled(*height, whole);
    }
    let mut boxes = vec![[DVec2::INFINITY, DVec2::NEG_INFINITY]; n];
    let mut is_inside = vec![true; n];
    for edge in &arrangement.edges {
        let [lo, hi] = arrangement.segment(edge).bounds();
        for (cell, other) in [(edge.left, edge.right), (edge.right, edge.left)] {
            boxes[cell] = [boxes[cell][0].min(lo), boxes[cell][1].max(hi)];
            is_inside[cell] &= other != 0;
        }
    }
    is_inside[0] = false;
    let within: Vec<Vec<[DVec3; 2]>> = (0..n)
        .map(|c| {
            let [lo, hi] = boxes[c];
            // What steps leave open tells of an opening that they run around, also of one that is open to the outside.
            let is_thinner = arrangement.cells[c].is_none_or(|own| !holds(own, whole));
            let room = [lo.extend(whole[0]), hi.extend(whole[1])];
            if c != 0 && is_thinner { occupants(room) } else { Vec::new() }
        })
        .collect();
    let may_fill: Vec<bool> = (0..n)
        .map(|c| {
            let size = boxes[c][1] - boxes[c][0];
            // What is only cut into, and not through, nothing passes.
            let may_be_passed = heights[c].is_none()
                && matches!(openings, Openings::Stay(least) if size.max_element() >= least);
            !may_be_passed && is_inside[c] && within[c].is_empty() && size.min_element() < NARROW_MM
        })
        .collect();
    // Heights only grow, towards few values, so this ends; a chain of cells inside each other takes
    // a round each.
    for _ in 0..=2 * n {
        let before = heights.clone();
        for edge in &arrangement.edges {
            let (a, b) = (edge.left, edge.right);
            let is_unclear = edge.arc.is_some()
                && matches!((heights[a], heights[b]), (Some(a), Some(b)) if !holds(a, b) && !holds(b, a));
            for (cell, other) in [(a, b), (b, a)] {
                if cell != 0 && (may_fill[cell] || is_unclear) {
                    heights[cell] = match (heights[cell], before[other]) {
                        (Some(own), Some(beside)) => Some(union(own, beside)),
                        (own, beside) => own.or(beside),
                    };
                }
            }
        }
        if heights == before {
            break;
        }
    }
    Filled { heights, within }
}

/// Whether all of the second is within the first.
pub(crate) fn holds(a: Interval, b: Interval) -> bool {
    a[0] <= b[0] && b[1] <= a[1]
}

/// The least interval around both.
/// Steps at a face that are no deeper than this are filled up, mm: the one that a print has along its edges on the bed, a layer
/// deep, which gives no room to anything. Our judgement.
const STEP_MM: f64 = 0.45;

/// Without steps at the faces.
fn levelled([bottom, top]: Interval, whole: Interval) -> Interval {
    let is_step = |from: f64, to: f64| (from - to).abs() <= STEP_MM;
    [
        if is_step(bottom, whole[0]) { whole[0] } else { bottom },
        if is_step(top, whole[1]) { whole[1] } else { top },
    ]
}

pub(crate) fn union(a: Interval, b: Interval) -> Interval {
    [a[0].min(b[0]), a[1].max(b[1])]
}

/// What both have.
pub(crate) fn common(a: Interval, b: Interval) -> Option<Interval> {
    let both = [a[0].max(b[0]), a[1].min(b[1])];
    (both[0] < both[1]).then_some(both)
}

/// A box of the sheet's own frame: a strip right across it.
pub(crate) fn strip(lo: DVec2, hi: DVec2, z: Interval) -> [DVec3; 2] {
    [lo.extend(z[0]), hi.extend(z[1])]
}

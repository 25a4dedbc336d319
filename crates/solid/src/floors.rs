//! Level faces of a plate: neighbouring cells of one height together, and the loops around them.
use crate::error::Error;
use crate::plate_shell::Span;
use plate::Sets;
use plate::{Arrangement, Segment};
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// One level face.
pub(crate) struct Floor {
    pub(crate) level: usize,
    /// Whether the material is below the face.
    pub(crate) faces_up: bool,
    /// Loops with the face on their left seen from above; the outer one is the first.
    pub(crate) loops: Vec<Vec<HalfEdge>>,
}

/// An edge of the arrangement, along or against its direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct HalfEdge {
    pub(crate) edge: usize,
    pub(crate) forward: bool,
}

impl HalfEdge {
    /// The corners it leaves and reaches.
    pub(crate) fn ends(self, arrangement: &Arrangement) -> [usize; 2] {
        let [start, end] = arrangement.edges[self.edge].ends;
        if self.forward { [start, end] } else { [end, start] }
    }

    fn segment(self, arrangement: &Arrangement) -> Segment {
        let segment = arrangement.segment(&arrangement.edges[self.edge]);
        if self.forward { segment } else { segment.reversed() }
    }
}

/// All level faces that look up, then all that look down.
pub(crate) fn floors(
    arrangement: &Arrangement,
    cells: &[Option<Span>],
    levels: &[f64],
) -> Result<Vec<Floor>, Error> {
    let mut floors = Vec::new();
    for faces_up in [true, false] {
        let level_of = |cell: usize| cells[cell].map(|span| span[usize::from(faces_up)]);
        for (cell, halves) in half_edges_around(arrangement, level_of) {
            let level =
                level_of(cell).expect("only cells with material have half-edges around them");
            let loops =
                outer_first(arrangement, loops(arrangement, &halves)).ok_or(Error::OpenFloor {
                    at: halves[0].segment(arrangement).start,
                    height_mm: levels[level],
                })?;
            floors.push(Floor { level, faces_up, loops });
        }
    }
    Ok(floors)
}

/// For every region of cells of one level that touch: the half-edges around it, region on the left.
fn half_edges_around(
    arrangement: &Arrangement,
    level_of: impl Fn(usize) -> Option<usize>,
) -> BTreeMap<usize, Vec<HalfEdge>> {
    let inside =
        |left: usize, right: usize| level_of(left).is_some() && level_of(left) == level_of(right);
    let mut regions = Sets::new(arrangement.cells.len());
    for edge in arrangement.edges.iter().filter(|e| inside(e.left, e.right)) {
        regions.join(edge.left, edge.right);
    }
    let mut around: BTreeMap<usize, Vec<HalfEdge>> = BTreeMap::new();
    for (i, edge) in arrangement.edges.iter().enumerate().filter(|(_, e)| !inside(e.left, e.right))
    {
        for (cell, forward) in [(edge.left, true), (edge.right, false)] {
            if level_of(cell).is_some() {
                around.entry(regions.find(cell)).or_default().push(HalfEdge { edge: i, forward });
            }
        }
    }
    around
}

/// Loops in which no corner is met twice. Where a region touches itself in a corner, its walk around
/// passes there twice and is cut in two.
fn loops(arrangement: &Arrangement, halves: &[HalfEdge]) -> Vec<Vec<HalfEdge>> {
    let mut leaving: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, half) in halves.iter().enumerate() {
        leaving.entry(half.ends(arrangement)[0]).or_default().push(i);
    }
    let mut used = vec![false; halves.len()];
    let mut loops = Vec::new();
    for first in 0..halves.len() {
        let mut path: Vec<HalfEdge> = Vec::new();
        let mut next = Some(first);
        while let Some(i) = next.filter(|&i| !std::mem::replace(&mut used[i], true)) {
            path.push(halves[i]);
            let head = halves[i].ends(arrangement)[1];
            let onwards = leaving.get(&head).map_or(&[][..], Vec::as_slice);
            if onwards.len() > 1
                && let Some(k) = path.iter().position(|half| half.ends(arrangement)[0] == head)
            {
                loops.push(path.split_off(k));
            }
            next = next_around(arrangement, halves, halves[i], onwards);
        }
        if !path.is_empty() {
            loops.push(path);
        }
    }
    loops
}

/// Of the half-edges that leave the head of `arriving`, the one that bounds the same sector: the
/// first one clockwise from the way back. Directions are compared where the edges cross a circle of
/// half the shortest chord: there tangent ones have parted.
fn next_around(
    arrangement: &Arrangement,
    halves: &[HalfEdge],
    arriving: HalfEdge,
    onwards: &[usize],
) -> Option<usize> {
    if onwards.len() <= 1 {
        return onwards.first().copied();
    }
    let back = arriving.segment(arrangement).reversed();
    let segments: Vec<Segment> = onwards.iter().map(|&i| halves[i].segment(arrangement)).collect();
    let chord = |s: &Segment| s.start.distance(s.end);
    let radius = 0.5 * segments.iter().map(chord).fold(chord(&back), f64::min);
    let clockwise = |s: &Segment| (back.heading(radius) - s.heading(radius)).rem_euclid(TAU);
    let nearest =
        segments.iter().enumerate().min_by(|a, b| clockwise(a.1).total_cmp(&clockwise(b.1)));
    nearest.map(|(k, _)| onwards[k])
}

/// The loops with the only one that encloses area first, or `None` if they do not close or there is
/// no such only one.
fn outer_first(
    arrangement: &Arrangement,
    mut loops: Vec<Vec<HalfEdge>>,
) -> Option<Vec<Vec<HalfEdge>>> {
    let closes = |halves: &Vec<HalfEdge>| {
        let ends = |k: usize| halves[k % halves.len()].ends(arrangement);
        (0..halves.len()).all(|k| ends(k)[1] == ends(k + 1)[0])
    };
    let is_outer = |halves: &Vec<HalfEdge>| signed_area(arrangement, halves) > 0.0;
    let outer = loops.iter().position(is_outer)?;
    let only = loops.iter().filter(|l| is_outer(l)).count() == 1;
    loops.swap(0, outer);
    (only && loops.iter().all(closes)).then_some(loops)
}

fn signed_area(arrangement: &Arrangement, halves: &[HalfEdge]) -> f64 {
    let segments = halves.iter().map(|half| half.segment(arrangement));
    let origin = arrangement.corners[halves[0].ends(arrangement)[0]];
    let double: f64 = segments.map(|segment| segment.double_area(origin)).sum();
    0.5 * double
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec2;

    /// Directions about a corner are compared by `Segment::heading`; a change of its meaning would
    /// break the walk around a region that touches itself.
    #[test]
    fn heading_turns_counter_clockwise() {
        let heading = |end: DVec2| Segment::line(DVec2::ZERO, end).heading(0.1);
        assert!(heading(DVec2::X) < heading(DVec2::ONE) && heading(DVec2::ONE) < heading(DVec2::Y));
    }
}

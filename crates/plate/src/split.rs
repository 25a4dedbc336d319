//! Contours cut at every place where they meet, equal pieces joined into one edge.

use std::collections::HashMap;

use glam::DVec2;

use crate::boxes::Boxes;
use crate::error::Error;
use crate::meet::meeting_points;
use crate::segment::Segment;
use crate::tolerance::Tolerance;

/// A piece of one or more contours between two corners; nothing else touches it between them.
#[derive(Clone, Debug)]
pub(crate) struct RawEdge {
    /// Indices of its corners.
    pub(crate) ends: [usize; 2],
    /// From the first end to the second.
    pub(crate) segment: Segment,
    /// For each contour here: how many times more it goes round the left side than the right.
    pub(crate) steps: Vec<(usize, i32)>,
}

/// Corners and edges of all contours together. Contours run counter-clockwise.
///
/// Nothing is remembered of who met whom: every piece is cut at every corner that lies on it. So
/// lines and arcs that overlap need no code of their own, they become twins and are joined.
pub(crate) fn split_contours(
    contours: &[Vec<Segment>],
    tol: &Tolerance,
) -> Result<(Vec<DVec2>, Vec<RawEdge>), Error> {
    let pieces: Vec<(usize, Segment)> =
        contours.iter().enumerate().flat_map(|(i, c)| c.iter().map(move |s| (i, *s))).collect();
    let corners = corners(&pieces, tol)?;
    let boxes = Boxes::new(corners.iter().map(|&p| [p, p]));
    refuse_close_corners(&corners, &boxes, tol)?;

    let mut edges: Vec<RawEdge> = Vec::new();
    // Only looked up by key, so its order decides nothing.
    let mut between: HashMap<[usize; 2], Vec<usize>> = HashMap::new();
    for &(contour, piece) in &pieces {
        let stops = corners_on(&piece, &corners, &boxes, tol)?;
        for pair in stops.windows(2) {
            let ((a, t_a), (b, t_b)) = (pair[0], pair[1]);
            let segment = part(&piece, corners[a], corners[b], t_b - t_a);
            let same_ends = between.entry([a.min(b), a.max(b)]).or_default();
            let twin = twin_of(&segment, same_ends, &edges, tol)?;
            let index = twin.unwrap_or_else(|| {
                edges.push(RawEdge { ends: [a, b], segment, steps: Vec::new() });
                same_ends.push(edges.len() - 1);
                edges.len() - 1
            });
            let edge = &mut edges[index];
            add_step(&mut edge.steps, contour, if edge.ends == [a, b] { 1 } else { -1 });
        }
    }
    edges.retain(|e| !e.steps.is_empty());
    Ok((corners, edges))
}

/// Ends of all pieces, then all points where pieces meet; points within `same` of an earlier one
/// are that one.
fn corners(pieces: &[(usize, Segment)], tol: &Tolerance) -> Result<Vec<DVec2>, Error> {
    let mut points = Points::new(tol.same);
    for (_, piece) in pieces {
        points.add(piece.start);
    }
    let boxes: Vec<_> = pieces.iter().map(|(_, s)| s.bounds()).collect();
    let tree = Boxes::new(boxes.iter().copied());
    for (i, (_, piece)) in pieces.iter().enumerate() {
        let mut near = tree.within(boxes[i], tol.near_miss);
        near.retain(|&j| j > i);
        near.sort_unstable();
        for j in near {
            for p in meeting_points(piece, &pieces[j].1, tol)? {
                points.add(p);
            }
        }
    }
    Ok(points.all)
}

/// Points of which no two are the same, found again by a grid of the size of `same`.
struct Points {
    same: f64,
    all: Vec<DVec2>,
    // Only looked up by key, so its order decides nothing.
    buckets: HashMap<[i64; 2], Vec<usize>>,
}

impl Points {
    fn new(same: f64) -> Self {
        Self { same, all: Vec::new(), buckets: HashMap::new() }
    }

    fn add(&mut self, p: DVec2) {
        let [x, y] = (p / self.same).floor().as_i64vec2().to_array();
        let near = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| [x, y]));
        let mut known = near.filter_map(|key| self.buckets.get(&key)).flatten();
        if !known.any(|&i| p.distance(self.all[i]) <= self.same) {
            self.buckets.entry([x, y]).or_default().push(self.all.len());
            self.all.push(p);
        }
    }
}

fn refuse_close_corners(corners: &[DVec2], boxes: &Boxes, tol: &Tolerance) -> Result<(), Error> {
    for (i, &p) in corners.iter().enumerate() {
        for j in boxes.within([p, p], tol.near_miss) {
            let gap_mm = p.distance(corners[j]);
            if i != j && gap_mm < tol.near_miss {
                return Err(Error::NearMiss { at: p, gap_mm, least_mm: tol.near_miss });
            }
        }
    }
    Ok(())
}

/// Corners on a piece with their parameters, in order.
fn corners_on(
    piece: &Segment,
    corners: &[DVec2],
    boxes: &Boxes,
    tol: &Tolerance,
) -> Result<Vec<(usize, f64)>, Error> {
    let mut stops = Vec::new();
    for i in boxes.within(piece.bounds(), tol.near_miss) {
        let gap_mm = piece.distance(corners[i]);
        if gap_mm <= 2.0 * tol.same {
            stops.push((i, piece.parameter(corners[i])));
        } else if gap_mm < tol.near_miss {
            return Err(Error::NearMiss { at: corners[i], gap_mm, least_mm: tol.near_miss });
        }
    }
    stops.sort_by(|a, b| a.1.total_cmp(&b.1));
    Ok(stops)
}

/// The part of `piece` between two corners on it, `share` of its whole length.
fn part(piece: &Segment, start: DVec2, end: DVec2, share: f64) -> Segment {
    let arc = piece.arc.map(|mut arc| {
        arc.sweep *= share;
        arc
    });
    Segment { start, end, arc }
}

/// The edge that `segment` repeats, among those with the same ends.
fn twin_of(
    segment: &Segment,
    candidates: &[usize],
    edges: &[RawEdge],
    tol: &Tolerance,
) -> Result<Option<usize>, Error> {
    for &i in candidates {
        let gap_mm = segment.midpoint().distance(edges[i].segment.midpoint());
        if gap_mm <= 4.0 * tol.same {
            return Ok(Some(i));
        } else if gap_mm < tol.near_miss {
            let at = segment.midpoint();
            return Err(Error::NearMiss { at, gap_mm, least_mm: tol.near_miss });
        }
    }
    Ok(None)
}

fn add_step(steps: &mut Vec<(usize, i32)>, contour: usize, step: i32) {
    match steps.iter().position(|s| s.0 == contour) {
        Some(i) if steps[i].1 + step == 0 => drop(steps.swap_remove(i)),
        Some(i) => steps[i].1 += step,
        None => steps.push((contour, step)),
    }
}

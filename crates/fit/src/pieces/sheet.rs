//! Sheets: prisms over the convex pieces of their cells.

use glam::{DVec2, Vec2Swizzles};
use plate::{Arrangement, Edge, Interval};

use super::fill::{Filled, common, filled, holds, strip, union};
use super::outline::{around_arc, on_arc};
use super::sweep::{Between, Column, Crossing, Side, columns};
use super::{COARSE_CHORD_MM, FINE_CHORD_MM, NARROW_MM, Occupants, Openings, chord_error};
use crate::convex::Convex;

/// Heights that occur, numbered from 1; 0 is nothing.
#[derive(Default)]
struct Heights(Vec<Interval>);

impl Heights {
    fn number(&mut self, height: Option<Interval>) -> usize {
        let Some(height) = height else { return 0 };
        let is_same = |known: &Interval| known.map(f64::to_bits) == height.map(f64::to_bits);
        let at = self.0.iter().position(is_same).unwrap_or_else(|| {
            self.0.push(height);
            self.0.len() - 1
        });
        at + 1
    }

    fn of(&self, number: usize) -> Option<Interval> {
        number.checked_sub(1).map(|at| self.0[at])
    }
}

pub(crate) fn fine(arrangement: &Arrangement) -> Vec<Convex> {
    let mut heights = Heights::default();
    let cells: Vec<usize> = arrangement.cells.iter().map(|h| heights.number(*h)).collect();
    // Chords of a crowded sheet that cross are told apart by finer ones.
    let errors = (0..8_i32).map(|halvings| FINE_CHORD_MM / f64::from(1 << halvings));
    let cut = errors.into_iter().find_map(|error| {
        let sides = sides(arrangement, &cells, |edge| on_arc(&arrangement.segment(edge), error));
        fewest(&sides, &|between, _| between.what).ok()
    });
    prisms(cut, &heights, arrangement)
}

pub(crate) fn coarse(
    arrangement: &Arrangement,
    openings: Openings,
    occupants: Occupants<'_>,
) -> Vec<Convex> {
    let filled = filled(arrangement, openings, occupants);
    let mut heights = Heights::default();
    let cells: Vec<usize> = filled.heights.iter().map(|h| heights.number(*h)).collect();
    // What a gap between two heights becomes: it must have a number before the sweep.
    let n = heights.0.len();
    for a in 0..n {
        for b in 0..n {
            heights.number(common(heights.0[a], heights.0[b]));
        }
    }
    let gaps = Gaps::new(arrangement, &heights, openings, occupants);
    let errors = (0..8_i32).map(|halvings| 1.0 / f64::from(1 << halvings));
    let cut = errors.into_iter().find_map(|share| {
        let line = |edge: &Edge| arc_for_planning(arrangement, &filled, edge, share);
        let sides = sides(arrangement, &cells, line);
        fewest(&sides, &|between, is_turned| gaps.becomes(between, is_turned)).ok()
    });
    prisms(cut, &heights, arrangement)
}

/// Corners along an edge such that what is higher never loses.
fn arc_for_planning(
    arrangement: &Arrangement,
    filled: &Filled,
    edge: &Edge,
    share: f64,
) -> Vec<DVec2> {
    let segment = arrangement.segment(edge);
    let is_left_inside = edge.arc.is_some_and(|arc| arc.sweep > 0.0);
    let (inside, outside) =
        if is_left_inside { (edge.left, edge.right) } else { (edge.right, edge.left) };
    let is_post = match (filled.heights[inside], filled.heights[outside]) {
        (Some(inside), Some(outside)) => holds(inside, outside),
        (inside, _) => inside.is_some(),
    };
    match (is_post, segment.arc, segment.radius()) {
        (false, Some(arc), Some(radius)) => {
            let beside = [&filled.within[inside], &filled.within[outside]];
            let within = beside.into_iter().find(|w| !w.is_empty()).map_or(&[][..], |w| w);
            on_arc(&segment, share * chord_error(arc.centre, radius, within))
        }
        _ => around_arc(&segment, share * COARSE_CHORD_MM),
    }
}

/// All sides between cells of different numbers.
fn sides(
    arrangement: &Arrangement,
    cells: &[usize],
    line: impl Fn(&Edge) -> Vec<DVec2>,
) -> Vec<Side> {
    let differing = arrangement.edges.iter().filter(|e| cells[e.left] != cells[e.right]);
    differing
        .flat_map(|edge| {
            let corners = line(edge);
            let side = |w: &[DVec2]| Side {
                start: w[0],
                end: w[1],
                left: cells[edge.left],
                right: cells[edge.right],
            };
            corners.windows(2).map(side).collect::<Vec<_>>()
        })
        .collect()
}

/// Corners of every piece and the number of its height; of two sweeps the one with fewer pieces.
fn fewest(
    sides: &[Side],
    becomes: &dyn Fn(&Between, bool) -> usize,
) -> Result<Vec<(usize, Vec<DVec2>)>, Crossing> {
    let corners = |column: &Column| (column.what, column.corners());
    let upwards = columns(sides, &|between| becomes(between, false))?;
    let turned: Vec<Side> = sides.iter().map(|side| side.transposed()).collect();
    let across = columns(&turned, &|between| becomes(between, true))?;
    if upwards.len() <= across.len() {
        return Ok(upwards.iter().map(corners).collect());
    }
    let back = |(what, corners): (usize, Vec<DVec2>)| {
        (what, corners.into_iter().rev().map(|p| p.yx()).collect())
    };
    Ok(across.iter().map(corners).map(back).collect())
}

/// Gaps between teeth.
struct Gaps<'a> {
    heights: &'a Heights,
    box_2d: [DVec2; 2],
    whole: Interval,
    openings: Openings,
    occupants: Occupants<'a>,
}

impl<'a> Gaps<'a> {
    fn new(
        arrangement: &Arrangement,
        heights: &'a Heights,
        openings: Openings,
        occupants: Occupants<'a>,
    ) -> Self {
        let start = [DVec2::INFINITY, DVec2::NEG_INFINITY];
        let boxes = arrangement.edges.iter().map(|edge| arrangement.segment(edge).bounds());
        let box_2d = boxes.fold(start, |a, b| [a[0].min(b[0]), a[1].max(b[1])]);
        let whole = heights.0.iter().copied().reduce(union).unwrap_or([0.0; 2]);
        Self { heights, box_2d, whole, openings, occupants }
    }

    /// A narrow gap between two walls is filled to what both have, unless something is anywhere in the strip that
    /// it lies in.
    fn becomes(&self, between: &Between, is_turned: bool) -> usize {
        let [left, right] = between.beside.map(|number| self.heights.of(number));
        let (0, Some(left), Some(right)) = (between.what, left, right) else {
            return between.what;
        };
        if between.width >= NARROW_MM || matches!(self.openings, Openings::Stay(_)) {
            return 0;
        }
        let ([mut lo, mut hi], [from, to]) = (self.box_2d, between.x);
        if is_turned {
            (lo.y, hi.y) = (from, to);
        } else {
            (lo.x, hi.x) = (from, to);
        }
        if !(self.occupants)(strip(lo, hi, self.whole)).is_empty() {
            return 0;
        }
        let filled = common(left, right);
        let is_filled = |known: &Interval| Some(*known) == filled;
        self.heights.0.iter().position(is_filled).map_or(0, |at| at + 1)
    }
}

fn prisms(
    cut: Option<Vec<(usize, Vec<DVec2>)>>,
    heights: &Heights,
    arrangement: &Arrangement,
) -> Vec<Convex> {
    let Some(cut) = cut else {
        // Not met on any of the random plates of the tests; the box around it is never too small.
        let corners = arrangement.corners.iter().copied();
        let start = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        let boxes = arrangement.edges.iter().map(|edge| arrangement.segment(edge).bounds());
        let (lo, hi) = boxes
            .chain(corners.map(|p| [p, p]))
            .fold(start, |(lo, hi), b| (lo.min(b[0]), hi.max(b[1])));
        let whole = heights.0.iter().copied().reduce(union).unwrap_or([0.0; 2]);
        return vec![Convex::block(strip(lo, hi, whole))];
    };
    let prism = |(number, corners): &(usize, Vec<DVec2>)| {
        let [bottom, top] = heights.of(*number)?;
        let at = |z: f64| corners.iter().map(move |p| p.extend(z));
        Some(Convex::new(at(bottom).chain(at(top)).collect()))
    };
    cut.iter().filter_map(prism).collect()
}

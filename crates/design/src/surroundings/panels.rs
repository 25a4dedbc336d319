//! Panels of the cabinet: floor, ceiling, and walls with their openings.

use glam::{DVec2, DVec3, dvec2, dvec3};
use params::{CabinetOpening, CabinetSide};
use plate::{Contour, Cut, Plate, Shape};

use super::pipes_above::PipeAbove;
use super::{Frame, Opening, SurroundingKind, Things};
use crate::frame::pose;

/// Openings that end at an edge of their panel are cut this far beyond it, mm.
const BEYOND_MM: f64 = 5.0;
/// Lengths that are this close are the same, mm.
const SAME_MM: f64 = 1e-6;
/// Room around a pipe that passes the ceiling, each side; common practice.
const PIPE_ROOM_MM: f64 = 3.0;

/// Adds the panels. Floor and ceiling lie over and under all walls, ends reach over front and back.
pub(super) fn add(things: &mut Things, frame: &Frame<'_>, pipes: &[PipeAbove]) -> Vec<Opening> {
    let ([lo, hi], t) = (frame.inside, frame.panel_mm);
    let out = dvec3(t, t, 0.0);
    let floor = [lo - out - t * DVec3::Z, (hi + out).with_z(lo.z)];
    things.block(SurroundingKind::Panel, "cabinet floor", "cabinet.inside", floor);
    if frame.spec.ceiling {
        ceiling(things, frame, pipes);
    }
    let mut openings = Vec::new();
    for side in [CabinetSide::Front, CabinetSide::Back, CabinetSide::InletEnd, CabinetSide::FarEnd]
    {
        let wall = Wall::new(frame, side);
        let mut gaps = Vec::new();
        for (i, spec) in frame.spec.opening.iter().enumerate().filter(|(_, o)| o.side == side) {
            let gap = wall.gap(spec);
            openings.push(wall.opening(gap, format!("cabinet.opening[{i}]")));
            gaps.push(gap);
        }
        wall.add(things, &gaps);
    }
    openings
}

/// The ceiling, with a hole around every pipe that comes down through it.
fn ceiling(things: &mut Things, frame: &Frame<'_>, pipes: &[PipeAbove]) {
    let ([lo, hi], t) = (frame.inside, frame.panel_mm);
    let corner = lo.truncate() - t;
    let size = hi.truncate() + t - corner;
    let mut plate = Plate::new(Contour::rectangle(DVec2::ZERO, size), t);
    for pipe in pipes {
        let (middle, r) = (pipe.middle - corner, 0.5 * pipe.diameter_mm + PIPE_ROOM_MM);
        if middle.cmpgt(DVec2::splat(r)).all() && middle.cmplt(size - r).all() {
            plate.cuts.push(Cut::through(Contour::circle(middle, r)));
        }
    }
    things.add(
        SurroundingKind::Panel,
        "cabinet ceiling",
        "cabinet.ceiling",
        Shape::Sheet(plate),
        pose(DVec3::X, DVec3::Y, corner.extend(hi.z)),
    );
}

/// A wall in a frame of its own: along it in the sump's x or y, and upwards, from the corner of the
/// cabinet's inside at inlet end, front and floor.
struct Wall {
    side: CabinetSide,
    name: &'static str,
    /// The sump's direction along it, and out of the cabinet.
    along: DVec3,
    out: DVec3,
    /// Its inner face at the origin of its frame.
    origin: DVec3,
    /// Size of the cabinet's inside at it.
    inside: DVec2,
    /// How far it reaches beyond that at either end, over the walls beside it.
    over_mm: f64,
    thickness_mm: f64,
}

/// Least and greatest corner of a rectangle in the frame of a wall.
type Rectangle = [DVec2; 2];

impl Wall {
    fn new(frame: &Frame<'_>, side: CabinetSide) -> Self {
        let [lo, hi] = frame.inside;
        let (name, along, out, origin) = match side {
            CabinetSide::Front => ("front", DVec3::X, DVec3::NEG_Y, lo),
            CabinetSide::Back => ("back", DVec3::X, DVec3::Y, lo.with_y(hi.y)),
            CabinetSide::InletEnd => ("inlet end", DVec3::Y, DVec3::NEG_X, lo),
            CabinetSide::FarEnd => ("far end", DVec3::Y, DVec3::X, lo.with_x(hi.x)),
        };
        let is_end = along == DVec3::Y;
        Self {
            side,
            name,
            along,
            out,
            origin,
            inside: dvec2((hi - lo).dot(along), hi.z - lo.z),
            over_mm: if is_end { frame.panel_mm } else { 0.0 },
            thickness_mm: frame.panel_mm,
        }
    }

    fn gap(&self, spec: &CabinetOpening) -> Rectangle {
        let mm = units::Length::to_mm;
        let lo = dvec2(spec.from.map_or(0.0, mm), spec.bottom.to_mm());
        [lo, dvec2(spec.to.map_or(self.inside.x, mm), spec.top.map_or(self.inside.y, mm))]
    }

    fn opening(&self, gap: Rectangle, parameter: String) -> Opening {
        let at = |p: DVec2| self.origin + p.x * self.along + p.y * DVec3::Z;
        let corners = [at(gap[0]), at(gap[1]) + self.thickness_mm * self.out];
        Opening {
            parameter,
            side: self.side,
            out: self.out,
            gap: [corners[0].min(corners[1]), corners[0].max(corners[1])],
        }
    }

    /// Adds what the gaps leave of the wall: one panel, none, or several pieces.
    fn add(&self, things: &mut Things, gaps: &[Rectangle]) {
        // What reaches over the walls beside it goes with an opening only where that takes the whole wall.
        let is_whole = |[lo, hi]: &Rectangle| {
            lo.max_element() <= SAME_MM && (self.inside - *hi).max_element() <= SAME_MM
        };
        if gaps.iter().any(is_whole) {
            return;
        }
        let whole = [dvec2(-self.over_mm, 0.0), dvec2(self.inside.x + self.over_mm, self.inside.y)];
        let pieces = pieces(whole, gaps);
        for cells in &pieces {
            let Some(outline) = cells.iter().copied().reduce(around) else { continue };
            let others = pieces.iter().filter(|other| *other != cells).flatten();
            let cuts = gaps.iter().chain(others).filter_map(|&cut| cut_in(outline, cut));
            self.add_panel(things, outline, cuts);
        }
    }

    fn add_panel(
        &self,
        things: &mut Things,
        [lo, hi]: Rectangle,
        cuts: impl Iterator<Item = Rectangle>,
    ) {
        let mut plate = Plate::new(Contour::rectangle(DVec2::ZERO, hi - lo), self.thickness_mm);
        plate.cuts.extend(cuts.map(|[a, c]| Cut::through(Contour::rectangle(a - lo, c - lo))));
        // The sheet lies on the inner face or ends at it, whichever way its own z runs.
        let runs_out = self.along.cross(DVec3::Z).dot(self.out) > 0.0;
        let back = if runs_out { 0.0 } else { self.thickness_mm };
        let corner = self.origin + lo.x * self.along + lo.y * DVec3::Z + back * self.out;
        things.add(
            SurroundingKind::Panel,
            format!("cabinet {} wall", self.name),
            "cabinet.panel",
            Shape::Sheet(plate),
            pose(self.along, DVec3::Z, corner),
        );
    }
}

fn around(a: Rectangle, b: Rectangle) -> Rectangle {
    [a[0].min(b[0]), a[1].max(b[1])]
}

/// A cut as far as it lies in the outline, and beyond it where it is open at an edge.
fn cut_in([lo, hi]: Rectangle, [from, to]: Rectangle) -> Option<Rectangle> {
    let (a, c) = (from.max(lo), to.min(hi));
    let beyond = |is_open: bool| if is_open { BEYOND_MM } else { 0.0 };
    let out_lo = dvec2(beyond(a.x <= lo.x + SAME_MM), beyond(a.y <= lo.y + SAME_MM));
    let out_hi = dvec2(beyond(c.x >= hi.x - SAME_MM), beyond(c.y >= hi.y - SAME_MM));
    (c - a).cmpgt(DVec2::splat(SAME_MM)).all().then_some([a - out_lo, c + out_hi])
}

/// What gaps leave of a rectangle, as pieces that do not touch, each made of cells of the grid that all edges
/// together make.
fn pieces(whole: Rectangle, gaps: &[Rectangle]) -> Vec<Vec<Rectangle>> {
    let lines = |axis: usize| {
        let mut at: Vec<f64> = whole.iter().chain(gaps.iter().flatten()).map(|p| p[axis]).collect();
        at.retain(|x| (whole[0][axis]..=whole[1][axis]).contains(x));
        at.sort_by(f64::total_cmp);
        at.dedup_by(|a, b| (*a - *b).abs() <= SAME_MM);
        at
    };
    let (xs, ys) = (lines(0), lines(1));
    let mut pieces: Vec<Vec<Rectangle>> = Vec::new();
    for x in xs.windows(2) {
        for y in ys.windows(2) {
            let cell = [dvec2(x[0], y[0]), dvec2(x[1], y[1])];
            let middle = 0.5 * (cell[0] + cell[1]);
            let is_in = |[lo, hi]: &Rectangle| middle.cmpge(*lo).all() && middle.cmple(*hi).all();
            if gaps.iter().any(is_in) {
                continue;
            }
            let mut joined = vec![cell];
            pieces.retain_mut(|piece| {
                let touches = piece.iter().any(|other| share_an_edge(*other, cell));
                if touches {
                    joined.append(piece);
                }
                !touches
            });
            pieces.push(joined);
        }
    }
    pieces
}

fn share_an_edge(a: Rectangle, b: Rectangle) -> bool {
    let shared = a[1].min(b[1]) - a[0].max(b[0]);
    shared.min_element() >= -SAME_MM && shared.max_element() > SAME_MM
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wall_falls_apart_where_openings_reach_from_edge_to_edge() {
        let whole = [DVec2::ZERO, dvec2(100.0, 50.0)];
        let through = [dvec2(40.0, 0.0), dvec2(60.0, 50.0)];
        let window = [dvec2(10.0, 10.0), dvec2(20.0, 20.0)];
        let corner = [DVec2::ZERO, dvec2(30.0, 30.0)];
        for (gaps, count) in [
            (vec![], 1),
            (vec![window], 1),
            (vec![corner], 1),
            (vec![through], 2),
            (vec![through, window], 2),
            (vec![whole], 0),
        ] {
            let pieces = pieces(whole, &gaps);
            assert_eq!(pieces.len(), count, "{gaps:?}");
            // The cells are what the gaps leave.
            let area = |[lo, hi]: &Rectangle| (*hi - *lo).element_product();
            let left: f64 = pieces.iter().flatten().map(area).sum();
            let cut: f64 = gaps.iter().map(area).sum();
            assert!((left - (5000.0 - cut)).abs() < 1e-9, "{gaps:?}: {left}");
        }
    }
}

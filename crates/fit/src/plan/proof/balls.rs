//! Solid balls in a part, and whether one of them is shut in.
//!
//! **The ball argument.** The middle of a ball of radius `r` that is material of the part keeps at least `r` away from
//! everything, however the part moves and turns. Let a closed box hold that middle in the part's place and not when the part is
//! outside. If every point of the box's surface is nearer than `r` to something fixed, the middle cannot cross it: there is
//! no way, whatever the motion. No panel need lie in the surface; what is passed over or under is looked at as it is.
//!
//! **Every point.** The distance to a convex body is a convex function, so that on a rectangle it is greatest in a
//! corner. A rectangle all of whose corners are nearer than `r` to one and the same convex piece is shut; others are halved
//! until they are, until one has a middle that keeps away, or until too many were looked at.

use glam::DVec3;

use super::cover::{Plane, around};
use super::discs::{Prism, inscribed};
use crate::convex::Convex;
use crate::nearest::nearest_below;
use crate::plan::body::Body;
use crate::plan::space::{Obstacle, Space};
use crate::world::ThingId;

/// Smaller balls are not looked at, mm: no cabinet is so tight, and sheets are shown to be shut in by their discs. Our
/// judgement; it costs proofs only.
const LEAST_RADIUS: f64 = 10.0;

/// How exactly the widest place is found, mm of radius; our judgement, far below what wood is cut to.
const EXACT: f64 = 0.02;

/// How many rectangles are looked at before a surface is given up; our judgement, for time. It costs proofs only.
const MOST_CELLS: usize = 3000;

/// A ball in one piece of a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ball {
    pub(super) middle: DVec3,
    pub(super) radius: f64,
}

/// The largest ball of the pieces that are prisms along an axis.
pub(super) fn ball(body: &Body) -> Option<Ball> {
    let in_piece = |points: &Vec<DVec3>, axis: usize| {
        let plane = Plane { axis, at: 0.0 };
        let prism = Prism::of(points, &plane)?;
        let [lo, hi] = around(&prism.base);
        let flat = (lo + hi) / 2.0;
        let radius = inscribed(&prism.base, flat).min(prism.thickness() / 2.0);
        let height = (prism.heights[0] + prism.heights[1]) / 2.0;
        Some(Ball { middle: plane.lifted(flat, height), radius })
    };
    let balls = body.whole.iter().flat_map(|p| (0..3).filter_map(move |axis| in_piece(p, axis)));
    let ball = balls.max_by(|a, b| a.radius.total_cmp(&b.radius))?;
    (LEAST_RADIUS < ball.radius).then_some(ball)
}

/// The widest place of a surface that a ball does not pass.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tight {
    /// No larger ball passes, mm; where not too much was to be looked at, by no more than [`EXACT`] too large.
    pub(super) radius: f64,
    /// Where.
    pub(super) at: DVec3,
}

/// The widest place in the surface of a box, if balls of `radius` pass it nowhere.
///
/// First it is only asked whether they do, which is soon told where much room is missing; how much there is, is asked then.
pub(super) fn shut(obstacles: &Near<'_>, corners: [DVec3; 2], radius: f64) -> Option<Tight> {
    let faces = faces(obstacles, corners);
    let mut open = faces.clone();
    let mut n_cells = 0;
    while let Some(cell) = open.pop() {
        if cell.most < radius {
            continue;
        }
        n_cells += 1;
        if radius <= obstacles.least_over(&[cell.middle()], &cell.near) || MOST_CELLS < n_cells {
            return None;
        }
        open.extend(cell.halved(obstacles));
    }
    Some(widest(obstacles, faces, radius))
}

/// The widest place in faces that balls of `radius` pass nowhere: always looking into the rectangle that promises most.
fn widest(obstacles: &Near<'_>, faces: Vec<Cell>, radius: f64) -> Tight {
    let mut open = faces;
    let mut best = Tight { radius: 0.0, at: DVec3::ZERO };
    let mut most = radius;
    for _ in 0..MOST_CELLS {
        let promising = (0..open.len()).max_by(|a, b| open[*a].most.total_cmp(&open[*b].most));
        let Some(cell) = promising.map(|k| open.swap_remove(k)) else { break };
        most = cell.most.min(most);
        if cell.most <= best.radius + EXACT {
            break;
        }
        let at = cell.middle();
        let free = obstacles.least_over(&[at], &cell.near);
        if best.radius < free {
            best = Tight { radius: free, at };
        }
        open.extend(cell.halved(obstacles));
    }
    Tight { radius: most, ..best }
}

fn faces(obstacles: &Near<'_>, [lo, hi]: [DVec3; 2]) -> Vec<Cell> {
    let all: Vec<usize> = (0..obstacles.pieces.len()).collect();
    let face = |k: usize| {
        let axis = k / 2;
        let at = [lo, hi][k % 2][axis];
        let [mut from, mut to] = [lo, hi];
        (from[axis], to[axis]) = (at, at);
        obstacles.cell(axis, [from, to], &all)
    };
    (0..6).map(face).collect()
}

/// A rectangle across an axis.
#[derive(Clone)]
struct Cell {
    axis: usize,
    corners: [DVec3; 2],
    /// No point of it is farther than this from everything.
    most: f64,
    /// The pieces that may be the nearest to any of its points.
    near: Vec<usize>,
}

impl Cell {
    fn middle(&self) -> DVec3 {
        (self.corners[0] + self.corners[1]) / 2.0
    }

    /// A rectangle halved the way that tells more; far from everything across its longer side.
    fn halved(&self, obstacles: &Near<'_>) -> [Self; 2] {
        let (axis, [lo, hi]) = (self.axis, self.corners);
        let [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
        let along = |across: usize| {
            let half = (lo[across] + hi[across]) / 2.0;
            let (mut end, mut begin) = (hi, lo);
            (end[across], begin[across]) = (half, half);
            [[lo, end], [begin, hi]].map(|half| obstacles.cell(axis, half, &self.near))
        };
        let size = hi - lo;
        let [longer, shorter] = if size[v] <= size[u] { [u, v] } else { [v, u] };
        let first = along(longer);
        // One that is thin already shows nothing new when it is made thinner.
        if size[u].min(size[v]) < EXACT {
            return first;
        }
        let second = along(shorter);
        let most = |way: &[Self; 2]| way[0].most.max(way[1].most);
        let sum = |way: &[Self; 2]| way[0].most + way[1].most;
        let order = most(&first).total_cmp(&most(&second));
        if order.then(sum(&first).total_cmp(&sum(&second))).is_le() { first } else { second }
    }
}

/// What is fixed, to be asked how far it is.
pub(super) struct Near<'a> {
    /// Each with whether it is a box along the axes. Boxes first, for they are soon told.
    pieces: Vec<(Obstacle<'a>, bool)>,
}

impl<'a> Near<'a> {
    pub(super) fn of(space: &Space<'a>) -> Self {
        let mut pieces: Vec<(Obstacle<'a>, bool)> =
            space.fixed.iter().map(|obstacle| (*obstacle, is_block(obstacle.piece))).collect();
        pieces.sort_by_key(|(_, is_block)| !is_block);
        Self { pieces }
    }

    fn cell(&self, axis: usize, corners: [DVec3; 2], of: &[usize]) -> Cell {
        let [lo, hi] = corners;
        let [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
        let corner = |i: usize| {
            let mut p = lo;
            p[u] = if i & 1 == 0 { lo[u] } else { hi[u] };
            p[v] = if i & 2 == 0 { lo[v] } else { hi[v] };
            p
        };
        let most = self.least_over(&[0, 1, 2, 3].map(corner), of);
        let is_near = |k: &usize| {
            let piece = self.pieces[*k].0.piece;
            let apart = (piece.min - hi).max(lo - piece.max).max(DVec3::ZERO);
            apart.length() <= most
        };
        Cell { axis, corners, most, near: of.iter().copied().filter(is_near).collect() }
    }

    /// The least, over some pieces, of the greatest distance that any of the points has.
    fn least_over(&self, points: &[DVec3], of: &[usize]) -> f64 {
        let mut least = f64::INFINITY;
        for (obstacle, is_block) in of.iter().map(|k| &self.pieces[*k]) {
            let box_gap = |p: &DVec3| p.distance(p.clamp(obstacle.piece.min, obstacle.piece.max));
            // Never farther than the piece: what is too far by this is too far.
            let mut most = points.iter().map(box_gap).fold(0.0, f64::max);
            if most < least && !is_block {
                for p in points {
                    // `None`: farther than what another piece is near.
                    let near = nearest_below(&[*p], &obstacle.piece.points, least);
                    most = most.max(near.map_or(least, |near| near.gap_mm));
                    if least <= most {
                        break;
                    }
                }
            }
            least = least.min(most);
        }
        least
    }

    /// The two things between which a place is tight: the nearest, and of those as near the one most across from it.
    pub(super) fn between(&self, tight: &Tight) -> Vec<ThingId> {
        /// As near as the nearest, mm.
        const AS_NEAR: f64 = 1.0;
        let mut sides: Vec<(f64, DVec3, ThingId)> = Vec::new();
        for (obstacle, _) in &self.pieces {
            let box_gap = tight.at.distance(tight.at.clamp(obstacle.piece.min, obstacle.piece.max));
            if tight.radius + AS_NEAR < box_gap {
                continue;
            }
            let most = tight.radius + AS_NEAR;
            if let Some(near) = nearest_below(&[tight.at], &obstacle.piece.points, most) {
                let towards = (near.points[1] - tight.at).normalize_or_zero();
                sides.push((near.gap_mm, towards, obstacle.thing));
            }
        }
        sides.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
        let Some(&(_, towards, first)) = sides.first() else { return Vec::new() };
        let across = sides
            .iter()
            .filter(|side| side.2 != first && side.1.dot(towards) < 0.0)
            .min_by(|a, b| a.1.dot(towards).total_cmp(&b.1.dot(towards)).then(a.2.cmp(&b.2)));
        std::iter::once(first).chain(across.map(|side| side.2)).collect()
    }
}

/// Whether a piece fills the box around it.
fn is_block(piece: &Convex) -> bool {
    let points = &piece.points;
    let at_corner = |p: &DVec3| (p.cmpeq(piece.min) | p.cmpeq(piece.max)).all();
    let is_new = |i: usize| points[i + 1..].iter().all(|p| *p != points[i]);
    points.len() == 8 && points.iter().all(at_corner) && (0..8).all(is_new)
}

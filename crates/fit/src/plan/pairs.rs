//! Which pieces of the part are not proved apart from which obstacles: at a pose, or while each of its points goes
//! straight from one pose to another.
//!
//! From coarse to fine: the box around the whole part, those around clusters of its pieces, the pieces.

use glam::{DMat3, DVec3};

use super::body::{Body, bounds};
use super::cluster::Block;
use super::separate::are_apart;
use super::space::Obstacle;
use crate::motion::Rigid;

/// A piece of the part, and an obstacle.
pub(super) type Pair = (u32, u32);

/// A pose of the part, or the hull of two.
pub(super) struct Chords {
    ends: [(DMat3, DVec3); 2],
    n: usize,
}

impl Chords {
    pub(super) fn at(pose: &Rigid) -> Self {
        let end = (DMat3::from_quat(pose.turn), pose.shift);
        Self { ends: [end; 2], n: 1 }
    }

    pub(super) fn between(a: &Rigid, b: &Rigid) -> Self {
        Self { ends: [a, b].map(|end| (DMat3::from_quat(end.turn), end.shift)), n: 2 }
    }

    fn ends(&self) -> &[(DMat3, DVec3)] {
        &self.ends[..self.n]
    }

    /// Points of the part at all ends.
    fn carry(&self, home: &[DVec3], to: &mut Vec<DVec3>) {
        to.clear();
        for (turn, shift) in self.ends() {
            to.extend(home.iter().map(|p| *turn * *p + *shift));
        }
    }

    /// The box along the sump's axes around a block at all ends, and `need` around that.
    fn around(&self, block: &Block, need: f64) -> [DVec3; 2] {
        let mut around = [DVec3::INFINITY, DVec3::NEG_INFINITY];
        for (turn, shift) in self.ends() {
            let middle = *turn * block.middle + *shift;
            let half = turn.x_axis.abs() * block.half.x
                + turn.y_axis.abs() * block.half.y
                + turn.z_axis.abs() * block.half.z
                + need;
            around = [around[0].min(middle - half), around[1].max(middle + half)];
        }
        around
    }
}

/// How many of the last hits are asked again first.
const RECENT: usize = 4;

/// All pairs, with what is remembered of them.
pub(super) struct Pairs<'a> {
    body: &'a Body,
    pub(super) obstacles: &'a [Obstacle<'a>],
    whole: Block,
    /// The directions that last proved apart from every obstacle: the whole part, every cluster, every piece.
    whole_axes: Vec<DVec3>,
    cluster_axes: Vec<DVec3>,
    axes: Vec<DVec3>,
    /// What was hit last is often hit again; the last one first.
    recent: [Option<Pair>; RECENT],
    /// Kept for their room only.
    points: Vec<DVec3>,
    near: Vec<u32>,
    nearer: Vec<u32>,
}

impl<'a> Pairs<'a> {
    pub(super) fn new(body: &'a Body, obstacles: &'a [Obstacle<'a>]) -> Self {
        let none = |n: usize| vec![DVec3::ZERO; n * obstacles.len()];
        Self {
            body,
            obstacles,
            whole: Block::around(body.bounds.into_iter()),
            whole_axes: none(1),
            cluster_axes: none(body.clusters.len()),
            axes: none(body.pieces.len()),
            recent: [None; RECENT],
            points: Vec::new(),
            near: Vec::new(),
            nearer: Vec::new(),
        }
    }

    /// Whether any pair is not proved `need` apart, among these or among all.
    pub(super) fn is_any_open(
        &mut self,
        chords: &Chords,
        need: f64,
        among: Option<&[Pair]>,
    ) -> bool {
        let Some(pairs) = among else {
            return self.is_recent_open(chords, need) || self.visit(chords, need, None);
        };
        self.open_among(chords, need, pairs, None)
    }

    /// Adds to `open` the pairs that are not proved `need` apart, among these or among all.
    pub(super) fn find_open(
        &mut self,
        chords: &Chords,
        need: f64,
        among: Option<&[Pair]>,
        open: &mut Vec<Pair>,
    ) {
        match among {
            Some(pairs) => self.open_among(chords, need, pairs, Some(open)),
            None => self.visit(chords, need, Some(open)),
        };
    }

    fn is_recent_open(&mut self, chords: &Chords, need: f64) -> bool {
        for k in 0..RECENT {
            let Some(pair) = self.recent[k] else { break };
            if self.open_among(chords, need, &[pair], None) {
                return true;
            }
        }
        false
    }

    /// With a list: adds to it what is open; without: stops at the first, and says whether there is one.
    fn open_among(
        &mut self,
        chords: &Chords,
        need: f64,
        pairs: &[Pair],
        mut open: Option<&mut Vec<Pair>>,
    ) -> bool {
        for run in pairs.chunk_by(|p, q| p.0 == q.0) {
            let Some(&(piece, _)) = run.first() else { continue };
            let obstacles = run.iter().map(|(_, o)| *o);
            if self.open_of_piece(piece, chords, need, obstacles, open.as_deref_mut()) {
                return true;
            }
        }
        false
    }

    /// The same for all pairs.
    fn visit(&mut self, chords: &Chords, need: f64, mut open: Option<&mut Vec<Pair>>) -> bool {
        let mut near = std::mem::take(&mut self.near);
        let mut nearer = std::mem::take(&mut self.nearer);
        near.clear();
        let all = (0u32..).take(self.obstacles.len());
        let body = self.body;
        let n = body.clusters.len();
        near_to(
            &self.whole,
            body.pieces.len() == 1,
            chords,
            need,
            self.obstacles,
            all,
            &mut self.whole_axes,
            &mut self.points,
            &mut near,
        );
        let mut is_stopped = false;
        'all: for (k, cluster) in body.clusters.iter().enumerate() {
            if near.is_empty() {
                break;
            }
            let here = if n == 1 {
                &near
            } else {
                nearer.clear();
                let axes =
                    &mut self.cluster_axes[k * self.obstacles.len()..][..self.obstacles.len()];
                let is_single = cluster.pieces.len() == 1;
                near_to(
                    &cluster.around,
                    is_single,
                    chords,
                    need,
                    self.obstacles,
                    near.iter().copied(),
                    axes,
                    &mut self.points,
                    &mut nearer,
                );
                &nearer
            };
            if here.is_empty() {
                continue;
            }
            for piece in &cluster.pieces {
                let around = chords.around(&body.blocks[*piece as usize], need);
                let meets = |o: &u32| meet(&around, self.obstacles[*o as usize]);
                let Some(first) = here.iter().position(meets) else { continue };
                let some = here[first..].iter().copied();
                if self.open_of_piece(*piece, chords, need, some, open.as_deref_mut()) {
                    is_stopped = true;
                    break 'all;
                }
            }
        }
        (self.near, self.nearer) = (near, nearer);
        is_stopped
    }

    fn open_of_piece(
        &mut self,
        piece: u32,
        chords: &Chords,
        need: f64,
        obstacles: impl Iterator<Item = u32>,
        mut open: Option<&mut Vec<Pair>>,
    ) -> bool {
        chords.carry(&self.body.pieces[piece as usize], &mut self.points);
        let [lo, hi] = bounds(self.points.iter().copied());
        let around = [lo - need, hi + need];
        let axes = &mut self.axes[piece as usize * self.obstacles.len()..];
        for o in obstacles {
            let obstacle = self.obstacles[o as usize];
            if !meet(&around, obstacle)
                || are_apart(&self.points, &obstacle.piece.points, need, &mut axes[o as usize])
            {
                continue;
            }
            match &mut open {
                Some(open) => open.push((piece, o)),
                None => {
                    self.remember((piece, o));
                    return true;
                }
            }
        }
        false
    }

    fn remember(&mut self, hit: Pair) {
        let place = self.recent.iter().position(|known| *known == Some(hit)).unwrap_or(RECENT - 1);
        self.recent[..=place].rotate_right(1);
        self.recent[0] = Some(hit);
    }
}

/// Whether a box meets that of an obstacle.
fn meet(around: &[DVec3; 2], obstacle: Obstacle<'_>) -> bool {
    around[0].cmplt(obstacle.piece.max).all() && around[1].cmpgt(obstacle.piece.min).all()
}

/// Adds to `near` those of some obstacles that a block, carried along, comes too near to. Where it is that of a single
/// piece only its box is looked at: the piece itself is looked at next.
#[expect(clippy::too_many_arguments, reason = "borrowed apart")]
fn near_to(
    block: &Block,
    is_single: bool,
    chords: &Chords,
    need: f64,
    obstacles: &[Obstacle<'_>],
    some: impl Iterator<Item = u32>,
    axes: &mut [DVec3],
    points: &mut Vec<DVec3>,
    near: &mut Vec<u32>,
) {
    let around = chords.around(block, need);
    points.clear();
    for o in some {
        let obstacle = obstacles[o as usize];
        if !meet(&around, obstacle) {
            continue;
        }
        if !is_single {
            if points.is_empty() {
                chords.carry(&block.corners(), points);
            }
            if are_apart(points, &obstacle.piece.points, need, &mut axes[o as usize]) {
                continue;
            }
        }
        near.push(o);
    }
}

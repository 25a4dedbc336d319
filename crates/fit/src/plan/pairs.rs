//! Which pieces of the part are not proved apart from which obstacles: at a pose, or while each of its points goes
//! straight from one pose to another.
//!
//! From coarse to fine: the box around the whole part, those around clusters of its pieces, the pieces.

use glam::{DMat3, DVec3};

use super::body::{Body, bounds};
use super::cloud::Cloud;
use super::cluster::{Block, clusters};
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
    fn carry(&self, home: &Cloud, to: &mut Cloud) {
        to.clear();
        for (turn, shift) in self.ends() {
            to.extend_moved(home, turn, *shift);
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

/// Obstacles that lie together: by number, from one to before another.
struct Group {
    from: u32,
    to: u32,
    bounds: [DVec3; 2],
    corners: Cloud,
}

impl Group {
    fn members(&self) -> std::ops::Range<u32> {
        self.from..self.to
    }
}

/// Obstacles in groups, in the order of these.
fn grouped<'a>(obstacles: &[Obstacle<'a>]) -> (Vec<Obstacle<'a>>, Vec<Group>) {
    let blocks: Vec<Block> =
        obstacles.iter().map(|obstacle| Block::around(obstacle.bounds().into_iter())).collect();
    let mut ordered = Vec::with_capacity(obstacles.len());
    let mut groups = Vec::new();
    let mut from = 0;
    for cluster in clusters(&blocks) {
        ordered.extend(cluster.pieces.iter().map(|k| obstacles[*k as usize]));
        let to = (0u32..).nth(ordered.len()).unwrap_or(from);
        let corners = cluster.around.corners();
        groups.push(Group {
            from,
            to,
            bounds: bounds(corners.iter().copied()),
            corners: Cloud::of(&corners),
        });
        from = to;
    }
    (ordered, groups)
}

/// Fewer obstacles of a group are looked at one by one.
const LEAST_RUN: usize = 3;

/// How many of the last hits are asked again first.
const RECENT: usize = 4;

/// All pairs, with what is remembered of them.
pub(super) struct Pairs<'a> {
    body: &'a Body,
    /// Those that lie together follow each other.
    pub(super) obstacles: Vec<Obstacle<'a>>,
    groups: Vec<Group>,
    /// Of every obstacle, which group it is in.
    group_of: Vec<u32>,
    /// The points of every piece, of every obstacle, and the corners around every cluster and the whole part.
    pieces: Vec<Cloud>,
    others: Vec<Cloud>,
    clusters: Vec<Cloud>,
    corners: Cloud,
    whole: Block,
    /// The directions that last proved apart from every obstacle: the whole part, every cluster, every piece.
    whole_axes: Vec<DVec3>,
    cluster_axes: Vec<DVec3>,
    axes: Vec<DVec3>,
    /// The same from every group, for every piece.
    group_axes: Vec<DVec3>,
    /// What was hit last is often hit again; the last one first.
    recent: [Option<Pair>; RECENT],
    /// Kept for their room only.
    points: Cloud,
    near: Vec<u32>,
    nearer: Vec<u32>,
}

impl<'a> Pairs<'a> {
    pub(super) fn new(body: &'a Body, obstacles: &'a [Obstacle<'a>]) -> Self {
        let (obstacles, groups) = grouped(obstacles);
        let none = |n: usize| vec![DVec3::ZERO; n * obstacles.len()];
        let group_of = (0u32..).zip(&groups).flat_map(|(k, group)| group.members().map(move |_| k));
        let whole = Block::around(body.bounds.into_iter());
        Self {
            body,
            group_of: group_of.collect(),
            group_axes: vec![DVec3::ZERO; body.pieces.len() * groups.len()],
            pieces: body.pieces.iter().map(|piece| Cloud::of(piece)).collect(),
            others: obstacles.iter().map(|obstacle| Cloud::of(&obstacle.piece.points)).collect(),
            clusters: body.clusters.iter().map(|c| Cloud::of(&c.around.corners())).collect(),
            corners: Cloud::of(&whole.corners()),
            whole,
            whole_axes: none(1),
            cluster_axes: none(body.clusters.len()),
            axes: none(body.pieces.len()),
            recent: [None; RECENT],
            points: Cloud::default(),
            near: Vec::new(),
            nearer: Vec::new(),
            obstacles,
            groups,
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
            let around = self.carry(piece, chords, need);
            let obstacles = run.iter().map(|(_, o)| *o);
            if self.open_of_piece(piece, around, need, obstacles, open.as_deref_mut()) {
                return true;
            }
        }
        false
    }

    /// The same for all pairs.
    fn visit(&mut self, chords: &Chords, need: f64, mut open: Option<&mut Vec<Pair>>) -> bool {
        let mut near = std::mem::take(&mut self.near);
        let mut nearer = std::mem::take(&mut self.nearer);
        let group_of = std::mem::take(&mut self.group_of);
        let group = |o: u32| group_of[o as usize];
        near.clear();
        let body = self.body;
        let around = chords.around(&self.whole, need);
        let all = self.groups.iter().filter(|group| meet(&around, &group.bounds));
        let all = all.flat_map(Group::members);
        let n = body.clusters.len();
        near_to(
            &self.whole,
            (body.pieces.len() > 1).then_some(&self.corners),
            chords,
            need,
            &self.obstacles,
            &self.others,
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
                near_to(
                    &cluster.around,
                    (cluster.pieces.len() > 1).then_some(&self.clusters[k]),
                    chords,
                    need,
                    &self.obstacles,
                    &self.others,
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
                let meets = |o: &u32| meet(&around, &self.obstacles[*o as usize].bounds());
                let Some(first) = here.iter().position(meets) else { continue };
                let around = self.carry(*piece, chords, need);
                for run in here[first..].chunk_by(|a, b| group(*a) == group(*b)) {
                    let is_far = run.len() >= LEAST_RUN && self.is_far(*piece, need, group(run[0]));
                    let run = run.iter().copied();
                    if !is_far && self.open_of_piece(*piece, around, need, run, open.as_deref_mut())
                    {
                        is_stopped = true;
                        break 'all;
                    }
                }
            }
        }
        (self.near, self.nearer, self.group_of) = (near, nearer, group_of);
        is_stopped
    }

    /// Takes a piece along, and gives the box around it and `need`.
    fn carry(&mut self, piece: u32, chords: &Chords, need: f64) -> [DVec3; 2] {
        chords.carry(&self.pieces[piece as usize], &mut self.points);
        let [lo, hi] = self.points.bounds();
        [lo - need, hi + need]
    }

    /// Whether the piece that was taken along is proved apart from a whole group.
    fn is_far(&mut self, piece: u32, need: f64, group: u32) -> bool {
        let k = group as usize;
        let axis = &mut self.group_axes[piece as usize * self.groups.len() + k];
        are_apart(&self.points, &self.groups[k].corners, need, axis)
    }

    /// The same for some pairs of the piece that was taken along.
    fn open_of_piece(
        &mut self,
        piece: u32,
        around: [DVec3; 2],
        need: f64,
        obstacles: impl Iterator<Item = u32>,
        mut open: Option<&mut Vec<Pair>>,
    ) -> bool {
        let axes = &mut self.axes[piece as usize * self.obstacles.len()..];
        for o in obstacles {
            let obstacle = self.obstacles[o as usize];
            if !meet(&around, &obstacle.bounds())
                || are_apart(&self.points, &self.others[o as usize], need, &mut axes[o as usize])
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

/// Whether two boxes meet.
fn meet(a: &[DVec3; 2], b: &[DVec3; 2]) -> bool {
    a[0].cmplt(b[1]).all() && a[1].cmpgt(b[0]).all()
}

/// Adds to `near` those of some obstacles that a block, carried along, comes too near to. Without its corners only
/// the box along the axes is looked at: a block of a single piece is looked at next anyway.
#[expect(clippy::too_many_arguments, reason = "borrowed apart")]
fn near_to(
    block: &Block,
    corners: Option<&Cloud>,
    chords: &Chords,
    need: f64,
    obstacles: &[Obstacle<'_>],
    others: &[Cloud],
    some: impl Iterator<Item = u32>,
    axes: &mut [DVec3],
    points: &mut Cloud,
    near: &mut Vec<u32>,
) {
    let around = chords.around(block, need);
    points.clear();
    for o in some {
        let obstacle = obstacles[o as usize];
        if !meet(&around, &obstacle.bounds()) {
            continue;
        }
        if let Some(corners) = corners {
            if points.is_empty() {
                chords.carry(corners, points);
            }
            if are_apart(points, &others[o as usize], need, &mut axes[o as usize]) {
                continue;
            }
        }
        near.push(o);
    }
}

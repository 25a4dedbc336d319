//! Motions proved free, without sampling.
//!
//! A point of a part under a [`Motion`] is accelerated by at most `ω² r`, where `ω` is the turn during the motion and `r` the
//! point's distance from the axis through the pivot. Over a stretch of it, it therefore stays within
//! `sag = (ω Δt)² r / 8` of the chord between where it begins and ends (the error of linear interpolation), and
//! that chord lies in the hull of the piece at both ends. So: when that hull is at least `sag + margin` from an
//! obstacle, the whole stretch is free of it. In a slide `sag` is 0 and the hull is exactly what is swept. A stretch
//! that is not proved is halved, with only the pairs that are still open, until it moves less than [`SHORTEST_MM`].

use std::collections::HashMap;

use glam::{DMat3, DVec3};

use super::MARGIN_MM;
use super::body::{Body, bounds};
use super::separate::are_apart;
use super::space::{Obstacle, Space};
use crate::motion::{Motion, Rigid};
use crate::world::ThingId;

/// A stretch that moves no point farther than this, mm, is not halved again.
const SHORTEST_MM: f64 = 0.02;

/// Beyond this turn the bound above is no use, and a stretch is halved before it is looked at.
const WIDEST_TURN: f64 = 0.8;

/// A piece of the part, and an obstacle.
type Pair = (u32, u32);

/// The part among its obstacles, with what is remembered between questions.
pub(crate) struct Sweep<'a> {
    pub(crate) space: &'a Space<'a>,
    pub(crate) body: &'a Body,
    obstacles: &'a [Obstacle<'a>],
    margin: f64,
    /// What was said of whole motions: plain moves from one place to many are asked about again and again.
    known: HashMap<[u64; 17], bool>,
    /// Corners of the box around the part in its place.
    corners: [DVec3; 8],
    /// For every obstacle the direction that last proved that box apart from it.
    box_axes: Vec<DVec3>,
    /// For every pair the direction that last proved it apart.
    axes: Vec<DVec3>,
    points: Vec<DVec3>,
    near: Vec<u32>,
    last_hit: Option<Pair>,
    /// How many stretches were looked at.
    pub(crate) steps: u64,
}

impl<'a> Sweep<'a> {
    /// Among what must not be touched, with [`MARGIN_MM`] around it.
    pub(crate) fn new(space: &'a Space<'a>, body: &'a Body) -> Self {
        Self::among(space, &space.obstacles, body, MARGIN_MM)
    }

    /// Among what had better not be touched.
    pub(crate) fn of_spared(space: &'a Space<'a>, body: &'a Body) -> Self {
        Self::among(space, &space.spared, body, MARGIN_MM)
    }

    fn among(
        space: &'a Space<'a>,
        obstacles: &'a [Obstacle<'a>],
        body: &'a Body,
        margin: f64,
    ) -> Self {
        let axes = vec![DVec3::ZERO; obstacles.len() * body.pieces.len()];
        let box_axes = vec![DVec3::ZERO; obstacles.len()];
        let [lo, hi] = body.bounds;
        let corners = [0u8, 1, 2, 3, 4, 5, 6, 7].map(|i| {
            let pick = |bit: u8, l: f64, h: f64| if i & bit == 0 { l } else { h };
            DVec3::new(pick(1, lo.x, hi.x), pick(2, lo.y, hi.y), pick(4, lo.z, hi.z))
        });
        let (points, near) = (Vec::new(), Vec::new());
        Self {
            space,
            body,
            obstacles,
            margin,
            corners,
            box_axes,
            axes,
            points,
            near,
            known: HashMap::new(),
            last_hit: None,
            steps: 0,
        }
    }

    /// Whether the part is free here.
    pub(crate) fn is_free_at(&mut self, at: &Rigid) -> bool {
        let mut open = Vec::new();
        self.open_pairs(at, None, self.margin, None, true, &mut open);
        open.is_empty()
    }

    /// What it is too near to here, each thing once.
    pub(crate) fn hits_at(&mut self, at: &Rigid) -> Vec<ThingId> {
        let mut open = Vec::new();
        self.open_pairs(at, None, self.margin, None, false, &mut open);
        self.things_of(&open)
    }

    /// What it comes too near to along a motion, or may come, as far as a few hulls tell; each thing once.
    pub(crate) fn hits_along(&mut self, motion: &Motion) -> Vec<ThingId> {
        const STRETCHES: u32 = 12;
        if self.obstacles.is_empty() {
            return Vec::new();
        }
        let n = if motion.angle() > 0.0 { STRETCHES } else { 1 };
        let share = |i: u32| f64::from(i) / f64::from(n);
        let mut open = Vec::new();
        for i in 0..n {
            let (from, to) = (motion.at(share(i)), motion.at(share(i + 1)));
            self.open_pairs(&from, Some(&to), self.margin, None, false, &mut open);
        }
        self.things_of(&open)
    }

    fn things_of(&self, pairs: &[Pair]) -> Vec<ThingId> {
        let thing = |pair: &Pair| self.obstacles[pair.1 as usize].thing;
        let mut things: Vec<ThingId> = pairs.iter().map(thing).collect();
        things.sort_unstable();
        things.dedup();
        things
    }

    /// Whether the whole motion is proved free.
    pub(crate) fn is_free(&mut self, motion: &Motion) -> bool {
        let name = name(motion);
        if let Some(known) = self.known.get(&name) {
            return *known;
        }
        let is_free = self.is_free_at(&motion.to) && self.proved(motion, true) >= 1.0;
        self.known.insert(name, is_free);
        is_free
    }

    /// Up to which share of it, from its begin, the motion is proved free; 0 also when its begin is not free.
    pub(crate) fn free_share(&mut self, motion: &Motion) -> f64 {
        self.proved(motion, false)
    }

    /// How far the part can slide along a unit vector, up to `most`.
    pub(crate) fn travel(&mut self, at: &Rigid, direction: DVec3, most: f64) -> f64 {
        most * self.free_share(&Motion::slide(*at, direction * most))
    }

    fn proved(&mut self, motion: &Motion, is_quick: bool) -> f64 {
        let angle = motion.angle();
        let reach = if angle > 0.0 {
            let turn = motion.from.turn.inverse() * motion.to.turn;
            self.body.reach(motion.pivot, turn.xyz().normalize_or_zero())
        } else {
            0.0
        };
        let stretch = Stretch { motion, angle, reach, distance: motion.distance(), is_quick };
        self.stretch(&stretch, 0.0, 1.0, None)
    }

    /// Up to where the stretch from `t0` to `t1` is proved free.
    fn stretch(&mut self, of: &Stretch<'_>, t0: f64, t1: f64, among: Option<&[Pair]>) -> f64 {
        let span = t1 - t0;
        let turn = of.angle * span;
        let is_wide = turn > WIDEST_TURN;
        let mut open = Vec::new();
        if !is_wide {
            let sag = turn * turn * of.reach / 8.0;
            let (from, to) = (of.motion.at(t0), of.motion.at(t1));
            self.open_pairs(&from, Some(&to), sag + self.margin, among, false, &mut open);
            if open.is_empty() {
                return t1;
            }
        }
        if span * (of.distance + of.angle * of.reach) < SHORTEST_MM {
            return t0;
        }
        let still = if is_wide { among } else { Some(&open[..]) };
        let middle = (t0 + t1) / 2.0;
        if of.is_quick {
            let mut hit = Vec::new();
            self.open_pairs(&of.motion.at(middle), None, self.margin, still, true, &mut hit);
            if !hit.is_empty() {
                return t0;
            }
        }
        let first = self.stretch(of, t0, middle, still);
        if first < middle { first } else { self.stretch(of, middle, t1, still) }
    }

    /// Adds the pairs that are not proved `need` apart while the part goes from `a` to `b` along chords.
    fn open_pairs(
        &mut self,
        a: &Rigid,
        b: Option<&Rigid>,
        need: f64,
        among: Option<&[Pair]>,
        is_one_enough: bool,
        open: &mut Vec<Pair>,
    ) {
        self.steps += 1;
        let ends = [Some(a), b].map(|end| end.map(|r| (DMat3::from_quat(r.turn), r.shift)));
        match among {
            Some(pairs) => {
                for run in pairs.chunk_by(|p, q| p.0 == q.0) {
                    let Some(&(piece, _)) = run.first() else { continue };
                    let obstacles = run.iter().map(|(_, o)| *o);
                    if self.open_of_piece(piece, &ends, need, obstacles, is_one_enough, open) {
                        return;
                    }
                }
            }
            None => {
                // What was hit last is often hit again.
                if let (true, Some((piece, o))) = (is_one_enough, self.last_hit)
                    && self.open_of_piece(piece, &ends, need, std::iter::once(o), true, open)
                {
                    return;
                }
                let near = self.near_obstacles(&ends, need);
                for piece in (0u32..).take(self.body.pieces.len()) {
                    if self.open_of_piece(
                        piece,
                        &ends,
                        need,
                        near.iter().copied(),
                        is_one_enough,
                        open,
                    ) {
                        break;
                    }
                }
                self.near = near;
            }
        }
    }

    /// The obstacles that the box around the whole part, carried along, comes too near to.
    fn near_obstacles(&mut self, ends: &[Option<(DMat3, DVec3)>; 2], need: f64) -> Vec<u32> {
        let mut near = std::mem::take(&mut self.near);
        near.clear();
        self.points.clear();
        for (turn, shift) in ends.iter().flatten() {
            self.points.extend(self.corners.iter().map(|p| *turn * *p + *shift));
        }
        let [lo, hi] = bounds(self.points.iter().copied());
        let (lo, hi) = (lo - need, hi + need);
        let is_single = self.body.pieces.len() == 1;
        for (o, obstacle) in (0u32..).zip(self.obstacles) {
            let it = obstacle.piece;
            if lo.cmplt(it.max).all()
                && hi.cmpgt(it.min).all()
                && (is_single
                    || !are_apart(&self.points, &it.points, need, &mut self.box_axes[o as usize]))
            {
                near.push(o);
            }
        }
        near
    }

    /// The same for one piece of the part; whether one was found and one is enough.
    fn open_of_piece(
        &mut self,
        piece: u32,
        ends: &[Option<(DMat3, DVec3)>; 2],
        need: f64,
        obstacles: impl Iterator<Item = u32>,
        is_one_enough: bool,
        open: &mut Vec<Pair>,
    ) -> bool {
        let home = &self.body.pieces[piece as usize];
        self.points.clear();
        for (turn, shift) in ends.iter().flatten() {
            self.points.extend(home.iter().map(|p| *turn * *p + *shift));
        }
        let [lo, hi] = bounds(self.points.iter().copied());
        let (lo, hi) = (lo - need, hi + need);
        for o in obstacles {
            let other = self.obstacles[o as usize].piece;
            if lo.cmpge(other.max).any() || hi.cmple(other.min).any() {
                continue;
            }
            let axis = &mut self.axes[piece as usize * self.obstacles.len() + o as usize];
            if !are_apart(&self.points, &other.points, need, axis) {
                open.push((piece, o));
                if is_one_enough {
                    self.last_hit = Some((piece, o));
                    return true;
                }
            }
        }
        false
    }
}

/// A motion and what is known of it.
struct Stretch<'m> {
    motion: &'m Motion,
    angle: f64,
    reach: f64,
    distance: f64,
    is_quick: bool,
}

/// Every number of a motion, bit by bit.
fn name(motion: &Motion) -> [u64; 17] {
    let Motion { from, to, pivot } = motion;
    let poses = [from, to].map(|at| (at.turn.to_array(), at.shift.to_array()));
    let numbers = poses.iter().flat_map(|(turn, shift)| turn.iter().chain(shift));
    let mut name = [0; 17];
    let bits = numbers.chain(pivot.as_ref()).map(|x| x.to_bits());
    name.iter_mut().zip(bits).for_each(|(to, bits)| *to = bits);
    name
}

//! Motions proved free, without sampling.
//!
//! A point of a part under a [`Motion`] is accelerated by at most `ω² r`, where `ω` is the turn during the motion and `r` the
//! point's distance from the axis through the pivot. Over a stretch of it, it therefore stays within
//! `sag = (ω Δt)² r / 8` of the chord between where it begins and ends (the error of linear interpolation), and
//! that chord lies in the hull of the piece at both ends. So: when that hull is at least `sag + margin` from an
//! obstacle, the whole stretch is free of it. In a slide `sag` is 0 and the hull is exactly what is swept. A stretch
//! that is not proved is halved, with only the pairs that are still open, until it moves less than [`SHORTEST_MM`].

use std::collections::HashMap;

use glam::DVec3;

use super::MARGIN_MM;
use super::body::Body;
use super::pairs::{Chords, Pair, Pairs};
use super::space::{Obstacle, Space};
use crate::motion::{Motion, Rigid};
use crate::world::ThingId;

/// A stretch that moves no point farther than this, mm, is not halved again.
const SHORTEST_MM: f64 = 0.02;

/// A stretch that turns farther, rad, is halved before it is looked at: the bound above grows with the square of the turn.
/// Measured: 0.8 is half as slow again, 0.1 no faster.
const WIDEST_TURN: f64 = 0.2;

/// Before a stretch longer than this, mm, is looked at, its middle is: a pose costs less, and one that is hit saves the rest.
const LONG_MM: f64 = 2.0;

/// How far a slide that may be blocked is looked at first, mm; then twice as far, and so on.
const FIRST_MM: f64 = 6.0;

/// The part among its obstacles, with what is remembered between questions.
pub(crate) struct Sweep<'a> {
    pub(crate) space: &'a Space<'a>,
    pub(crate) body: &'a Body,
    pairs: Pairs<'a>,
    margin: f64,
    /// What was said of whole motions: plain moves from one place to many are asked about again and again.
    known: HashMap<[u64; 17], bool>,
    /// How many stretches were looked at.
    pub(crate) steps: u64,
}

impl<'a> Sweep<'a> {
    /// Among what must not be touched, with [`MARGIN_MM`] around it.
    pub(crate) fn new(space: &'a Space<'a>, body: &'a Body) -> Self {
        Self::among(space, &space.obstacles, body)
    }

    /// Among what had better not be touched.
    pub(crate) fn of_spared(space: &'a Space<'a>, body: &'a Body) -> Self {
        Self::among(space, &space.spared, body)
    }

    fn among(space: &'a Space<'a>, obstacles: &'a [Obstacle<'a>], body: &'a Body) -> Self {
        let pairs = Pairs::new(body, obstacles);
        Self { space, body, pairs, margin: MARGIN_MM, known: HashMap::new(), steps: 0 }
    }

    /// Whether the part is free here.
    pub(crate) fn is_free_at(&mut self, at: &Rigid) -> bool {
        self.steps += 1;
        !self.pairs.is_any_open(&Chords::at(at), self.margin, None)
    }

    /// What it is too near to here, each thing once.
    pub(crate) fn hits_at(&mut self, at: &Rigid) -> Vec<ThingId> {
        let mut open = Vec::new();
        self.pairs.find_open(&Chords::at(at), self.margin, None, &mut open);
        self.things_of(&open)
    }

    /// What it comes too near to along a motion, or may come, as far as a few hulls tell; each thing once.
    pub(crate) fn hits_along(&mut self, motion: &Motion) -> Vec<ThingId> {
        const STRETCHES: u32 = 12;
        if self.pairs.obstacles.is_empty() {
            return Vec::new();
        }
        let n = if motion.angle() > 0.0 { STRETCHES } else { 1 };
        let share = |i: u32| f64::from(i) / f64::from(n);
        let mut open = Vec::new();
        for i in 0..n {
            let chords = Chords::between(&motion.at(share(i)), &motion.at(share(i + 1)));
            self.pairs.find_open(&chords, self.margin, None, &mut open);
        }
        self.things_of(&open)
    }

    fn things_of(&self, pairs: &[Pair]) -> Vec<ThingId> {
        let thing = |pair: &Pair| self.pairs.obstacles[pair.1 as usize].thing;
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
        let is_free = self.is_free_at(&motion.to) && self.is_proved(motion);
        self.known.insert(name, is_free);
        is_free
    }

    fn is_proved(&mut self, motion: &Motion) -> bool {
        let angle = motion.angle();
        if angle <= 0.0 {
            // Exactly what is swept: halves would say nothing else.
            self.steps += 1;
            let chords = Chords::between(&motion.from, &motion.to);
            return !self.pairs.is_any_open(&chords, self.margin, None);
        }
        self.turned_share(motion, angle, true) >= 1.0
    }

    /// Up to which share of it, from its begin, the motion is proved free; 0 also when its begin is not free.
    pub(crate) fn free_share(&mut self, motion: &Motion) -> f64 {
        let angle = motion.angle();
        if angle <= 0.0 { self.slid_share(motion) } else { self.turned_share(motion, angle, false) }
    }

    /// How far the part can slide along a unit vector, up to `most`.
    pub(crate) fn travel(&mut self, at: &Rigid, direction: DVec3, most: f64) -> f64 {
        most * self.free_share(&Motion::slide(*at, direction * most))
    }

    /// [`Self::free_share`] of a slide. Pair by pair, each only as far as those before it leave free.
    fn slid_share(&mut self, motion: &Motion) -> f64 {
        let up_to = |share| Chords::between(&motion.from, &motion.at(share));
        let distance = motion.distance();
        // Not all that stands beyond the first obstacle, most often a near one.
        let mut free = 1.0;
        while free * distance > FIRST_MM {
            free /= 2.0;
        }
        self.steps += 1;
        while !self.pairs.is_any_open(&up_to(free), self.margin, None) {
            if free >= 1.0 {
                return 1.0;
            }
            free *= 2.0;
            self.steps += 1;
        }
        let mut open = Vec::new();
        self.steps += 1;
        self.pairs.find_open(&up_to(free), self.margin, None, &mut open);
        for pair in open {
            if !self.pairs.is_any_open(&up_to(free), self.margin, Some(&[pair])) {
                continue;
            }
            let (mut low, mut high) = (0.0, free);
            self.steps += 1;
            while (high - low) * distance > SHORTEST_MM {
                let middle = (low + high) / 2.0;
                if self.pairs.is_any_open(&up_to(middle), self.margin, Some(&[pair])) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            free = low;
        }
        free
    }

    fn turned_share(&mut self, motion: &Motion, angle: f64, is_quick: bool) -> f64 {
        let turn = motion.from.turn.inverse() * motion.to.turn;
        let reach = self.body.reach(motion.pivot, turn.xyz().normalize_or_zero());
        let length = motion.distance() + angle * reach;
        let of = Turning { motion, angle, reach, length, is_quick };
        self.stretch(&of, [0.0, 1.0], &[motion.from, motion.to], None)
    }

    /// Up to where a stretch is proved free.
    fn stretch(
        &mut self,
        of: &Turning<'_>,
        [t0, t1]: [f64; 2],
        [from, to]: &[Rigid; 2],
        among: Option<&[Pair]>,
    ) -> f64 {
        let span = t1 - t0;
        let middle = (t0 + t1) / 2.0;
        let there = of.motion.at(middle);
        let is_long = span * of.length > LONG_MM;
        if is_long && self.is_open_at(&there, among) {
            return if of.is_quick {
                t0
            } else {
                self.stretch(of, [t0, middle], &[*from, there], among)
            };
        }
        let turn = of.angle * span;
        let is_wide = turn > WIDEST_TURN;
        let mut open = Vec::new();
        if !is_wide {
            self.steps += 1;
            let sag = turn * turn * of.reach / 8.0;
            let chords = Chords::between(from, to);
            self.pairs.find_open(&chords, sag + self.margin, among, &mut open);
            if open.is_empty() {
                return t1;
            }
        }
        if span * of.length < SHORTEST_MM {
            return t0;
        }
        let still = if is_wide { among } else { Some(&open[..]) };
        if !is_long && of.is_quick && self.is_open_at(&there, still) {
            return t0;
        }
        let first = self.stretch(of, [t0, middle], &[*from, there], still);
        if first < middle { first } else { self.stretch(of, [middle, t1], &[there, *to], still) }
    }

    fn is_open_at(&mut self, at: &Rigid, among: Option<&[Pair]>) -> bool {
        self.steps += 1;
        self.pairs.is_any_open(&Chords::at(at), self.margin, among)
    }
}

/// A motion that turns, and what is known of it.
struct Turning<'m> {
    motion: &'m Motion,
    angle: f64,
    /// Of the part's farthest point from the axis.
    reach: f64,
    /// How far any point goes at most, mm.
    length: f64,
    /// Whether it is enough to know that it is not free.
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

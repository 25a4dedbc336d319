//! The search that is left when no plain way through an opening was found.
//!
//! Two trees of poses, one from the place, one from outside, grow towards each other: RRT-Connect of Kuffner and `LaValle`
//! (*IEEE Int. Conf. Robotics and Automation* 2000, 995, doi:10.1109/ROBOT.2000.844730). What makes it work here: both
//! are rooted in all poses that plain moves reach; a step that is blocked is tried again as a turn alone, a rise alone, a
//! level slide alone; and most samples change only a few coordinates, as people move things.

use std::f64::consts::{FRAC_PI_2, PI};

use glam::{DQuat, DVec3};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::body::Body;
use super::outside::any_turn;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// A pose from which a tree grows, with the free way between it and the part's place, or outside.
#[derive(Clone, Debug)]
pub(crate) struct Root {
    pub(crate) at: Rigid,
    /// In the order in which it is made.
    pub(crate) way: Vec<Motion>,
}

/// Poses at most in both trees.
const MOST_POSES: usize = 40_000;

/// How far a tree grows at once, mm of the farthest point.
const STEP: f64 = 200.0;

/// The same towards the other tree, and how often.
const STEP_TO_MEET: f64 = 400.0;
const STEPS_TO_MEET: u32 = 30;

/// Steps shorter than this, mm, are not kept.
const LEAST_STEP: f64 = 2.0;

/// How much of a proved stretch is gone, so that the next step does not begin at the very end of it.
const SHARE_GONE: f64 = 0.98;

/// A way from the first of `starts` over some of both to the end of some way of `goals`, looking at no more than
/// `budget` stretches.
pub(crate) fn search(
    sweep: &mut Sweep<'_>,
    starts: &[Root],
    goals: &[Root],
    seed: u64,
    budget: u64,
) -> Option<Vec<Motion>> {
    if starts.is_empty() || goals.is_empty() {
        return None;
    }
    let mut dice = Dice::new(sweep, starts, goals, seed);
    let mut trees = [Tree::rooted(starts, sweep.body), Tree::rooted(goals, sweep.body)];
    let stop = sweep.steps + budget;
    let mut which = 0;
    while sweep.steps < stop && trees[0].poses.len() + trees[1].poses.len() < MOST_POSES {
        which = 1 - which;
        let target = dice.throw(&trees[which]);
        let Some(grown) = trees[which].grow(sweep, &target, STEP) else { continue };
        let goal = trees[which].poses[grown].at;
        let Some(met) = trees[1 - which].meet(sweep, &goal) else { continue };
        let [from_start, from_goal] = if which == 0 { [grown, met] } else { [met, grown] };
        let (mut way, start) = trees[0].way_to(from_start);
        let (back, end) = trees[1].way_to(from_goal);
        way.splice(0..0, starts[start].way.iter().copied());
        way.extend(back.iter().rev().map(Motion::reversed));
        way.extend(&goals[end].way);
        return Some(way);
    }
    None
}

/// Where four corners of the box around the part are: the mean distance between two of these is how far two
/// poses are apart.
type Feet = [DVec3; 4];

fn feet(at: &Rigid, body: &Body) -> Feet {
    let [lo, hi] = body.bounds;
    [
        at.apply(lo),
        at.apply(DVec3::new(hi.x, hi.y, lo.z)),
        at.apply(DVec3::new(hi.x, lo.y, hi.z)),
        at.apply(DVec3::new(lo.x, hi.y, hi.z)),
    ]
}

fn apart(a: &Feet, b: &Feet) -> f64 {
    a.iter().zip(b).map(|(p, q)| p.distance_squared(*q)).sum()
}

struct Pose {
    at: Rigid,
    /// From which pose it was reached; `None`: a root.
    from: Option<usize>,
    feet: Feet,
}

struct Tree {
    poses: Vec<Pose>,
    /// The point that goes straight in every step, in the part's place.
    pivot: DVec3,
}

impl Tree {
    fn rooted(roots: &[Root], body: &Body) -> Self {
        let pose = |root: &Root| Pose { at: root.at, from: None, feet: feet(&root.at, body) };
        Self { poses: roots.iter().map(pose).collect(), pivot: body.centre }
    }

    fn nearest(&self, to: &Feet) -> usize {
        let mut best = (f64::INFINITY, 0);
        for (i, pose) in self.poses.iter().enumerate() {
            let distance = apart(&pose.feet, to);
            if distance < best.0 {
                best = (distance, i);
            }
        }
        best.1
    }

    fn add(&mut self, at: Rigid, from: usize, body: &Body) -> usize {
        self.poses.push(Pose { at, from: Some(from), feet: feet(&at, body) });
        self.poses.len() - 1
    }

    /// One step towards a target; where that is blocked at once, part of it.
    fn grow(&mut self, sweep: &mut Sweep<'_>, target: &Rigid, most: f64) -> Option<usize> {
        let body = sweep.body;
        let near = self.nearest(&feet(target, body));
        let from = self.poses[near].at;
        let whole = Motion { from, to: *target, pivot: body.centre };
        let length = length(&whole, body);
        if length < 1e-9 {
            return Some(near);
        }
        let most = length.min(most);
        let mut step = if length > most { until(&whole, most / length) } else { whole };
        let mut most = most;
        // Poses cost less than stretches: first it is halved until its end is free.
        while most > LEAST_STEP && !sweep.is_free_at(&step.to) {
            step = until(&step, 0.5);
            most /= 2.0;
        }
        if most > LEAST_STEP {
            let free = sweep.free_share(&step);
            if free >= 1.0 {
                return Some(self.add(step.to, near, body));
            }
            if free * most > LEAST_STEP {
                return Some(self.add(step.at(free * SHARE_GONE), near, body));
            }
        }
        let by = body.middle(&whole.to) - body.middle(&from);
        let turn = whole.to.turn * from.turn.inverse();
        let parts = [
            Motion::turn(from, turn, body.middle(&from)),
            Motion::slide(from, DVec3::Z * by.z),
            Motion::slide(from, by.with_z(0.0)),
        ];
        for part in parts {
            let length = self::length(&part, body);
            if length < LEAST_STEP {
                continue;
            }
            let free = sweep.free_share(&part);
            if free * length > LEAST_STEP {
                let gone = if free >= 1.0 { 1.0 } else { free * SHARE_GONE };
                return Some(self.add(part.at(gone), near, body));
            }
        }
        None
    }

    /// Grows until it reaches a pose of the other tree, or gets no nearer.
    fn meet(&mut self, sweep: &mut Sweep<'_>, goal: &Rigid) -> Option<usize> {
        let wanted = feet(goal, sweep.body);
        let mut last = f64::INFINITY;
        for _ in 0..STEPS_TO_MEET {
            let grown = self.grow(sweep, goal, STEP_TO_MEET)?;
            let left = apart(&self.poses[grown].feet, &wanted).sqrt();
            if left < 1e-6 {
                return Some(grown);
            }
            if left > last - 0.5 {
                return None;
            }
            last = left;
        }
        None
    }

    /// The moves from its root to a pose, and which root that is.
    fn way_to(&self, pose: usize) -> (Vec<Motion>, usize) {
        let mut way = Vec::new();
        let mut here = pose;
        while let Some(before) = self.poses[here].from {
            way.push((before, here));
            here = before;
        }
        way.reverse();
        let motion = |&(a, b): &(usize, usize)| Motion {
            from: self.poses[a].at,
            to: self.poses[b].at,
            pivot: self.pivot,
        };
        (way.iter().map(motion).collect(), here)
    }
}

/// How far the farthest point goes at most, mm.
fn length(motion: &Motion, body: &Body) -> f64 {
    motion.distance() + motion.angle() * body.radius
}

fn until(motion: &Motion, share: f64) -> Motion {
    Motion { to: motion.at(share), ..*motion }
}

/// Where the trees are led.
struct Dice {
    throws: ChaCha8Rng,
    room: [DVec3; 2],
    middle: DVec3,
    radius: f64,
    home: DQuat,
    /// Orientations of the poses that plain moves reach, each once, and the part lying flat.
    known: Vec<DQuat>,
}

impl Dice {
    fn new(sweep: &Sweep<'_>, starts: &[Root], goals: &[Root], seed: u64) -> Self {
        let home = starts.first().map_or(DQuat::IDENTITY, |root| root.at.turn);
        let mut known: Vec<DQuat> = Vec::new();
        let mut learn = |turn: DQuat| {
            if known.iter().all(|k| k.dot(turn).abs() < 0.9999) {
                known.push(turn);
            }
        };
        for axis in [DVec3::X, DVec3::Y] {
            for angle in [FRAC_PI_2, -FRAC_PI_2] {
                learn(DQuat::from_axis_angle(axis, angle) * home);
            }
        }
        starts.iter().chain(goals).for_each(|root| learn(root.at.turn));
        Self {
            throws: ChaCha8Rng::seed_from_u64(seed),
            room: sweep.space.exits.room,
            middle: sweep.body.centre,
            radius: sweep.body.radius,
            home,
            known,
        }
    }

    fn share(&mut self) -> f64 {
        self.throws.random()
    }

    /// From −1 to 1.
    fn sign(&mut self) -> f64 {
        2.0 * self.share() - 1.0
    }

    fn vector(&mut self) -> DVec3 {
        DVec3::new(self.sign(), self.sign(), self.sign())
    }

    fn throw(&mut self, tree: &Tree) -> Rigid {
        let kind = self.share();
        let somewhere = {
            let share = DVec3::new(self.share(), self.share(), self.share());
            self.room[0] + (self.room[1] - self.room[0]) * share
        };
        if kind < 0.20 {
            let turn = self.turned_plainly();
            self.pose(turn, somewhere)
        } else if kind < 0.40 {
            let turn = self.known[self.throws.random_range(0..self.known.len())];
            self.pose(turn, somewhere)
        } else if kind < 0.65 {
            self.few_coordinates(tree, somewhere)
        } else if kind < 0.70 {
            let turn = any_turn(&mut self.throws);
            self.pose(turn, somewhere)
        } else {
            self.near_by(tree)
        }
    }

    fn pose(&self, turn: DQuat, middle: DVec3) -> Rigid {
        Rigid { turn, shift: middle - turn * self.middle }
    }

    /// Turned about an upright axis, tipped about a level one, or both.
    fn turned_plainly(&mut self) -> DQuat {
        let which = self.share();
        let mut turn = self.home;
        if which > 0.5 {
            let axis = if self.share() < 0.5 { DVec3::X } else { DVec3::Y };
            turn = DQuat::from_axis_angle(axis, self.sign() * FRAC_PI_2) * turn;
        }
        if which < 0.75 {
            turn = DQuat::from_axis_angle(DVec3::Z, self.sign() * PI) * turn;
        }
        turn.normalize()
    }

    fn any_of(&mut self, tree: &Tree) -> Rigid {
        tree.poses[self.throws.random_range(0..tree.poses.len())].at
    }

    /// A pose of the tree with a few coordinates thrown anew.
    fn few_coordinates(&mut self, tree: &Tree, somewhere: DVec3) -> Rigid {
        let node = self.any_of(tree);
        let mut middle = node.apply(self.middle);
        for (axis, likely) in [0.6, 0.6, 0.4].into_iter().enumerate() {
            if self.share() < likely {
                middle[axis] = somewhere[axis];
            }
        }
        let axis = match self.throws.random_range(0..7) {
            0 => DVec3::ZERO,
            1 | 2 => DVec3::X,
            3 | 4 => DVec3::Y,
            _ => DVec3::Z,
        };
        let turn = DQuat::from_scaled_axis(axis * (self.sign() * FRAC_PI_2)) * node.turn;
        self.pose(turn.normalize(), middle)
    }

    /// A pose near one of the tree.
    fn near_by(&mut self, tree: &Tree) -> Rigid {
        let node = self.any_of(tree);
        let scale = [0.03, 0.1, 0.4][self.throws.random_range(0..3)];
        let middle = node.apply(self.middle) + self.vector() * (scale * self.radius);
        let turn = DQuat::from_scaled_axis(self.vector() * scale) * node.turn;
        self.pose(turn.normalize(), middle)
    }
}

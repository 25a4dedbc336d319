//! From a way that is free to one that a person can follow: as few moves as can be, and plain ones.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::body::Body;
use super::exit::Outlet;
use super::plain::{connect, is_plain};
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// What a move costs that is not plain.
const NOT_PLAIN: f64 = 5.0;

/// Ways of more poses than this are not looked at all at once.
const MOST_POSES: usize = 28;

/// The same way in fewer and plainer moves, still free, still out.
pub(crate) fn smooth(sweep: &mut Sweep<'_>, outlet: &Outlet, way: Vec<Motion>) -> Vec<Motion> {
    let mut way = leave_early(sweep, outlet, joined(way));
    loop {
        let fewer = joined(fewest(sweep, &way));
        let fewer = leave_early(sweep, outlet, fewer);
        let fewer = without_idle(sweep, outlet, fewer);
        if cost(&fewer) >= cost(&way) {
            return way;
        }
        way = fewer;
    }
}

/// A way that a search stumbled along, made straighter: of many pairs of points on it, those that can be joined directly are.
pub(crate) fn straightened(sweep: &mut Sweep<'_>, way: Vec<Motion>, seed: u64) -> Vec<Motion> {
    let mut dice = ChaCha8Rng::seed_from_u64(seed);
    let mut way = joined(way);
    let tries = (40 + 20 * way.len()).min(400);
    for _ in 0..tries {
        if way.len() < 3 {
            break;
        }
        let picks = [0, 0].map(|_: u8| dice.random_range(0..way.len()));
        let shares: [f64; 2] = [dice.random(), dice.random()];
        let (i, j) = (picks[0].min(picks[1]), picks[0].max(picks[1]));
        if i == j {
            continue;
        }
        let (a, b) = (way[i].at(shares[0]), way[j].at(shares[1]));
        let direct = Motion { from: a, to: b, pivot: sweep.body.centre };
        let before = Motion { to: a, ..way[i] };
        let after = Motion { from: b, ..way[j] };
        let old: f64 = way[i..=j].iter().map(|m| effort(m, sweep.body)).sum();
        let new = [before, direct, after];
        if new.iter().map(|m| effort(m, sweep.body)).sum::<f64>() < old && sweep.is_free(&direct) {
            let moved = |m: &Motion| m.distance() > 1e-9 || m.angle() > 1e-9;
            way.splice(i..=j, new.into_iter().filter(moved));
        }
    }
    way
}

/// What a move costs while a way is made straighter: its begin, and how far the part goes, mm.
fn effort(motion: &Motion, body: &Body) -> f64 {
    30.0 + motion.distance() + motion.angle() * body.radius
}

/// How many moves it is, those counted more that are not plain.
pub(crate) fn cost(way: &[Motion]) -> f64 {
    way.iter().map(|m| if is_plain(m) { 1.0 } else { NOT_PLAIN }).sum()
}

/// Leaves straight as soon as that is free.
fn leave_early(sweep: &mut Sweep<'_>, outlet: &Outlet, mut way: Vec<Motion>) -> Vec<Motion> {
    for i in 0..way.len() {
        if let Some(exit) = outlet.leave(sweep, &way[i].from)
            && exit.len() <= way.len() - i
        {
            way.truncate(i);
            way.extend(exit);
            return way;
        }
    }
    way
}

/// Leaves out moves without which the rest still leads out: a round pipe turned about itself.
fn without_idle(sweep: &mut Sweep<'_>, outlet: &Outlet, mut way: Vec<Motion>) -> Vec<Motion> {
    let mut i = 0;
    while i < way.len() {
        match replayed(sweep, outlet, &way, i) {
            Some(fewer) => way = fewer,
            None => i += 1,
        }
    }
    way
}

/// The way without one of its moves, those after it made from where the part is then.
fn replayed(
    sweep: &mut Sweep<'_>,
    outlet: &Outlet,
    way: &[Motion],
    without: usize,
) -> Option<Vec<Motion>> {
    let mut new = way[..without].to_vec();
    let mut at = way[without].from;
    for motion in &way[without + 1..] {
        if let Some(exit) = outlet.leave(sweep, &at) {
            new.extend(exit);
            return (new.len() < way.len()).then_some(new);
        }
        let by = sweep.body.middle(&motion.to) - sweep.body.middle(&motion.from);
        let turn = motion.to.turn * motion.from.turn.inverse();
        let to = at.turned(turn, sweep.body.middle(&at)).moved(by);
        let again = Motion { from: at, to, pivot: sweep.body.centre };
        if !sweep.is_free(&again) {
            return None;
        }
        new.push(again);
        at = to;
    }
    outlet.is_out(sweep, &at).then_some(new)
}

/// Of all ways over some of these poses, joined by plain moves, the one of the least cost.
fn fewest(sweep: &mut Sweep<'_>, way: &[Motion]) -> Vec<Motion> {
    let Some(first) = way.first() else { return Vec::new() };
    if way.len() >= MOST_POSES {
        return way.to_vec();
    }
    let poses: Vec<Rigid> = std::iter::once(first.from).chain(way.iter().map(|m| m.to)).collect();
    let mut best: Vec<(f64, Vec<Motion>)> = vec![(0.0, Vec::new())];
    for j in 1..poses.len() {
        let last = &way[j - 1..j];
        let mut here = extended(&best[j - 1], last);
        for i in 0..j {
            if best[i].0 + 1.0 >= here.0 {
                continue;
            }
            if let Some(moves) = connect(sweep, &poses[i], &poses[j], None) {
                let other = extended(&best[i], &moves);
                if other.0 < here.0 {
                    here = other;
                }
            }
        }
        best.push(here);
    }
    best.pop().map(|(_, way)| way).unwrap_or_default()
}

fn extended(so_far: &(f64, Vec<Motion>), by: &[Motion]) -> (f64, Vec<Motion>) {
    let way: Vec<Motion> = so_far.1.iter().chain(by).copied().collect();
    (so_far.0 + cost(by), way)
}

/// Moves that go on in the same direction made one, and those that do nothing left out.
pub(crate) fn joined(way: Vec<Motion>) -> Vec<Motion> {
    let mut out: Vec<Motion> = Vec::new();
    for motion in way {
        if motion.distance() < 1e-9 && motion.angle() < 1e-9 {
            continue;
        }
        if let Some(last) = out.last_mut() {
            let both = Motion { from: last.from, to: motion.to, pivot: motion.pivot };
            if goes_on(last, &motion, &both) {
                *last = both;
                continue;
            }
        }
        out.push(motion);
    }
    out
}

/// Whether two motions one after the other are the same as both at once.
fn goes_on(first: &Motion, second: &Motion, both: &Motion) -> bool {
    let same_pivot = first.pivot.distance(second.pivot) < 1e-6;
    let is_slide = first.angle() < 1e-9 && second.angle() < 1e-9;
    if !is_slide && !same_pivot {
        return false;
    }
    let amount = |m: &Motion| m.distance() + 100.0 * m.angle();
    let all = amount(first) + amount(second);
    if all < 1e-9 || (amount(both) - all).abs() > 1e-7 * (1.0 + all) {
        return false;
    }
    let turned = both.at(amount(first) / all);
    let miss = Motion { from: turned, to: first.to, pivot: first.pivot };
    miss.distance() < 1e-6 && miss.angle() < 1e-9
}

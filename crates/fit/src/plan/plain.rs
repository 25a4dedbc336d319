//! From one pose to another by plain moves: raise or lower, slide, turn about an upright axis, tip about a level one.

use glam::{DQuat, DVec3};

use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// Slides shorter than this, mm, are none.
const NO_SLIDE: f64 = 1e-6;

/// Turns smaller than this, rad, are none.
const NO_TURN: f64 = 1e-7;

/// One plain move still to be made.
#[derive(Clone, Copy, Debug)]
enum Factor {
    Slide(DVec3),
    /// About the upright axis through the part's middle.
    Turn(DQuat),
    /// About a level axis, given as it is when the turn was made before, and when not.
    Tip(DQuat, DQuat),
}

/// Plain moves from `a` to `b` that are proved free, one of each kind at most, in whichever order works; else, when
/// that is free, both at once as one move. `along`: a level direction; when given, a level slide is two
/// moves, along it and across.
///
/// Which moves have been made says where the part is, whatever their order; so at most `n 2^(n-1)` moves are looked at
/// for `n` kinds, not `n!` orders.
pub(crate) fn connect(
    sweep: &mut Sweep<'_>,
    a: &Rigid,
    b: &Rigid,
    along: Option<DVec3>,
) -> Option<Vec<Motion>> {
    let factors = factors(sweep, a, b, along);
    if factors.is_empty() {
        return Some(Vec::new());
    }
    let mut from = Orders { sweep, factors: &factors, is_dead: vec![false; 1 << factors.len()] };
    let mut moves = Vec::new();
    if from.finish(*a, 0, &mut moves) {
        return Some(moves);
    }
    let at_once = Motion { from: *a, to: *b, pivot: sweep.body.centre };
    (factors.len() > 1 && sweep.is_free(&at_once)).then(|| vec![at_once])
}

/// Whether a motion is one plain move.
pub(crate) fn is_plain(motion: &Motion) -> bool {
    let turn = motion.angle();
    let pivot = motion.to.apply(motion.pivot) - motion.from.apply(motion.pivot);
    if turn < NO_TURN {
        let level = pivot.truncate().length();
        return level < NO_SLIDE || pivot.z.abs() < NO_SLIDE;
    }
    let axis = (motion.to.turn * motion.from.turn.inverse()).xyz().normalize_or_zero();
    pivot.length() < NO_SLIDE && (axis.z.abs() < 1e-4 || axis.z.abs() > 1.0 - 1e-6)
}

fn factors(sweep: &Sweep<'_>, a: &Rigid, b: &Rigid, along: Option<DVec3>) -> Vec<Factor> {
    let by = sweep.body.middle(b) - sweep.body.middle(a);
    let up = DVec3::Z * by.z;
    let level = by - up;
    let mut slides = vec![up];
    match along {
        Some(along) => {
            let first = along * level.dot(along);
            slides.extend([first, level - first]);
        }
        None => slides.push(level),
    }
    let mut factors: Vec<Factor> =
        slides.into_iter().filter(|slide| slide.length() > NO_SLIDE).map(Factor::Slide).collect();
    let change = (b.turn * a.turn.inverse()).normalize();
    // Twist about the upright axis first, then a swing about a level one.
    let twist = DQuat::from_xyzw(0.0, 0.0, change.z, change.w);
    let twist = if twist.length() < 1e-9 { DQuat::IDENTITY } else { twist.normalize() };
    let swing = (change * twist.inverse()).normalize();
    let turns = angle_of(twist) > NO_TURN;
    if turns {
        factors.push(Factor::Turn(twist));
    }
    if angle_of(swing) > NO_TURN {
        let before = (twist.inverse() * swing * twist).normalize();
        factors.push(Factor::Tip(swing, if turns { before } else { swing }));
    }
    factors
}

fn angle_of(turn: DQuat) -> f64 {
    2.0 * libm::atan2(turn.xyz().length(), turn.w.abs())
}

/// The search over orders.
struct Orders<'s, 'a> {
    sweep: &'s mut Sweep<'a>,
    factors: &'s [Factor],
    /// For every set of moves made: whether it was shown that it cannot be finished.
    is_dead: Vec<bool>,
}

impl Orders<'_, '_> {
    fn finish(&mut self, at: Rigid, made: usize, moves: &mut Vec<Motion>) -> bool {
        if made + 1 == self.is_dead.len() {
            return true;
        }
        let is_turn = |f: &Factor| matches!(f, Factor::Turn(_));
        let has_turned =
            self.factors.iter().enumerate().all(|(i, f)| !is_turn(f) || made & (1 << i) != 0);
        for (i, factor) in self.factors.iter().enumerate() {
            let then = made | (1 << i);
            if then == made || self.is_dead[then] {
                continue;
            }
            let middle = self.sweep.body.middle(&at);
            let motion = match *factor {
                Factor::Slide(by) => Motion::slide(at, by),
                Factor::Turn(turn) => Motion::turn(at, turn, middle),
                Factor::Tip(tip, _) if has_turned => Motion::turn(at, tip, middle),
                Factor::Tip(_, tip) => Motion::turn(at, tip, middle),
            };
            if !self.sweep.is_free(&motion) {
                continue;
            }
            moves.push(motion);
            if self.finish(motion.to, then, moves) {
                return true;
            }
            moves.pop();
        }
        self.is_dead[made] = true;
        false
    }
}

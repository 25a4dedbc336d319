//! Poses outside, for a part that no opening lets out by its shadow alone.

use std::f64::consts::TAU;

use glam::{DQuat, DVec3};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::exit::Outlet;
use super::search::Root;
use super::sweep::Sweep;
use crate::motion::Rigid;

/// How many poses are thrown, and after how many that are free and lead out no more are. Our judgement: the search
/// needs few roots, of different turns.
const THROWS: u32 = 200;
const ENOUGH: usize = 20;

/// Free poses above the openings of the rim and beyond the doors, turned by chance, with their ways out.
pub(super) fn outside(sweep: &mut Sweep<'_>, outlet: &Outlet, seed: u64) -> Vec<Root> {
    let exits = sweep.space.exits;
    let above = exits.rim.iter().map(|w| (w.centre.with_z(exits.rim_z), DVec3::Z));
    let before = exits.doors.iter().map(|door| {
        let short = door.beyond - door.window.centre.dot(door.out);
        (door.window.centre + door.out * short, door.out)
    });
    let places: Vec<(DVec3, DVec3)> = above.chain(before).collect();
    let mut roots = Vec::new();
    if places.is_empty() {
        return roots;
    }
    let mut dice = ChaCha8Rng::seed_from_u64(seed);
    for _ in 0..THROWS {
        let (place, out) = places[dice.random_range(0..places.len())];
        let turn = any_turn(&mut dice);
        let middle = place + out * sweep.body.radius;
        let at = Rigid { turn, shift: middle - turn * sweep.body.centre };
        if !sweep.is_free_at(&at) {
            continue;
        }
        if let Some(way) = outlet.leave(sweep, &at) {
            roots.push(Root { at, way });
        }
        if roots.len() >= ENOUGH {
            break;
        }
    }
    roots
}

/// Shoemake's uniform rotation (*Graphics Gems III*, 1992, 124).
pub(super) fn any_turn(dice: &mut impl Rng) -> DQuat {
    let mut share = || dice.random::<f64>();
    let (u, a, b) = (share(), share() * TAU, share() * TAU);
    let ((sa, ca), (sb, cb)) = (libm::sincos(a), libm::sincos(b));
    let (p, q) = ((1.0 - u).sqrt(), u.sqrt());
    DQuat::from_xyzw(p * sa, p * ca, q * sb, q * cb)
}

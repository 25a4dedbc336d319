//! Whether a needle can feed a seam.

use glam::DVec3;

use super::block::Block;
use super::seam::{Patch, Seam};

/// Straight part of the needle, mm: half-inch to two-inch blunt needles are usual (common practice); longer ones bend.
/// Our judgement.
pub const NEEDLE_MM: f64 = 60.0;
/// Half the width of the needle with its wobble in the hand, mm; our judgement.
const NEEDLE_RADIUS_MM: f64 = 1.5;
/// Bottle and fingers behind the needle: length, and half the width, mm; our judgement. Hand and arm behind them are
/// not looked at.
pub const BOTTLE_MM: [f64; 2] = [90.0, 20.0];
/// Seen along the seam, the needle keeps at least this angle to either face, degrees; our judgement: flatter, its tip does
/// not reach the corner.
pub const LEAST_ANGLE_DEG: f64 = 30.0;
/// It leans along the seam by at most this, degrees; our judgement: further, it lies in the corner and nobody sees its tip.
const MOST_LEAN_DEG: f64 = 60.0;
/// A strip wider than this is fed from both sides, mm; our judgement: thin solvent is drawn in so far without a doubt. In a
/// groove the strip is its mouth: solvent runs down along both cheeks and meets on the floor.
pub const ONE_SIDE_MM: f64 = 15.0;

/// A seam that is fed, and from where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FedSeam {
    /// Its ends, mm, in the sump's frame.
    pub ends: [DVec3; 2],
    /// From the seam's middle towards the bottle, a unit vector in the sump's frame.
    pub from: DVec3,
}

/// Whether a strip is so wide that solvent is fed from both of its sides.
pub(super) fn needs_both(patch: &Patch) -> bool {
    patch.width_mm > ONE_SIDE_MM
}

/// The seams of a joint that are fed; empty when it cannot be: a wide one is fed from both sides or not at all.
pub(super) fn fed(patch: &Patch, standing: &[Block], down: DVec3) -> Vec<FedSeam> {
    let mut seams = reached(patch, standing, down);
    let wanted = if needs_both(patch) { 2 } else { 1 };
    if seams.len() < wanted {
        seams.clear();
    }
    seams
}

/// The seams of a joint that a needle reaches along their length, every place on them or the next one beside it.
/// `standing` holds everything that is there, the two
/// parts too; below the bench nothing is free.
pub(super) fn reached(patch: &Patch, standing: &[Block], down: DVec3) -> Vec<FedSeam> {
    let bench = standing.iter().map(|block| block.reach(down)).fold(f64::NEG_INFINITY, f64::max);
    let mut seams: Vec<FedSeam> = patch
        .seams
        .iter()
        .filter_map(|seam| {
            Some(FedSeam { ends: seam.ends, from: feed(seam, patch, standing, down, bench)? })
        })
        .collect();
    // From above first: solvent is seen running in.
    seams.sort_by(|a, b| a.from.dot(down).total_cmp(&b.from.dot(down)));
    seams
}

/// The direction that serves the middle of a seam, when every place on it can be fed or lies beside one that can: thin
/// solvent runs past the end of a ledge or a strip by itself (common practice).
fn feed(seam: &Seam, patch: &Patch, standing: &[Block], down: DVec3, bench: f64) -> Option<DVec3> {
    let ways = directions(seam, patch, down);
    let served: Vec<Option<DVec3>> = seam
        .places()
        .map(|tip| ways.iter().copied().find(|way| is_free(tip, *way, standing, down, bench)))
        .collect();
    let serves = |k: usize| served.get(k).is_some_and(Option::is_some);
    let is_fed = (0..served.len()).all(|k| serves(k) || serves(k + 1) || serves(k.wrapping_sub(1)));
    let found: Vec<DVec3> = served.iter().copied().flatten().collect();
    if is_fed { found.get(found.len() / 2).copied() } else { None }
}

/// Directions from a seam to the bottle that keep the angle to both faces, those across the seam first, then those that
/// lie more upwards.
fn directions(seam: &Seam, patch: &Patch, down: DVec3) -> Vec<DVec3> {
    let least = libm::sin(LEAST_ANGLE_DEG.to_radians()) - 1e-9;
    let up = seam.face.unwrap_or(-patch.out);
    let mut ways = Vec::new();
    for share in [0.0, 0.33, -0.33, 0.6, -0.6, 0.8, -0.8, 1.0, -1.0] {
        let tilt: f64 = share * MOST_LEAN_DEG;
        let mut tilted: Vec<DVec3> = Vec::new();
        for rise in [45.0_f64, 30.0, 60.0, 15.0, 0.0, -15.0, -30.0, -45.0] {
            let (sin, cos) = libm::sincos(rise.to_radians());
            let flat = seam.side * cos + up * sin;
            let (sin, cos) = libm::sincos(tilt.to_radians());
            let keeps = flat.dot(seam.side) >= least
                && seam.face.is_none_or(|face| flat.dot(face) >= least);
            if keeps {
                tilted.push(flat * cos + patch.along * sin);
            }
        }
        tilted.sort_by(|a, b| a.dot(down).total_cmp(&b.dot(down)));
        ways.extend(tilted);
    }
    ways
}

/// Whether needle and bottle are clear of everything.
fn is_free(tip: DVec3, way: DVec3, standing: &[Block], down: DVec3, bench: f64) -> bool {
    let [length, radius] = BOTTLE_MM;
    let (hub, end) = (tip + way * NEEDLE_MM, tip + way * (NEEDLE_MM + length));
    let tip = tip + way * NEEDLE_RADIUS_MM * 3.0;
    let is_above = hub.dot(down).max(end.dot(down)) + radius < bench;
    is_above
        && standing.iter().all(|block| {
            !block.grown(NEEDLE_RADIUS_MM).is_hit(tip, hub) && !block.grown(radius).is_hit(hub, end)
        })
}

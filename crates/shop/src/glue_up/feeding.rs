//! How the joints of a step are fed: level, within reach of a needle, and so that nothing falls; those with adhesive pressed
//! and within reach of a cloth.

use design::PlacedId;
use glam::DVec3;

use super::block::Block;
use super::glue::Glue;
use super::needle::{self, FedSeam};
use super::parts::Parts;
use super::rest::{LEAST_TIP_DEG, STEADY_DEG, Weight, tip_deg};
use super::seam::Patch;
use super::turns::changes;
use super::{FedJoint, Feed, JointId, Unfed, Why};

mod held;

/// A position that serves a joint.
#[derive(Clone, Debug)]
struct Serves {
    down: DVec3,
    tip_deg: f64,
    seams: Vec<FedSeam>,
    /// Its place among the positions that are possible, the best 0.
    rank: usize,
}

impl Serves {
    /// Whether the new part rests on the joint by its weight; else it must be held already.
    fn is_resting(&self) -> bool {
        self.rank == 0
    }

    /// By how much it is worse than the best: a seam that is fed from below drips, which is worse than any rank.
    fn drawback(&self) -> usize {
        let is_from_below = self.seams.first().is_some_and(|seam| seam.from.dot(self.down) > 0.1);
        self.rank + if is_from_below { 4 } else { 0 }
    }
}

/// The feeds of some joints in as few positions as will do, and the joints that no position serves.
pub(super) fn feeds(
    parts: &Parts<'_>,
    standing: &[PlacedId],
    moving: &[PlacedId],
    joints: &[JointId],
) -> (Vec<Feed>, Vec<Unfed>) {
    let all: Vec<PlacedId> = standing.iter().chain(moving).copied().collect();
    let (blocks, weights) = (parts.blocks(&all), parts.weights(&all));
    let (mut served, mut unfed): (Vec<(JointId, Vec<Serves>)>, _) = (Vec::new(), Vec::new());
    for &joint in joints {
        let positions = positions(parts, moving, joint);
        match parts.patches[&joint] {
            None => unfed.push(Unfed { joint, why: Why::Apart }),
            Some(patch) => {
                let glue = Glue::of(parts, joint);
                let serving = serving(glue, &patch, &positions, &blocks, &weights);
                if serving.is_empty() {
                    let why = why(glue, &patch, &positions, &blocks, &weights);
                    unfed.push(Unfed { joint, why });
                } else {
                    served.push((joint, serving));
                }
            }
        }
    }
    for (_, all) in &mut served {
        if all.iter().any(Serves::is_resting) {
            // Where it does not rest on the joint, it is to be held by one that was made before: then no hand is needed.
            all.retain(|s| s.is_resting() || s.tip_deg >= STEADY_DEG);
        }
    }
    let needs_both =
        |joint: JointId| parts.patches[&joint].as_ref().is_some_and(needle::needs_both);
    (in_few_positions(&served, needs_both), unfed)
}

fn serving(
    glue: Glue,
    patch: &Patch,
    positions: &[DVec3],
    blocks: &[Block],
    weights: &[Weight],
) -> Vec<Serves> {
    let serves = |(rank, &down): (usize, &DVec3)| {
        let tip_deg = tip_deg(weights, down);
        if tip_deg < LEAST_TIP_DEG {
            return None;
        }
        let seams = glue.seams(patch, blocks, down);
        (!seams.is_empty()).then_some(Serves { down, tip_deg, seams, rank })
    };
    positions.iter().enumerate().filter_map(serves).collect()
}

/// Feeds all joints in the positions that take the fewest turns, one that asks for a hand to steady it counted as one turn
/// more; of these, as well as they can be fed.
fn in_few_positions(
    served: &[(JointId, Vec<Serves>)],
    needs_both: impl Fn(JointId) -> bool,
) -> Vec<Feed> {
    let mut downs: Vec<DVec3> = Vec::new();
    for serves in served.iter().flat_map(|(_, all)| all) {
        if !downs.iter().any(|down| down.dot(serves.down) > 0.5) {
            downs.push(serves.down);
        }
    }
    // As it stands already comes first.
    downs.sort_by_key(|down| down.dot(DVec3::NEG_Z) < 0.5);
    let some = |set: u32| -> Vec<DVec3> {
        (0_u32..).zip(&downs).filter(|(k, _)| set >> k & 1 == 1).map(|(_, down)| *down).collect()
    };
    let rated = (0..1_u32 << downs.len()).filter_map(|set| {
        let positions = some(set);
        let all = held::chosen(served, &positions)?;
        let needs_hand =
            |down: &DVec3| all.iter().any(|s| s.down.dot(*down) > 0.5 && s.tip_deg < STEADY_DEG);
        let hands = positions.iter().filter(|down| needs_hand(down)).count();
        let drawbacks: usize = all.iter().map(|s| s.drawback()).sum();
        Some((changes(&positions) + hands, hands, drawbacks, set))
    });
    let Some((_, _, _, set)) = rated.min() else { return Vec::new() };
    let positions = some(set);
    let Some(chosen) = held::chosen(served, &positions) else { return Vec::new() };
    let mut feeds: Vec<Feed> = Vec::new();
    for down in positions {
        let mut here: Vec<(JointId, &Serves)> = served
            .iter()
            .zip(&chosen)
            .filter(|(_, serves)| serves.down.dot(down) > 0.5)
            .map(|((joint, _), serves)| (*joint, *serves))
            .collect();
        // What it rests on is made first.
        here.sort_by_key(|(_, serves)| !serves.is_resting());
        let Some(tip_deg) = here.first().map(|(_, serves)| serves.tip_deg) else { continue };
        let fed = |(joint, serves): (JointId, &Serves)| FedJoint {
            joint,
            seams: serves.seams.clone(),
            needs_both: needs_both(joint),
        };
        let joints = here.into_iter().map(fed).collect();
        feeds.push(Feed { down, joints, tip_deg, is_on_blocks: false });
    }
    feeds
}

/// Why no position serves a joint: of what is in the way the least.
pub(super) fn why(
    glue: Glue,
    patch: &Patch,
    positions: &[DVec3],
    blocks: &[Block],
    weights: &[Weight],
) -> Why {
    let is_fed = |down: DVec3| !glue.seams(patch, blocks, down).is_empty();
    let tips =
        positions.iter().filter(|down| is_fed(**down)).map(|&down| (down, tip_deg(weights, down)));
    if let Some((down, tip_deg)) = tips.max_by(|(_, a), (_, b)| a.total_cmp(b)) {
        return Why::Tips { down, tip_deg };
    }
    if glue == Glue::Adhesive {
        return Why::NotWiped;
    }
    let one_side = positions.iter().any(|&down| needle::reached(patch, blocks, down).len() == 1);
    if one_side { Why::OneSide } else { Why::OutOfReach }
}

/// The joints among these that cannot be served whatever is down. What stands later only takes room away, so they
/// never will be reached.
pub(super) fn out_of_reach(
    parts: &Parts<'_>,
    standing: &[PlacedId],
    moving: &[PlacedId],
    joints: &[JointId],
) -> Vec<JointId> {
    let all: Vec<PlacedId> = standing.iter().chain(moving).copied().collect();
    let blocks = parts.blocks(&all);
    let is_fed = |joint: &JointId| {
        parts.patches[joint].is_some_and(|patch| {
            let downs = positions(parts, moving, *joint);
            let glue = Glue::of(parts, *joint);
            downs.into_iter().any(|down| !glue.seams(&patch, &blocks, down).is_empty())
        })
    };
    joints.iter().copied().filter(|joint| !is_fed(joint)).collect()
}

/// What may be down while a joint is fed, the best first: the part that stands already, so that the new one rests on
/// it by its weight; then the new part, so that all else rests on it; then either side of the strip. In all of them
/// the joint lies level.
fn positions(parts: &Parts<'_>, moving: &[PlacedId], joint: JointId) -> Vec<DVec3> {
    let Some(patch) = parts.patches[&joint] else { return Vec::new() };
    let out = if moving.contains(&parts.joint(joint).a) { patch.out } else { -patch.out };
    let [s, t] = patch.seams.map(|seam| seam.side);
    vec![out, -out, s, t]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(lo: [f64; 3], hi: [f64; 3]) -> Block {
        Block { lo: lo.into(), hi: hi.into() }
    }

    /// Why the first two of some blocks, which may be one material, cannot be fed with these positions to choose from.
    fn why_of(blocks: &[Block], positions: &[DVec3]) -> Why {
        let patch = Patch::of(&blocks[0], &blocks[1]).unwrap();
        let weight = |block: &Block| Weight {
            block: *block,
            mass: block.size().element_product(),
            middle: block.middle(),
        };
        let weights: Vec<Weight> = blocks.iter().map(weight).collect();
        why(Glue::Solvent, &patch, positions, blocks, &weights)
    }

    #[test]
    fn every_reason_is_kept_apart() {
        let wall = block([0.0, 0.0, 8.0], [500.0, 8.0, 300.0]);
        let strip = block([0.0, 0.0, 0.0], [500.0, 8.0, 8.0]);
        // A wall on a strip of its own thickness falls over.
        let Why::Tips { down, tip_deg } = why_of(&[wall, strip], &[DVec3::NEG_Z]) else { panic!() };
        assert_eq!(down, DVec3::NEG_Z);
        // A sheet of 8 mm on edge, its middle 150 mm up: atan(4 / 150).
        assert!((tip_deg - 1.5).abs() < 0.1, "{tip_deg}");

        // A block 40 mm wide on a board, beside a high wall on one side: fed from the other only.
        let board = block([0.0, 0.0, 0.0], [500.0, 300.0, 8.0]);
        let bar = block([50.0, 40.0, 8.0], [450.0, 80.0, 28.0]);
        let beside = block([0.0, 20.0, 8.0], [500.0, 28.0, 400.0]);
        assert_eq!(why_of(&[bar, board, beside], &[DVec3::NEG_Z]), Why::OneSide);

        // Between two high walls: from neither.
        let other = block([0.0, 92.0, 8.0], [500.0, 100.0, 400.0]);
        assert_eq!(why_of(&[bar, board, beside, other], &[DVec3::NEG_Z]), Why::OutOfReach);
    }

    #[test]
    fn an_upright_joint_is_never_the_only_one_that_is_reached() {
        // A leaf between two walls of a channel that is open above: reached lying level or not at all.
        for gap in [30.0, 60.0, 120.0, 240.0] {
            let leaf = block([0.0, 8.0, 0.0], [8.0, 200.0, 250.0]);
            let wall = block([-400.0, 0.0, 0.0], [400.0, 8.0, 250.0]);
            let near = block([8.0 + gap, 8.0, 0.0], [16.0 + gap, 200.0, 250.0]);
            let far = block([-8.0 - gap, 8.0, 0.0], [-gap, 200.0, 250.0]);
            let blocks = [leaf, wall, near, far];
            let patch = Patch::of(&leaf, &wall).unwrap();
            let is_reached = |down: DVec3| !needle::reached(&patch, &blocks, down).is_empty();
            let level = [patch.out, -patch.out, patch.seams[0].side, patch.seams[1].side];
            let upright = [patch.along, -patch.along].into_iter().any(is_reached);
            assert!(!upright || level.into_iter().any(is_reached), "{gap}");
        }
    }
}

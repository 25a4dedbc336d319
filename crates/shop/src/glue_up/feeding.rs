//! In which positions the joints of a step are fed: level, within reach of a needle, and so that nothing falls.

use design::PlacedId;
use glam::DVec3;

use super::needle;
use super::parts::Parts;
use super::rest::{LEAST_TIP_DEG, tip_deg};
use super::{FedJoint, Feed, JointId};

/// The feeds of some joints, and the joints that no position serves.
pub(super) fn feeds(
    parts: &Parts<'_>,
    standing: &[PlacedId],
    moving: &[PlacedId],
    joints: &[JointId],
) -> (Vec<Feed>, Vec<JointId>) {
    let all: Vec<PlacedId> = standing.iter().chain(moving).copied().collect();
    let (blocks, weights) = (parts.blocks(&all), parts.weights(&all));
    let (mut feeds, mut unfed): (Vec<Feed>, Vec<JointId>) = (Vec::new(), Vec::new());
    for &joint in joints {
        let Some(patch) = parts.patches[&joint] else {
            unfed.push(joint);
            continue;
        };
        let serves = |down: DVec3| {
            let tip = tip_deg(&weights, down);
            if tip < LEAST_TIP_DEG {
                return None;
            }
            let seams = needle::fed(&patch, &blocks, down);
            (!seams.is_empty()).then_some((down, tip, seams))
        };
        let found = positions(parts, moving, joint).into_iter().find_map(serves);
        let Some((down, tip_deg, seams)) = found else {
            unfed.push(joint);
            continue;
        };
        let fed = FedJoint { joint, seams };
        match feeds.iter_mut().find(|feed| feed.down.dot(down) > 0.5) {
            Some(feed) => feed.joints.push(fed),
            None => feeds.push(Feed { down, joints: vec![fed], tip_deg, is_on_blocks: false }),
        }
    }
    // As it stands already comes first.
    feeds.sort_by_key(|feed| feed.down.dot(DVec3::NEG_Z) < 0.5);
    (feeds, unfed)
}

/// The joints among these that no needle reaches whatever is down. What stands later only takes room away, so they
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
            downs.into_iter().any(|down| !needle::fed(&patch, &blocks, down).is_empty())
        })
    };
    joints.iter().copied().filter(|joint| !is_fed(joint)).collect()
}

/// What may be down while a joint is fed, the best first: the part that stands already, so that the new one rests on
/// it by its weight; then either side of the strip, which lies level then too; then the new part.
fn positions(parts: &Parts<'_>, moving: &[PlacedId], joint: JointId) -> Vec<DVec3> {
    let Some(patch) = parts.patches[&joint] else { return Vec::new() };
    let out = if moving.contains(&parts.joint(joint).a) { patch.out } else { -patch.out };
    let [s, t] = patch.seams.map(|seam| seam.side);
    vec![out, s, t, -out]
}

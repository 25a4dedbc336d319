//! What is over an opening, and how much room it leaves.

use glam::DVec3;

use super::cover::{Plane, groups, left};
use super::shells::{Opening, lids_over};
use crate::convex::Convex;
use crate::plan::space::Space;
use crate::world::ThingId;

/// How far above the lower face of a lid its plane is laid, mm: less than any sheet is thick. Granted to the part.
const INTO: f64 = 0.1;

/// A lid over an opening.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lid {
    /// How much room there is from the plane of the opening up to it, mm.
    pub(super) headroom: f64,
    /// The greatest length across a hole in it, mm; 0: it has none there.
    pub(super) hole: f64,
    /// What it is.
    pub(super) thing: ThingId,
}

/// The lowest lid over all that a part comes to whose middle is in the opening and that reaches no farther than `reach`
/// from its middle.
///
/// What of the part is above the plane of the opening hangs together through it. To be above the lid it has to cross
/// the lid's plane, within `reach` of the opening: in a hole, or where a wall does not shut the room below the lid off
/// on that side.
pub(super) fn lid(space: &Space<'_>, opening: &Opening, reach: f64) -> Option<Lid> {
    if !opening.is_above {
        return None;
    }
    let [lo, hi] = opening.corners;
    let below = hi.z;
    lids_over(space, [lo, hi]).into_iter().find_map(|level| {
        let plane = Plane { axis: 2, at: level.bottom + INTO };
        let region = walled(space, opening, reach, plane.at);
        let face = region.map(|p| plane.flat(p));
        let mut hole: f64 = 0.0;
        for [least, most] in groups(&left(face, &plane.sections(space))) {
            let is_within = least.cmpgt(face[0] + 1e-6).all() && most.cmplt(face[1] - 1e-6).all();
            if !is_within {
                return None;
            }
            hole = hole.max((most - least).length());
        }
        Some(Lid { headroom: plane.at - below, hole, thing: level.thing })
    })
}

/// All within `reach` aside of the opening, cut off on every side where a wall shuts it from the plane of the opening
/// up to that of the lid.
fn walled(space: &Space<'_>, opening: &Opening, reach: f64, above: f64) -> [DVec3; 2] {
    let aside = DVec3::new(reach, reach, 0.0);
    let mut region = [opening.corners[0] - aside, opening.corners[1] + aside];
    for axis in 0..2 {
        for side in [0, 1] {
            let (from, edge) = (opening.corners[side][axis], region[side][axis]);
            let is_beside = |at: &f64| from.min(edge) < *at && *at < from.max(edge);
            let shuts = |at: &f64| {
                let plane = Plane { axis, at: *at };
                let [lo, hi] = region;
                let face =
                    [lo.with_z(opening.corners[0].z), hi.with_z(above)].map(|p| plane.flat(p));
                left(face, &plane.sections(space)).is_empty()
            };
            let pieces = space.fixed.iter().map(|obstacle| obstacle.piece);
            let reaches_lid = |piece: &&Convex| above <= piece.max.z;
            let middle = |piece: &Convex| (piece.min[axis] + piece.max[axis]) / 2.0;
            let mut walls: Vec<f64> =
                pieces.filter(reaches_lid).map(middle).filter(is_beside).collect();
            walls.sort_by(f64::total_cmp);
            walls.dedup();
            if let Some(at) = walls.into_iter().find(shuts) {
                region[side][axis] = at;
            }
        }
    }
    region
}

//! Printed fittings that are stuck on with an adhesive: no part of the box, so they come when it is glued and tested.

use design::{Design, JointKind, PlacedId};

use super::JointId;

/// A fitting that is stuck to a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stuck {
    /// The joint.
    pub joint: JointId,
    /// The fitting.
    pub fitting: PlacedId,
    /// What it is stuck to.
    pub host: PlacedId,
}

/// All of them in the order of work: first those on what is loose, which lies flat for it, then those in the box; all on one
/// part after each other, the lowest first.
pub fn stuck(design: &Design) -> Vec<Stuck> {
    let joints = design.joints.iter().enumerate();
    let mut all: Vec<Stuck> = joints
        .filter(|(_, joint)| joint.kind == JointKind::Stuck)
        .map(|(id, joint)| {
            let is_printed =
                |id: PlacedId| design.pieces[design.placed[id].piece].role.is_printed();
            // Of two printed ones the first was put onto the other.
            let [fitting, host] =
                if is_printed(joint.a) { [joint.a, joint.b] } else { [joint.b, joint.a] };
            Stuck { joint: id, fitting, host }
        })
        .collect();
    let height = |id: PlacedId| {
        let placed = &design.placed[id];
        let [lo, hi] = design.pieces[placed.piece].shape.bounds();
        placed.pose.transform_point3(lo).z.min(placed.pose.transform_point3(hi).z)
    };
    all.sort_by(|a, b| {
        let is_fixed = |stuck: &Stuck| design.placed[stuck.host].loose.is_none();
        (is_fixed(a), a.host)
            .cmp(&(is_fixed(b), b.host))
            .then(height(a.fitting).total_cmp(&height(b.fitting)))
            .then(a.fitting.cmp(&b.fitting))
    });
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_stuck_on_comes_loose_parts_first_and_each_once() {
        let file = params::read(include_str!("../../../../params/fragfarm.toml")).file;
        let design = design::resolve(&file.expect("understood")).design.expect("resolved");
        let all = stuck(&design);
        // By the file: a handle on a lid, and four ledges on two walls.
        let names = |stuck: &Stuck| {
            [stuck.fitting, stuck.host].map(|id| design.placed[id].name.clone()).join(" on ")
        };
        let told: Vec<String> = all.iter().map(names).collect();
        assert_eq!(told.len(), 5, "{told:?}");
        assert!(told[0].contains("lid-handle") && told[0].contains("on lid"), "{told:?}");
        let on = |wall: &str| told.iter().filter(|told| told.ends_with(wall)).count();
        assert_eq!([on("front wall"), on("back wall")], [2, 2], "{told:?}");
        // Those of one wall after each other.
        let mut hosts: Vec<PlacedId> = all.iter().map(|stuck| stuck.host).collect();
        hosts.dedup();
        assert_eq!(hosts.len(), 3, "{told:?}");
    }
}

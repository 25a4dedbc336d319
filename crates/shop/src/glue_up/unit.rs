//! What is put in at one time: single parts, and what is glued flat on the bench before.

use design::{PlacedId, Role};
use glam::DVec3;

use super::parts::Parts;

/// Parts that go into the box as one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Unit {
    /// The part itself, a wall or a leaf where others are glued to it.
    pub(super) host: PlacedId,
    /// What is glued onto it while it lies flat, in the order of the design.
    pub(super) fittings: Vec<PlacedId>,
}

impl Unit {
    pub(super) fn ids(&self) -> Vec<PlacedId> {
        std::iter::once(self.host).chain(self.fittings.iter().copied()).collect()
    }
}

/// All that is glued, as units: strips, channels and ledges with the wall or leaf that they are glued to, or each by
/// itself.
pub(super) fn units(parts: &Parts<'_>, on_hosts: bool) -> Vec<Unit> {
    let mut ids: Vec<PlacedId> = parts.glued().flat_map(|(_, joint)| [joint.a, joint.b]).collect();
    ids.sort_unstable();
    ids.dedup();
    let host = |id: PlacedId| if on_hosts { host_of(parts, id) } else { None };
    let hosts = ids.iter().copied().filter(|&id| host(id).is_none());
    let unit = |id: PlacedId| Unit {
        host: id,
        fittings: ids.iter().copied().filter(|&f| host(f) == Some(id)).collect(),
    };
    hosts.map(unit).collect()
}

/// The one wall or leaf that a small part is glued onto.
fn host_of(parts: &Parts<'_>, id: PlacedId) -> Option<PlacedId> {
    if !matches!(parts.role(id), Role::GuideStrip | Role::GuideChannel | Role::Ledge) {
        return None;
    }
    let others = parts.glued().filter_map(|(_, joint)| match () {
        () if joint.a == id => Some(joint.b),
        () if joint.b == id => Some(joint.a),
        () => None,
    });
    let hosts: Vec<PlacedId> =
        others.filter(|&other| matches!(parts.role(other), Role::Wall | Role::Leaf)).collect();
    match hosts[..] {
        [host] => Some(host),
        _ => None,
    }
}

/// The fittings of a unit in the order in which they are glued on: face by face, alike parts together.
pub(super) fn sets(parts: &Parts<'_>, unit: &Unit) -> Vec<(DVec3, Vec<PlacedId>)> {
    let mut sets: Vec<(DVec3, Vec<PlacedId>)> = Vec::new();
    for &fitting in &unit.fittings {
        let joints = parts.between(&[fitting], &[unit.host]);
        let Some(patch) = joints.first().and_then(|id| parts.patches[id]) else { continue };
        // Towards the host, whichever of the two the joint names first.
        let out = if parts.joint(joints[0]).a == fitting { patch.out } else { -patch.out };
        let piece = parts.design.placed[fitting].piece;
        let alike = sets.iter_mut().find(|(down, ids)| {
            down.dot(out) > 0.5 && ids.iter().all(|&id| parts.design.placed[id].piece == piece)
        });
        match alike {
            Some((_, ids)) => ids.push(fitting),
            None => sets.push((out, vec![fitting])),
        }
    }
    // One face after the other, so that it is turned once.
    let first = sets.first().map_or(DVec3::ZERO, |(down, _)| *down);
    sets.sort_by_key(|(down, _)| down.dot(first) < 0.5);
    sets
}

//! A door on its leaf: which faces lie together, how high the leaf reaches, and where the door can be set.

use design::{Design, JointKind, PlacedId, Role};
use params::{Door, DoorSide, File};

use super::board::Board;
use crate::panel::{DoorAt, DoorSet};
use crate::stack;

/// Places nearer to one another than this are one, mm.
const SAME_MM: f64 = 0.5;

/// How a door lies on its leaf.
#[derive(Clone, Debug)]
pub(crate) struct Mount<'a> {
    pub(crate) spec: &'a Door,
    /// The leaf.
    pub(crate) on: Board,
    /// Face of the door that lies on the leaf: 1 the upper one, −1 the lower.
    pub(crate) face: f64,
    /// The leaf's face that it lies on: 0 the upper one, 1 the lower.
    pub(crate) own: usize,
}

impl<'a> Mount<'a> {
    /// `None` where no leaf is found that it hangs on.
    pub(crate) fn of(file: &'a File, design: &Design, door: PlacedId) -> Option<Self> {
        let leaf = clamped(design, door, Role::Leaf).next()?;
        // Whether the other's middle lies before a part's upper face or behind its lower one.
        let side = |of: PlacedId, other: PlacedId| {
            let way = design.block(other).middle() - design.block(of).middle();
            design.placed[of].pose.matrix3.z_axis.dot(way).signum()
        };
        Some(Self {
            spec: stack::door_spec(file, design, door)?,
            on: Board::of(design, leaf)?,
            face: side(door, leaf),
            own: usize::from(side(leaf, door) < 0.0),
        })
    }

    /// Whether flow pushes it off.
    pub(crate) fn is_downstream(&self) -> bool {
        self.spec.side == DoorSide::Downstream
    }

    /// Where it is assessed: at both ends of its range and as it is set.
    pub(crate) fn sets(&self) -> Vec<DoorSet> {
        let [lowest, highest] = [self.spec.lowest, self.spec.highest].map(units::Length::to_mm);
        let set = self.spec.set.map_or(0.5 * (lowest + highest), units::Length::to_mm);
        let mut sets = vec![DoorSet { at: DoorAt::AsSet, raised_mm: 0.0 }];
        for (at, mm) in [(DoorAt::Lowest, lowest), (DoorAt::Highest, highest)] {
            let raised_mm = mm - set;
            if raised_mm.abs() > SAME_MM {
                sets.push(DoorSet { at, raised_mm });
            }
        }
        sets
    }
}

/// Parts of a role that are clamped to another.
pub(crate) fn clamped(
    design: &Design,
    to: PlacedId,
    role: Role,
) -> impl Iterator<Item = PlacedId> + '_ {
    let joints = design.joints.iter().filter(|joint| joint.kind == JointKind::Clamped);
    let others = joints.filter_map(move |joint| match to {
        a if joint.a == a => Some(joint.b),
        b if joint.b == b => Some(joint.a),
        _ => None,
    });
    others.filter(move |other| design.pieces[design.placed[*other].piece].role == role)
}

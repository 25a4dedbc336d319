//! What a joint asks for while it is made: solvent is fed along it, adhesive is pressed and wiped.

use glam::DVec3;

use super::JointId;
use super::block::Block;
use super::bond::bond;
use super::needle::{self, FedSeam};
use super::parts::Parts;
use super::seam::Patch;

/// What is put into a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Glue {
    /// Thin solvent, fed by a needle when the parts stand in their place.
    Solvent,
    /// Adhesive or cement, put on both faces before they meet.
    Adhesive,
}

impl Glue {
    pub(super) fn of(parts: &Parts<'_>, joint: JointId) -> Self {
        if bond(parts.design, joint).is_adhesive() { Self::Adhesive } else { Self::Solvent }
    }

    /// The seams along which it is served with this side down; empty when it is not. Adhesive is pressed by the weight of
    /// what lies above the joint, and wiped where a stick with a cloth gets along, one as slender as the needle (our
    /// judgement).
    pub(super) fn seams(self, patch: &Patch, standing: &[Block], down: DVec3) -> Vec<FedSeam> {
        match self {
            Self::Solvent => needle::fed(patch, standing, down),
            Self::Adhesive if is_pressed(patch, down) => needle::reached(patch, standing, down),
            Self::Adhesive => Vec::new(),
        }
    }
}

/// Whether one of the two parts lies on the other with this side down.
fn is_pressed(patch: &Patch, down: DVec3) -> bool {
    patch.out.dot(down).abs() > 0.5
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(lo: [f64; 3], hi: [f64; 3]) -> Block {
        Block { lo: lo.into(), hi: hi.into() }
    }

    #[test]
    fn adhesive_is_pressed_and_wiped_from_one_side() {
        // A bar 40 mm wide on a board, beside a high wall on one side.
        let board = block([0.0, 0.0, 0.0], [500.0, 300.0, 8.0]);
        let bar = block([50.0, 40.0, 8.0], [450.0, 80.0, 28.0]);
        let beside = block([0.0, 20.0, 8.0], [500.0, 28.0, 400.0]);
        let other = block([0.0, 92.0, 8.0], [500.0, 100.0, 400.0]);
        let patch = Patch::of(&bar, &board).unwrap();
        let one = |glue: Glue, down| glue.seams(&patch, &[bar, board, beside], down).len();
        assert_eq!(one(Glue::Adhesive, DVec3::NEG_Z), 1);
        assert_eq!(one(Glue::Solvent, DVec3::NEG_Z), 0, "it is too wide to be fed from one side");
        // With a side of the strip down nothing presses it.
        assert_eq!(one(Glue::Adhesive, DVec3::NEG_Y), 0);
        let none = Glue::Adhesive.seams(&patch, &[bar, board, beside, other], DVec3::NEG_Z);
        assert!(none.is_empty(), "nobody gets there with a cloth");
    }
}

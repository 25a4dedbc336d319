//! How often what is glued is turned, and how heavy it is then.

use design::Design;
use glam::DVec3;

use super::{GlueUp, JointId, Step, StepPlace};

/// How often a box is turned while it is glued.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Turns {
    /// How many times, onto whatever side, back onto its bottom included.
    pub count: usize,
    /// The mass of what is turned, summed over all times, kg; parts of unknown mass not included.
    pub kg: f64,
}

/// From one position to the next, beginning and ending on the bottom: how often it is turned.
pub(super) fn changes(positions: &[DVec3]) -> usize {
    let is_turned = |down: &DVec3| down.dot(DVec3::NEG_Z) < 0.5;
    let turned = positions.iter().filter(|down| is_turned(down)).count();
    turned + usize::from(turned > 0)
}

impl Step {
    /// All joints that are made in it, fed or not.
    pub fn joints(&self) -> impl Iterator<Item = JointId> + '_ {
        let fed = self.feeds.iter().flat_map(|feed| feed.joints.iter().map(|fed| fed.joint));
        fed.chain(self.unfed.iter().map(|unfed| unfed.joint))
    }

    /// How often the box is turned in this step, until it stands on its bottom again; what lies on the bench is not
    /// counted.
    pub fn turns(&self) -> usize {
        match self.place {
            StepPlace::Bench => 0,
            StepPlace::Box => changes(&self.feeds.iter().map(|feed| feed.down).collect::<Vec<_>>()),
        }
    }
}

impl GlueUp {
    /// How often the box is turned in all steps, and how much that is to lift.
    pub fn turns(&self, design: &Design) -> Turns {
        let mut turns = Turns::default();
        for step in &self.steps {
            let parts = step.standing.iter().chain(&step.parts);
            let masses = parts.filter_map(|&id| design.pieces[design.placed[id].piece].mass_kg());
            #[expect(clippy::cast_precision_loss, reason = "a small count")]
            let times = step.turns() as f64;
            turns.kg += times * masses.sum::<f64>();
            turns.count += step.turns();
        }
        turns
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_comes_back_onto_its_bottom() {
        let (on, front, back) = (DVec3::NEG_Z, DVec3::NEG_Y, DVec3::Y);
        assert_eq!(changes(&[]), 0);
        assert_eq!(changes(&[on]), 0);
        assert_eq!(changes(&[on, front]), 2);
        assert_eq!(changes(&[on, front, back]), 3);
        assert_eq!(changes(&[front]), 2);
    }
}

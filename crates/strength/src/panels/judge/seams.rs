//! What a panel does to the seams along it.

use design::PlacedId;

use super::{Judge, Runs};
use crate::panel::Held;

/// The worst that one panel does to one of its seams.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SeamLoad {
    /// Index into `design.joints`.
    pub(crate) joint: usize,
    /// The panel.
    pub(crate) panel: PlacedId,
    /// Greatest force per length across the joint that pulls it open, N/mm.
    pub(crate) pull_n_mm: f64,
    /// Greatest force per length along its face, N/mm.
    pub(crate) shear_n_mm: f64,
    /// Greatest moment per length, the seam clamped alone, N.
    pub(crate) moment_n: f64,
    /// Under which load the moment, or else the force, is greatest.
    pub(crate) load: String,
}

impl Judge<'_> {
    pub(super) fn seam_loads(&self, sets: &[Runs]) -> Vec<SeamLoad> {
        let props = self.model.props.iter().enumerate();
        let seams = props.filter(|(_, p)| matches!(p.held, Held::Glued | Held::Rim));
        seams.filter_map(|(line, _)| self.seam_load(sets, line)).collect()
    }

    fn seam_load(&self, sets: &[Runs], line: usize) -> Option<SeamLoad> {
        let prop = &self.model.props[line];
        let mut worst = SeamLoad {
            joint: prop.joint?,
            panel: self.placed(),
            pull_n_mm: 0.0,
            shear_n_mm: 0.0,
            moment_n: 0.0,
            load: String::new(),
        };
        let mut hardest = 0.0;
        for solved in sets.iter().flat_map(|set| &set.solved) {
            for (field, bearing) in solved.bending.fields.iter().zip(self.bearings) {
                let reaction = &field.reactions.lines[line];
                let force = reaction.most_force.map_or(0.0, |most| most.value * 1e-3);
                let moment = reaction.most_moment.map_or(0.0, |most| most.value.abs());
                // A positive force keeps the panel from moving out of its lower face: what sits on the upper face pulls.
                match prop.face {
                    Some(side) => worst.pull_n_mm = worst.pull_n_mm.max(force * side),
                    None => worst.shear_n_mm = worst.shear_n_mm.max(force.abs()),
                }
                worst.moment_n = worst.moment_n.max(moment);
                // N against N/mm: either alone orders loads of one seam alike.
                let hard = moment + force.abs();
                if hard > hardest {
                    hardest = hard;
                    worst.load.clone_from(&bearing.words);
                }
            }
        }
        Some(worst)
    }
}

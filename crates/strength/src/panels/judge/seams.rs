//! What a panel does to the seams along it.

use super::{Judge, Runs};
use crate::panel::{Held, Run};

/// The worst that one panel does to one of its seams.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SeamLoad {
    /// Index into `design.joints`.
    pub(crate) joint: usize,
    /// Of all runs.
    pub(crate) most: Pulls,
    /// With all seams hinged: what it carries however soft it is.
    pub(crate) hinged: Pulls,
    /// Greatest moment per length, the seam clamped alone, N.
    pub(crate) moment_n: f64,
    /// Under which load the moment, or else the force, is greatest.
    pub(crate) load: String,
}

/// Greatest forces per length, N/mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Pulls {
    /// That pulls the joint open.
    pub(crate) pull_n_mm: f64,
    /// Along its face.
    pub(crate) shear_n_mm: f64,
}

impl Judge<'_> {
    pub(super) fn seam_loads(&self, sets: &[Runs]) -> Vec<SeamLoad> {
        let props = self.model.props.iter().enumerate();
        let seams = props.filter(|(_, p)| p.is_seam() || p.held == Held::Rim);
        seams.filter_map(|(line, _)| self.seam_load(sets, line)).collect()
    }

    fn seam_load(&self, sets: &[Runs], line: usize) -> Option<SeamLoad> {
        let prop = &self.model.props[line];
        let mut worst = SeamLoad {
            joint: prop.joint?,
            most: Pulls::default(),
            hinged: Pulls::default(),
            moment_n: 0.0,
            load: String::new(),
        };
        let mut hardest = 0.0;
        for solved in sets.iter().flat_map(|set| &set.solved) {
            for (field, bearing) in solved.bending.fields.iter().zip(self.bearings) {
                let reaction = &field.reactions.lines[line];
                let moment = reaction.most_moment.map_or(0.0, |most| most.value.abs());
                let force = match prop.held {
                    // A frame carries the bottom itself: its seams only keep it from turning.
                    Held::Rests => Pulls::default(),
                    _ => pulls(&reaction.force, prop.face),
                };
                worst.most = worst.most.max(force);
                if solved.run == Run::Hinged {
                    worst.hinged = worst.hinged.max(force);
                }
                worst.moment_n = worst.moment_n.max(moment);
                // N against N/mm: either alone orders loads of one seam alike.
                let hard = moment + force.pull_n_mm + force.shear_n_mm;
                if hard > hardest {
                    hardest = hard;
                    worst.load.clone_from(&bearing.words);
                }
            }
        }
        Some(worst)
    }
}

/// Of forces per length along a line, N/m, its ends left out: there stand the corners' own forces.
///
/// A positive force keeps the panel from moving out of its lower face, so what sits on its upper face pulls.
fn pulls(force: &[f64], face: Option<f64>) -> Pulls {
    let inner = force.get(1..force.len().saturating_sub(1)).unwrap_or_default();
    let most = |of: &dyn Fn(f64) -> f64| 1e-3 * inner.iter().map(|f| of(*f)).fold(0.0, f64::max);
    match face {
        Some(side) => Pulls { pull_n_mm: most(&|f| f * side), shear_n_mm: 0.0 },
        None => Pulls { pull_n_mm: 0.0, shear_n_mm: most(&f64::abs) },
    }
}

impl Pulls {
    fn max(self, other: Self) -> Self {
        Self {
            pull_n_mm: self.pull_n_mm.max(other.pull_n_mm),
            shear_n_mm: self.shear_n_mm.max(other.shear_n_mm),
        }
    }
}

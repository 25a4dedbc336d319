//! What a panel does to the seams along it.

use bending::Peak;
use design::PlacedId;

use super::{Judge, Runs};
use crate::panel::{Duration, Held, Run};
use crate::panels::props::Prop;

/// The worst that one panel does to one of its seams.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SeamLoad {
    /// Index into `design.joints`.
    pub(crate) joint: usize,
    /// The panel that does it.
    pub(crate) panel: PlacedId,
    /// Of all loads.
    pub(crate) all: Worst,
    /// Of loads that bear for years; `None` where there is none.
    pub(crate) years: Option<Worst>,
}

/// The worst of some loads.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Worst {
    /// Of all runs.
    pub(crate) most: Pulls,
    /// With all seams hinged: what it carries however soft it is.
    pub(crate) hinged: Pulls,
    /// Greatest moment per length, the seam clamped alone, N.
    pub(crate) moment_n: f64,
    /// That moment over the angle that the panel turns there if it is hinged, N: how stiffly it resists being turned. `None` of a
    /// seam that does not run along the panel's edge.
    pub(crate) stiffness_n: Option<f64>,
    /// Under which load the moment, or else the force, is greatest.
    pub(crate) load: String,
    /// How long that load bears.
    pub(crate) duration: Duration,
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
        Some(SeamLoad {
            joint: self.model.props[line].joint?,
            panel: self.placed(),
            all: self.worst_of(sets, line, |_| true)?,
            years: self.worst_of(sets, line, |duration| duration == Duration::Years),
        })
    }

    /// The worst of loads that bear so long; `None` where there is none.
    fn worst_of(
        &self,
        sets: &[Runs],
        line: usize,
        bears: impl Fn(Duration) -> bool,
    ) -> Option<Worst> {
        let prop = &self.model.props[line];
        let first = self.bearings.iter().find(|bearing| bears(bearing.duration))?;
        let mut worst = Worst {
            most: Pulls::default(),
            hinged: Pulls::default(),
            moment_n: 0.0,
            stiffness_n: None,
            load: first.words.clone(),
            duration: first.duration,
        };
        let mut hardest = 0.0;
        for (set, solved) in sets.iter().flat_map(|set| set.solved.iter().map(move |s| (set, s))) {
            for (index, bearing) in self.bearings.iter().enumerate() {
                if !bears(bearing.duration) {
                    continue;
                }
                let reaction = &solved.bending.fields[index].reactions.lines[line];
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
                if let Some(most) = reaction.most_moment.filter(|_| moment > worst.moment_n) {
                    worst.moment_n = moment;
                    worst.stiffness_n = stiffness(set, prop, index, most);
                }
                // N against N/mm: either alone orders loads of one seam alike.
                let hard = moment + force.pull_n_mm + force.shear_n_mm;
                if hard > hardest {
                    hardest = hard;
                    worst.load.clone_from(&bearing.words);
                    worst.duration = bearing.duration;
                }
            }
        }
        Some(worst)
    }
}

/// How stiffly a panel resists being turned at its edge: the moment there if it is clamped over the angle there if all seams are
/// hinged, under the same load. The angle is that of the deflection a hundredth of the panel inside: at a hinge it is straight.
fn stiffness(set: &Runs, prop: &Prop, bearing: usize, most: Peak) -> Option<f64> {
    const INSIDE: f64 = 0.01;
    let hinged = &set.solved.first().filter(|solved| solved.run == Run::Hinged)?.bending;
    let [width, height] = hinged.plate.size;
    let step = match prop.edge? {
        0 => [INSIDE * width, 0.0],
        1 => [-INSIDE * width, 0.0],
        2 => [0.0, INSIDE * height],
        _ => [0.0, -INSIDE * height],
    };
    let inside = [most.at[0] + step[0], most.at[1] + step[1]];
    let angle = hinged.deflection_at(bearing, inside)?.abs() / step[0].hypot(step[1]);
    (angle > 0.0).then(|| most.value.abs() / angle)
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

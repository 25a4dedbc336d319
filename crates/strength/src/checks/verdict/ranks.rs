//! Which panel decides, and by what: all that is strained or bends, the worst first.

use std::cmp::{Ordering, Reverse};

use design::Design;
use findings::Grade;

use crate::checks::panels::Teller;
use crate::checks::strain::{Bent, Reach, Rung, Strained};
use crate::keeps;
use crate::panel::{Duration, Load, Panel};

/// How bad it is, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Case {
    /// A finding fails.
    Fails,
    /// What bears for years leaves less than wanted to spare.
    Scant,
    /// A loose part that may crack, or come out, within days or hours.
    MayBreak,
    /// It is borne for days or hours only.
    Brief,
    /// It bends more than wanted, or further than the theory reaches.
    Bends,
    Holds,
}

/// What it is that strains or bends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum By {
    Stress(Strained),
    Bend(Bent),
}

/// One load of one panel, by its stress or by its bend.
#[derive(Clone, Copy, Debug)]
pub(super) struct Matter<'a> {
    pub(super) panel: &'a Panel,
    pub(super) case: Case,
    pub(super) keeps_water_in: bool,
    pub(super) by: By,
}

impl<'a> Matter<'a> {
    /// All of a panel.
    pub(super) fn all(panel: &'a Panel, design: &Design, teller: &Teller<'_>) -> Vec<Self> {
        let keeps_water_in = keeps::water_in(design, panel.placed);
        let matter = |case: Case, by: By| Self { panel, case, keeps_water_in, by };
        let stresses = Strained::all(panel).into_iter().map(|strained| {
            let case = match strained.rung() {
                _ if strained.grade(keeps_water_in) == Grade::Fails => Case::Fails,
                Rung::TooMuch => Case::MayBreak,
                Rung::Scant => Case::Scant,
                Rung::Brief => Case::Brief,
                // What is not known of its stress is known of its bend.
                Rung::Unknown | Rung::Ample => Case::Holds,
            };
            matter(case, By::Stress(strained))
        });
        let bends = Bent::all(panel).map(|bent| {
            let case = match teller.bend_grade(panel, &bent) {
                Grade::Fails => Case::Fails,
                Grade::Tight => Case::Bends,
                _ => Case::Holds,
            };
            matter(case, By::Bend(bent))
        });
        stresses.chain(bends).collect()
    }

    pub(super) fn duration(&self) -> Duration {
        match self.by {
            By::Stress(strained) => strained.duration,
            By::Bend(bent) => bent.duration,
        }
    }

    pub(super) fn load(&self) -> &'a Load {
        match self.by {
            By::Stress(Strained { load, .. }) | By::Bend(Bent { load, .. }) => {
                &self.panel.loads[load]
            }
        }
    }

    pub(super) fn is_stress(&self) -> bool {
        matches!(self.by, By::Stress(_))
    }

    /// Whether it bends further than the theory reaches.
    pub(super) fn is_refused(&self) -> bool {
        matches!(self.by, By::Bend(Bent { reach: Reach::Refused, .. }))
    }

    /// How much of what is allowed it is.
    fn share(&self) -> f64 {
        match self.by {
            By::Stress(strained) => strained.share(),
            By::Bend(bent) => bent.mm / self.panel.deflection_limit_mm,
        }
    }

    /// The worse case; then years before days before hours, what keeps the water in before what is loose, stress before bend; then
    /// the greater share. Of what holds, the greater share of stress alone.
    pub(super) fn order(&self, other: &Self) -> Ordering {
        let key = |matter: &Self| {
            let holds = matter.case == Case::Holds;
            let rest = (Reverse(matter.duration()), !matter.keeps_water_in);
            (matter.case, (!holds).then_some(rest), !matter.is_stress())
        };
        key(self).cmp(&key(other)).then_with(|| other.share().total_cmp(&self.share()))
    }
}

/// All matters of all panels, the worst first.
pub(super) fn ranked<'a>(
    panels: &'a [Panel],
    design: &Design,
    teller: &Teller<'_>,
) -> Vec<Matter<'a>> {
    let all = panels.iter().flat_map(|panel| Matter::all(panel, design, teller));
    let mut all: Vec<Matter<'a>> = all.collect();
    all.sort_by(Matter::order);
    all
}

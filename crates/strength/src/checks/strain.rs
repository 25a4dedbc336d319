//! How hard a panel is strained: one ladder for the findings and for the verdict.

use design::{Design, Role};

use super::panels::AMPLE;
use crate::panel::Panel;

/// How its loads stand to what a panel may carry, the worst first. Of panels that the theory reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Strain {
    /// Loads of years are too much for years.
    TooMuchForYears,
    /// Loads of hours are too much even for hours.
    TooMuchForHours,
    /// Loads of years leave less than [`AMPLE`].
    ScantForYears,
    /// Loads of hours are borne for hours and never for years.
    HoursOnly,
    /// It bears each of its loads for years.
    Ample,
}

impl Strain {
    pub(crate) fn of(panel: &Panel) -> Self {
        let (all, lasting) = (panel.factor(), panel.lasting_factor());
        let brief = panel.brief_mpa / panel.allowable_mpa;
        match () {
            () if lasting < 1.0 => Self::TooMuchForYears,
            () if all * brief < 1.0 => Self::TooMuchForHours,
            () if lasting < AMPLE => Self::ScantForYears,
            () if all < 1.0 => Self::HoursOnly,
            () => Self::Ample,
        }
    }
}

/// Whether water may run on to the floor if a panel gives way: a glued leaf holds the walls that it stands between.
pub(crate) fn keeps_water_in(panel: &Panel, design: &Design) -> bool {
    match design.pieces[panel.piece].role {
        Role::Wall | Role::Bottom => true,
        Role::Leaf => design.placed[panel.placed].loose.is_none(),
        _ => false,
    }
}

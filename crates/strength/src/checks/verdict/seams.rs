//! Glued seams in a sentence: how many fail, how many cannot be shown to hold, which is the weakest.

use units::System;

use crate::panel::Duration;
use crate::seam::{Seam, SeamStanding};

/// What to do about weak seams.
pub(super) const BOND_MORE: &str = "bond more width: thicker sheet where the weak seams are, as their finding says; or have a test piece glued and broken";

/// Seams by number, and the weakest.
pub(super) struct Seams<'a> {
    weakest: Option<&'a Seam>,
    pub(super) all: usize,
    /// Those that fail.
    pub(super) fail: usize,
    /// Those that cannot be shown to hold.
    pub(super) open: usize,
}

impl<'a> Seams<'a> {
    pub(super) fn of(seams: &'a [Seam]) -> Self {
        let fails = |seam: &&Seam| seam.standing().is_failing();
        let fail = seams.iter().filter(fails).count();
        let weak = seams.iter().filter(|seam| seam.standing() < SeamStanding::Holds).count();
        // What is on them for years decides before what is on them for hours.
        let weakest = seams.iter().min_by(|a, b| {
            a.standing().cmp(&b.standing()).then_with(|| a.factor().total_cmp(&b.factor()))
        });
        Self { weakest, all: seams.len(), fail, open: weak.saturating_sub(fail) }
    }

    /// The answer where some fail.
    pub(super) fn answer(&self) -> String {
        let (n, all) = (self.fail, self.all);
        match self.weakest.map(Seam::standing) {
            Some(SeamStanding::Fails) => {
                format!("No: pull and shear alone are too much for {n} of {all} glued seams.")
            }
            _ => format!("No: {n} of {all} glued seams carry far more than they may."),
        }
    }

    /// The weakest, with its load.
    pub(super) fn words(&self, system: System) -> String {
        let Some(seam) = self.weakest else { return String::new() };
        let stress = |mpa: f64| system.show_stress(mpa);
        let is_by_years = seam.standing() == SeamStanding::BeyondForYears;
        let by = seam.years.as_ref().filter(|_| is_by_years).unwrap_or(&seam.most);
        let (how, mpa) = match seam.standing() {
            SeamStanding::Fails => ("", seam.certain_mpa),
            _ => ("at most ", by.bound_mpa()),
        };
        let how_long = match by.duration {
            Duration::Hours => "for hours",
            Duration::Days => "for days",
            Duration::Years => "for years",
        };
        format!(
            "{}, {how}{} where its limit for years is {}, {how_long} with {}",
            seam.words,
            stress(mpa),
            stress(seam.allowable_mpa),
            by.load
        )
    }

    /// How many are weak, for the end of the answer; empty where none is.
    pub(super) fn count_words(&self) -> String {
        match (self.fail, self.open) {
            (0, 0) => String::new(),
            (0, open) => format!(
                " Of {} glued seams, {open} cannot be shown to hold; none is shown to fail.",
                self.all
            ),
            (fail, _) => format!(" {fail} glued seams fail as well."),
        }
    }
}

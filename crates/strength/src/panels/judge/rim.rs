//! Bending of the rim along a wall, and the pull in its braces.

use super::{Judge, MPA, Runs};
use crate::panel::RimStress;

impl Judge<'_> {
    /// The worst of all loads and runs.
    pub(crate) fn rim(&self, sets: &[Runs]) -> Option<RimStress> {
        let rim = self.model.rim.as_ref()?;
        let solved = || sets.iter().flat_map(|set| &set.solved);
        let fields = |bearing: usize| solved().map(move |s| &s.bending.fields[bearing]);
        let stress = |bearing: usize| {
            let beams = fields(bearing).flat_map(|field| &field.reactions.lines);
            let moment = beams.filter_map(|line| line.most_beam).map(|m| m.value.abs());
            rim.stress(moment.fold(0.0, f64::max)) / MPA
        };
        let all = 0..self.bearings.len();
        let lasting = all.clone().filter(|&b| self.bearings[b].is_lasting());
        let pulls = all.clone().flat_map(|b| fields(b).flat_map(|f| &f.reactions.points));
        Some(RimStress {
            stress_mpa: all.clone().map(stress).fold(0.0, f64::max),
            lasting_mpa: lasting.map(stress).fold(0.0, f64::max),
            // Above the water, but wetted by every splash.
            allowable_mpa: self.rim_facts()?.lasting_stress_mpa,
            brace_n: pulls.map(|n| n.abs()).fold(0.0, f64::max),
        })
    }
}

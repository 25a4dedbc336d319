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
        let loads_mpa: Vec<f64> = (0..self.bearings.len()).map(stress).collect();
        let lasting = loads_mpa.iter().zip(self.bearings).filter(|(_, load)| load.is_lasting());
        let lasting_mpa = lasting.map(|(mpa, _)| *mpa).fold(0.0, f64::max);
        let pulls =
            (0..self.bearings.len()).flat_map(|b| fields(b).flat_map(|f| &f.reactions.points));
        let facts = self.rim_facts()?;
        Some(RimStress {
            stress_mpa: loads_mpa.iter().copied().fold(0.0, f64::max),
            lasting_mpa,
            // Above the water, but wetted by every splash.
            allowable_mpa: facts.lasting_stress_mpa,
            strength_mpa: facts.strength_mpa,
            brace_n: pulls.map(|n| n.abs()).fold(0.0, f64::max),
            loads_mpa,
        })
    }
}

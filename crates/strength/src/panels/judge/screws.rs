//! What the screws of a door carry that is pushed off its leaf.

use super::Judge;
use crate::panels::bearing::Bearing;
use crate::panels::solve::Solved;
use crate::screws::{ScrewLoad, Screws, breaking_n};

impl Judge<'_> {
    /// Under each load, of the ways it can be held the one that pulls a screw hardest. Screws and leaf are rigid and hold one plate of one material, so that what they exert is the same at
    /// first and after years.
    pub(super) fn screws(&self, solved: &[Solved]) -> Option<Screws> {
        let screwed = self.model.screwed.as_ref()?;
        let of_run = |field: &bending::Field, bearing: &Bearing| {
            // A positive force keeps the door from moving out of its lower face.
            let points = field.reactions.points.iter().take(screwed.at_mm.len());
            let pulls_n: Vec<f64> = points.map(|n| (screwed.face * n).max(0.0)).collect();
            let thrust_n = screwed.face * field.reactions.total;
            ScrewLoad {
                thrust_n,
                prying_n: pulls_n.iter().sum::<f64>() - thrust_n,
                pulls_n,
                soft_n: 0.0,
                duration: bearing.duration,
            }
        };
        let by_most = |a: &ScrewLoad, b: &ScrewLoad| a.most_n().total_cmp(&b.most_n());
        let load = |(index, bearing): (usize, &Bearing)| {
            let fields = solved.iter().filter_map(|run| run.bending.fields.get(index));
            let loads: Vec<ScrewLoad> = fields.map(|field| of_run(field, bearing)).collect();
            // With all hinged it turns freely: the screws are soft.
            let soft_n = loads.first()?.most_n();
            loads.into_iter().max_by(by_most).map(|load| ScrewLoad { soft_n, ..load })
        };
        Some(Screws {
            size: screwed.size,
            at_mm: screwed.at_mm.clone(),
            breaking_n: breaking_n(screwed.size),
            lasting_n: Screws::lasting_n(screwed.size),
            brief_n: Screws::brief_n(screwed.size),
            head_mm2: screwed.head_mm2,
            knob_mm2: screwed.knob_mm2,
            leaf_mpa: screwed.leaf_mpa,
            door_mpa: self.facts().lasting_stress_mpa,
            loads: self.bearings.iter().enumerate().filter_map(load).collect(),
        })
    }
}

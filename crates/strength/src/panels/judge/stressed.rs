//! Where loads stress a panel most, and what may be carried there.

use bending::{Moment, Peak as Most};

use super::{Judge, MPA, Solved};
use crate::ladder;
use crate::panel::{Duration, Run};
use crate::panels::board::Thin;

/// A pocket may go through the thinnest sheet of the band: then nearly nothing is left.
const LEAST_LEFT: f64 = 0.02;

/// A stress and how much of what is allowed it is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stressed {
    pub(crate) mpa: f64,
    pub(crate) allowable_mpa: f64,
    /// Place on the plate, m.
    pub(crate) at: [f64; 2],
    pub(crate) bearing: usize,
    pub(crate) run: Run,
}

impl Stressed {
    pub(crate) fn share(&self) -> f64 {
        self.mpa / self.allowable_mpa
    }
}

impl Judge<'_> {
    /// What may be carried for so long where this much may be carried for years, MPa.
    pub(super) fn limit_mpa(&self, allowable_mpa: f64, duration: Duration) -> f64 {
        ladder::limit(allowable_mpa, self.facts().strength_mpa, duration)
    }

    /// Where a bearing stresses the panel most, by what each face may carry; pockets included.
    pub(crate) fn worst_stress<'s>(
        &self,
        solved: impl Iterator<Item = &'s Solved>,
        bearing: usize,
    ) -> Option<Stressed> {
        let allowed = self.allowed();
        let of_run = |solved: &Solved| {
            let plate = &solved.bending.plate;
            let field = &solved.bending.fields[bearing];
            let of_face = |(peak, allowable_mpa): (Option<Most>, f64)| {
                let peak = peak?;
                let mpa = plate.stress(peak.value) / MPA;
                Some(Stressed { mpa, allowable_mpa, at: peak.at, bearing, run: solved.run })
            };
            let faces = [(field.front, allowed[0]), (field.back, allowed[1])];
            let mut all: Vec<Stressed> = faces.into_iter().filter_map(of_face).collect();
            all.extend(self.in_pockets(solved, bearing));
            all
        };
        solved.flat_map(of_run).max_by(|a, b| a.share().total_cmp(&b.share()))
    }

    /// Stress where a pocket leaves less sheet: the moment there on what is left, `6 M / t²`. What is glued into a groove
    /// helps, which is not counted.
    fn in_pockets(&self, solved: &Solved, bearing: usize) -> Vec<Stressed> {
        let (grid, field) = (&solved.bending.grid, &solved.bending.fields[bearing]);
        let allowable_mpa = self.allowed()[1];
        let in_pocket = |thin: &Thin| {
            let near = self.model.board.least_mm;
            let most = |moment: &Moment| {
                let [most, least] = moment.principal();
                most.abs().max(least.abs())
            };
            let nodes = (0..field.moments.len()).filter(|&node| {
                let at = self.model.place(grid.place(node));
                let is_near = at.cmpge(thin.lo - near).all() && at.cmple(thin.hi + near).all();
                is_near && !field.is_unbounded[node]
            });
            let node = nodes
                .max_by(|&a, &b| most(&field.moments[a]).total_cmp(&most(&field.moments[b])))?;
            let whole = solved.bending.plate.stress(most(&field.moments[node]));
            let left = thin.left.max(LEAST_LEFT);
            let mpa = whole / (left * left) / MPA;
            Some(Stressed { mpa, allowable_mpa, at: grid.place(node), bearing, run: solved.run })
        };
        self.model.board.thin.iter().filter_map(in_pocket).collect()
    }
}

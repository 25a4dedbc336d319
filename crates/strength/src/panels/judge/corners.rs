//! Corners of openings, by the rule of crate `bending`, or why they are not assessed.

use bending::{CornerStress, Pressure, corner_stress};

use super::{Judge, MPA};
use crate::panel::Corner;
use crate::panels::board::Opening;
use crate::panels::solve::Solved;

/// Stress at the edge of a small round hole over that of the whole sheet: 3 under pull (Kirsch 1898, from memory). Under bending
/// it rises from 1.8 to 3 as the hole becomes small beside the thickness (Peterson's Stress Concentration Factors, ch. 4, from
/// memory), so 3 is on the safe side.
const SMALL_HOLE: f64 = 3.0;

impl Judge<'_> {
    /// One for each opening: of its corners all alike. With all seams hinged, where the panel bends most.
    pub(super) fn corners(&self, hinged: &Solved) -> Result<Vec<Corner>, bending::Error> {
        let board = &self.model.board;
        let openings: Vec<&Opening> = board.openings.iter().chain(&board.small).collect();
        let cases: Vec<_> = self.bearings.iter().map(|b| self.model.pressures(b)).collect();
        let corner = |(index, opening): (usize, &&Opening)| {
            let (of_loads, why_not) = match opening {
                o if o.cuts > 1 => (Vec::new(), "the rule is one for single openings".to_owned()),
                o if o.is_round && o.radius_mm < board.least_mm => {
                    (self.at_hole(hinged, o), String::new())
                }
                o => self.by_rule(hinged, index, o, &cases)?,
            };
            let most = |only_lasting: bool| {
                let loads = of_loads.iter().zip(self.bearings);
                let chosen = loads.filter(|(_, bearing)| !only_lasting || bearing.is_lasting);
                chosen.map(|(mpa, _)| *mpa).reduce(f64::max)
            };
            let (stress_mpa, lasting_mpa) = (most(false), most(true));
            let words = words(index, openings.len(), opening);
            let at_mm = 0.5 * (opening.lo + opening.hi);
            Ok(Corner {
                words,
                at_mm,
                radius_mm: opening.radius_mm,
                stress_mpa,
                lasting_mpa,
                why_not,
            })
        };
        openings.iter().enumerate().map(corner).collect()
    }

    /// By the rule for rounded openings, under each load, MPa; only what is meshed stands in their way.
    fn by_rule(
        &self,
        hinged: &Solved,
        index: usize,
        opening: &Opening,
        cases: &[Vec<Pressure>],
    ) -> Result<(Vec<f64>, String), bending::Error> {
        let mut plate = hinged.bending.plate.clone();
        let index = if index < plate.openings.len() {
            index
        } else {
            plate.openings.push(self.model.opening(opening));
            plate.openings.len() - 1
        };
        let (mut of_loads, mut why_not) = (Vec::new(), String::new());
        for of_case in corner_stress(&plate, index, cases)? {
            match of_case {
                CornerStress::Assessed { stress, .. } => of_loads.push(stress.abs() / MPA),
                CornerStress::NotAssessed(reason) => why_not = reason.to_string(),
            }
        }
        Ok((of_loads, why_not))
    }

    /// At the edge of a small round hole under each load, MPa: from the moment where it is.
    fn at_hole(&self, hinged: &Solved, hole: &Opening) -> Vec<f64> {
        let at = ((0.5 * (hole.lo + hole.hi) - self.model.board.lo) * 1e-3).to_array();
        let stress = |bearing: usize| {
            let [most, least] = hinged.bending.moment_at(bearing, at)?.principal();
            Some(SMALL_HOLE * hinged.bending.plate.stress(most.abs().max(least.abs())) / MPA)
        };
        (0..self.bearings.len()).filter_map(stress).collect()
    }
}

fn words(index: usize, n: usize, opening: &Opening) -> String {
    let size = opening.hi - opening.lo;
    let what = match opening.cuts {
        1 => "opening".to_owned(),
        n => format!("field of {n} openings"),
    };
    let number = if n > 1 { format!(" {}", index + 1) } else { String::new() };
    format!("{what}{number}, {:.0} × {:.0} mm", size.x, size.y)
}

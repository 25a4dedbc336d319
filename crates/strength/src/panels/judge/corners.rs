//! Corners of openings, by the rule of crate `bending`, or why they are not assessed.

use bending::{CornerStress, NotAssessed, Pressure, corner_stress};
use glam::DVec2;

use super::{Judge, MPA};
use crate::panel::{Corner, CornerOf};
use crate::panels::board::Opening;
use crate::panels::solve::Solved;

/// Stress at the edge of a small round hole over that of the whole sheet: 3 under pull (Kirsch 1898, from memory). Under bending
/// it rises from 1.8 to 3 as the hole becomes small beside the thickness (Peterson's Stress Concentration Factors, ch. 4, from
/// memory), so 3 is on the safe side.
const SMALL_HOLE: f64 = 3.0;

impl Judge<'_> {
    /// One for each opening: of its corners all alike; and one for what is open at an edge.
    pub(super) fn corners(&self, solved: &[Solved]) -> Result<Vec<Corner>, bending::Error> {
        let board = &self.model.board;
        let openings: Vec<&Opening> = board.openings.iter().chain(&board.small).collect();
        let cases: Vec<_> = self.bearings.iter().map(|b| self.model.pressures(b)).collect();
        let corner = |(index, opening): (usize, &&Opening)| {
            let of_loads = match opening {
                o if o.cuts > 1 => Err("the rule is one for single openings".to_owned()),
                o if o.is_round && o.radius_mm < board.least_mm => self.at_hole(solved, o),
                o => match self.too_near(index, &openings) {
                    Some(why_not) => Err(why_not),
                    None => self.by_rule(solved, index, o, &cases)?,
                },
            };
            let most = |only_lasting: bool| {
                let loads = of_loads.iter().flatten().zip(self.bearings);
                let chosen = loads.filter(|(_, bearing)| !only_lasting || bearing.is_lasting());
                chosen.map(|(mpa, _)| *mpa).reduce(f64::max)
            };
            Ok(Corner {
                of: if opening.cuts > 1 { CornerOf::Field } else { CornerOf::Opening },
                words: self.words(index, openings.len(), opening),
                at_mm: 0.5 * (opening.lo + opening.hi),
                radius_mm: opening.radius_mm,
                stress_mpa: most(false),
                lasting_mpa: most(true),
                loads_mpa: of_loads.clone().unwrap_or_default(),
                why_not: of_loads.err().unwrap_or_default(),
            })
        };
        let corners: Result<Vec<Corner>, bending::Error> =
            openings.iter().enumerate().map(corner).collect();
        let mut corners = corners?;
        corners.extend(self.notches());
        Ok(corners)
    }

    /// Slots and notches: of their inner corners no rule is known here.
    fn notches(&self) -> Option<Corner> {
        let board = &self.model.board;
        let words = match board.notches {
            0 => return None,
            1 => "a notch at its edge".to_owned(),
            n => format!("{n} slots, notches and inner corners at its edges"),
        };
        let why_not =
            "the rule is one for holes; what presses on teeth between slots is not counted either";
        Some(Corner {
            of: CornerOf::Edge,
            words,
            at_mm: DVec2::new(0.5 * (board.lo.x + board.hi.x), board.hi.y),
            radius_mm: 0.0,
            stress_mpa: None,
            lasting_mpa: None,
            loads_mpa: Vec::new(),
            why_not: why_not.to_owned(),
        })
    }

    fn mm(&self, mm: f64) -> String {
        units::Length::mm(mm).show(self.design.report)
    }

    /// Whether another opening, meshed or not, disturbs it: nearer than its diameter if it is round, else than `2 r + t`.
    fn too_near(&self, index: usize, openings: &[&Opening]) -> Option<String> {
        let own = openings[index];
        let needed = if own.is_round {
            2.0 * own.radius_mm
        } else {
            2.0 * own.radius_mm + self.model.board.least_mm
        };
        let others = openings.iter().enumerate().filter(|(other, _)| *other != index);
        let gap = |o: &Opening| (o.lo - own.hi).max(own.lo - o.hi).max(DVec2::ZERO).length();
        let nearest = others.map(|(_, o)| gap(o)).reduce(f64::min)?;
        (nearest < needed).then(|| {
            format!("{} from another opening; the rule needs {}", self.mm(nearest), self.mm(needed))
        })
    }

    /// By the rule for rounded openings, under each load, MPa, the worst of all runs; or why not.
    fn by_rule(
        &self,
        solved: &[Solved],
        index: usize,
        opening: &Opening,
        cases: &[Vec<Pressure>],
    ) -> Result<Result<Vec<f64>, String>, bending::Error> {
        let mut of_loads = vec![0.0_f64; cases.len()];
        for run in solved {
            let mut plate = run.bending.plate.clone();
            let index = if index < plate.openings.len() {
                index
            } else {
                plate.openings.push(self.model.opening(opening));
                plate.openings.len() - 1
            };
            for (most, of_case) in of_loads.iter_mut().zip(corner_stress(&plate, index, cases)?) {
                match of_case {
                    CornerStress::Assessed { stress, .. } => *most = most.max(stress.abs() / MPA),
                    CornerStress::NotAssessed(reason) => return Ok(Err(self.reason(reason))),
                }
            }
        }
        Ok(Ok(of_loads))
    }

    fn reason(&self, reason: NotAssessed) -> String {
        let mm = |m: f64| self.mm(1e3 * m);
        match reason {
            NotAssessed::Sharp { radius, thickness } => format!(
                "its corners, rounded with {}, are sharper than the sheet is thick, {}",
                mm(radius),
                mm(thickness)
            ),
            NotAssessed::Near { what, distance, needed } => {
                format!("{} from {what}; the rule needs {}", mm(distance), mm(needed))
            }
            other => other.to_string(),
        }
    }

    /// At the edge of a small round hole under each load, MPa, the worst of all runs: from the moment where it is.
    fn at_hole(&self, solved: &[Solved], hole: &Opening) -> Result<Vec<f64>, String> {
        let at = ((0.5 * (hole.lo + hole.hi) - self.model.board.lo) * 1e-3).to_array();
        let mut of_loads = vec![0.0_f64; self.bearings.len()];
        for run in solved {
            let bending = &run.bending;
            for (bearing, most) in of_loads.iter_mut().enumerate() {
                let field = &bending.fields[bearing];
                let distance = |node: usize| {
                    let [x, y] = bending.grid.place(node);
                    (x - at[0]).hypot(y - at[1])
                };
                let nodes = 0..bending.grid.nodes();
                let nearest = nodes.min_by(|&a, &b| distance(a).total_cmp(&distance(b)));
                let is_bounded = nearest.is_some_and(|node| !field.is_unbounded[node]);
                let Some(moment) = bending.moment_at(bearing, at).filter(|_| is_bounded) else {
                    return Err("too near the corner of another opening or a support".to_owned());
                };
                let [greatest, least] = moment.principal();
                let stress = bending.plate.stress(greatest.abs().max(least.abs())) / MPA;
                *most = most.max(SMALL_HOLE * stress);
            }
        }
        Ok(of_loads)
    }

    fn words(&self, index: usize, n: usize, opening: &Opening) -> String {
        let size = opening.hi - opening.lo;
        let what = match opening.cuts {
            1 => "opening".to_owned(),
            n => format!("field of {n} openings"),
        };
        let number = if n > 1 { format!(" {}", index + 1) } else { String::new() };
        format!("{what}{number}, {} × {}", self.mm(size.x), self.mm(size.y))
    }
}

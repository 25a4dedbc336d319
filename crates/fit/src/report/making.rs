//! From a design to its report.

use design::{Design, RemovableId, RemovableKind};
use rayon::prelude::*;

use super::tight::{HAND_MM, closest, eased};
use super::{Fit, Passed, Report, Step, Way};
use crate::cure;
use crate::motion::Motion;
use crate::order::{self, Emptying, Known, Out, Planner};
use crate::plan::{Effort, least_gap};
use crate::way::{Move, Verdict};
use crate::words;
use crate::world::World;

/// Further searches of a thorough look: how many, and how long each. Measured on ways of several stages: of ten that
/// exist, one run of this length finds five to ten.
const THOROUGH: (u64, u64) = (4, 600_000);

impl Fit {
    /// Looks at a design, as long as its file says.
    pub fn of(design: &Design) -> Self {
        let fit = &design.fit;
        let steps = 1000 * u64::from(fit.search);
        Self::with(design, vec![Effort { steps, seed: u64::from(fit.seed) }])
    }

    /// Looks longer at what is not found: with several more searches, each of 600,000 steps.
    pub fn thorough(design: &Design) -> Self {
        let fit = &design.fit;
        let (n_searches, steps) = THOROUGH;
        let first = u64::from(fit.seed);
        let own = Effort { steps: 1000 * u64::from(fit.search), seed: first };
        let more = (1..=n_searches).map(|k| Effort { steps, seed: first + k });
        Self::with(design, std::iter::once(own).chain(more).collect())
    }

    fn with(design: &Design, efforts: Vec<Effort>) -> Self {
        let world = World::of(design);
        let report = report(design, &world, efforts);
        Self { world, report }
    }
}

fn report(design: &Design, world: &World, efforts: Vec<Effort>) -> Report {
    let planner = Planner::new(design, world, efforts);
    let (outs, known) = order::all(&planner);
    let teller = Teller { planner: &planner, out_of: out_of(world) };
    // Without the sump itself, which would take along all that is in the way.
    let is_out = |(which, known): (RemovableId, &Known)| {
        !known.order.is_empty() && design.removables[which].kind != RemovableKind::Sump
    };
    let came_out: Vec<bool> = known.iter().enumerate().map(is_out).collect();
    let ways: Vec<Way> = known
        .into_par_iter()
        .enumerate()
        .map(|(which, known)| teller.way(which, known, &came_out))
        .collect();
    let emptying = teller.steps(&outs, None);
    let order = Emptying { ways };
    let (reach, rescue) = crate::reach::reach(design, world, &order);
    let clearances = crate::clearance::clearances(design, world);
    Report { clearances, ways: order.ways, emptying, reach, rescue }
}

/// What the last move leads out of.
fn out_of(world: &World) -> &'static str {
    if world.exits.doors.is_empty() { "out of the sump" } else { "out of the cabinet" }
}

/// Tells what was found.
struct Teller<'a> {
    planner: &'a Planner<'a>,
    out_of: &'static str,
}

impl Teller<'_> {
    fn way(&self, which: RemovableId, known: Known, came_out: &[bool]) -> Way {
        let Known { alone, order, is_shortest } = known;
        let steps = self.steps(&order, Some(which));
        let (mut blocked_by, mut cure) = (Vec::new(), None);
        if let Verdict::NotFound { .. } = alone
            && steps.is_empty()
        {
            let mut gone = came_out.to_vec();
            gone[which] = false;
            let blockers = cure::blocked_by(self.planner, which, &gone);
            cure = cure::cure(self.planner, which, &gone, &blockers);
            let name = |thing: usize| self.planner.world.things[thing].name.clone();
            let nearest = blockers.into_iter().next().unwrap_or_default();
            blocked_by = nearest.into_iter().map(|(thing, mm)| (name(thing), mm)).collect();
        }
        let passes = order.last().and_then(|out| self.closest(out, &steps, which));
        Way { removable: which, alone, passes, steps, is_shortest, blocked_by, cure }
    }

    /// An order told step by step. Of a spare its `target` begins with what stands in its place out.
    fn steps(&self, order: &[Out], target: Option<RemovableId>) -> Vec<Step> {
        let mut gone = match target {
            Some(target) => order::before(self.planner, target),
            None => vec![false; self.planner.design.removables.len()],
        };
        let mut asked: Vec<(&Out, Vec<bool>)> = Vec::with_capacity(order.len());
        for out in order {
            asked.push((out, gone.clone()));
            order::take(self.planner, out.which, &mut gone);
        }
        asked.into_par_iter().map(|(out, gone)| self.step(out, &gone)).collect()
    }

    /// What the last of an order passes closer than a hand can; looked for only where something is so near at all.
    fn closest(&self, out: &Out, steps: &[Step], target: RemovableId) -> Option<Passed> {
        let last = steps.last().filter(|last| last.least_gap_mm < HAND_MM)?;
        let way: Vec<Motion> = last.moves.iter().map(Move::motion).collect();
        let mut gone = order::before(self.planner, target);
        for step in steps.iter().take(steps.len() - 1) {
            order::take(self.planner, step.removable, &mut gone);
        }
        let world = self.planner.world;
        let space = self.planner.space(world, out.which, &gone);
        closest(world, &space, &self.planner.body(out.which, &gone), &way)
    }

    fn step(&self, out: &Out, gone: &[bool]) -> Step {
        let design = self.planner.design;
        let removable = &design.removables[out.which];
        let (space, body) = (
            self.planner.space(self.planner.world, out.which, gone),
            self.planner.body(out.which, gone),
        );
        let (mut way, mut least_gap_mm) = (out.way.clone(), least_gap(&space, &body, &out.way));
        if least_gap_mm < HAND_MM {
            way = eased(&space, &body, &way);
            if way != out.way {
                least_gap_mm = least_gap(&space, &body, &way);
            }
        }
        let undo = words::undo(removable, &way, design);
        let bent = self.planner.bent_aside(out.which, gone, &way);
        let name = |thing: usize| self.planner.world.things[thing].name.clone();
        let pushed_aside: Vec<String> = bent.into_iter().map(name).collect();
        Step {
            removable: out.which,
            name: removable.name.clone(),
            undo: words::with_hoses(undo, &pushed_aside),
            pushed_aside,
            moves: words::tell(&way, design.report, self.out_of, words::is_flat(body.bounds)),
            least_gap_mm,
        }
    }
}

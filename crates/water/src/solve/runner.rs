//! From step to step and from event to event.

use crate::network::Network;
use crate::solve::balance::widened;
use crate::solve::cycle::Cycles;
use crate::solve::dense::Vector;
use crate::solve::events::{Located, Look};
use crate::solve::layout::Layout;
use crate::solve::plan::{Event, Leapt, Plan};
use crate::solve::rodas4::{State, Step, Tolerance};
use crate::solve::sparse::Triangles;
use crate::solve::transient::{Run, Stop, TransientError, TransientOptions};

/// Steps shorter than this are given up, s.
const SHORTEST_STEP_S: f64 = 1e-9;
/// Turns of a level by less than this are not shown, m.
const LEAST_TURN_M: f64 = 1e-8;
/// Most parts in which one step is shown.
const MOST_PARTS: f64 = 100.0;

pub(crate) struct Runner<'a, const W: usize> {
    network: &'a mut Network,
    plan: &'a mut dyn Plan,
    options: &'a TransientOptions,
    layout: Layout,
    state: Box<State<W>>,
    triangles: Box<Triangles<W>>,
    cycles: Cycles<W>,
    /// Watched values at the state.
    values: Vec<f64>,
    /// Values that have fired while a rounding below zero: they count as zero until they have risen to it or
    /// fallen, so that they do not fire again at once.
    spent: Vec<Option<f64>>,
    /// Room for values within a step.
    within: Vec<f64>,
    /// Shares of a step at which a level turns.
    turns: Vec<f64>,
    /// Shares of a step at which to look.
    thetas: Vec<f64>,
    t: f64,
    end: f64,
    /// When the clock next switches something, or the end.
    clock: f64,
    /// Length of the next step, s.
    h: f64,
    total: f64,
    was_rejected: bool,
    run: Run,
}

impl<'a, const W: usize> Runner<'a, W> {
    pub(crate) fn new(
        network: &'a mut Network,
        volumes_m3: &[f64],
        end: f64,
        plan: &'a mut dyn Plan,
        options: &'a TransientOptions,
    ) -> Self {
        let run = Run {
            stop: Stop::End,
            t_s: 0.0,
            volumes_m3: Vec::new(),
            levels_m: Vec::new(),
            steps: 0,
            rejected: 0,
            events: 0,
            leaps: 0,
            drift_m3: 0.0,
            cycles: Vec::new(),
        };
        Self {
            layout: Layout::new(network),
            state: Box::new(State::new(widened(volumes_m3))),
            triangles: Box::new(Triangles::new()),
            cycles: Cycles::default(),
            values: Vec::new(),
            spent: Vec::new(),
            within: Vec::new(),
            turns: Vec::new(),
            thetas: Vec::new(),
            t: 0.0,
            end,
            clock: end,
            h: 0.0,
            total: volumes_m3.iter().sum(),
            was_rejected: false,
            run,
            network,
            plan,
            options,
        }
    }

    pub(crate) fn run(mut self) -> Result<Run, TransientError> {
        self.state.refresh_levels(&self.layout);
        self.show_state();
        self.fire(Event::Start)?;
        self.clock = self.plan.next_time_s(f64::NEG_INFINITY).min(self.end);
        self.restart();
        self.run.stop = loop {
            if self.end <= self.t {
                break Stop::End;
            }
            if self.options.max_events <= self.run.events {
                break Stop::TooManyEvents;
            }
            if self.options.max_steps <= self.run.steps + self.run.rejected {
                break Stop::TooManySteps;
            }
            if self.clock <= self.t {
                self.tick()?;
            } else if !self.advance()? {
                break Stop::StepTooSmall;
            }
        };
        let n = self.network.tanks.len();
        self.run.t_s = self.t;
        self.run.volumes_m3 = self.state.volumes[..n].to_vec();
        self.run.levels_m = self.state.levels[..n].to_vec();
        self.run.cycles = self.cycles.into_found();
        Ok(self.run)
    }

    fn tolerance(&self) -> Tolerance {
        Tolerance { level_m: self.options.level_m, time_s: self.options.time_s }
    }

    /// Tries one step. False if it would have to be too short.
    fn advance(&mut self) -> Result<bool, TransientError> {
        // A little more than a step rather than a sliver of a step before the clock.
        let reaches_clock = self.clock <= self.t + self.h * 1.000_001;
        let h = if reaches_clock { self.clock - self.t } else { self.h };
        let tolerance = self.tolerance();
        let tried = self.state.step(self.network, &self.layout, h, tolerance, &mut self.triangles);
        let error = tried.as_ref().map_or(f64::INFINITY, |step| step.error);
        // The order of the embedded method is 3, so the error goes with the fourth power.
        let grow = (0.9 / (error + 1e-10).sqrt().sqrt()).clamp(0.2, 6.0);
        let Some(step) = tried.filter(|step| step.error <= 1.0) else {
            self.run.rejected += 1;
            self.was_rejected = true;
            self.h = h * grow;
            return Ok(SHORTEST_STEP_S < self.h);
        };
        self.run.steps += 1;
        let grow = if self.was_rejected { grow.min(1.0) } else { grow };
        self.was_rejected = false;
        self.find_turns(&step);
        match self.event_in(&step) {
            Some(Located { watch, step: shorter }) => {
                // The same number, not one that was computed from a share: the step as a whole was it.
                let is_whole = step.h <= shorter.h;
                self.find_turns(&shorter);
                self.accept(&shorter, reaches_clock && is_whole);
                self.fire_crossed(watch)?;
                self.leap(watch);
                self.restart();
            }
            None => {
                self.accept(&step, reaches_clock);
                let planned = if reaches_clock { self.h } else { 0.0 };
                self.h = (h * grow).max(planned).min(self.options.max_step_s);
                self.state.refresh(self.network, &self.layout);
                self.watch();
                self.cycles.see_values(&self.values);
            }
        }
        Ok(true)
    }

    fn find_turns(&mut self, step: &Step<W>) {
        self.turns.clear();
        self.state.turns(self.network, step, LEAST_TURN_M, &mut self.turns);
    }

    fn event_in(&mut self, step: &Step<W>) -> Option<Located<W>> {
        if self.values.is_empty() {
            return None;
        }
        self.thetas.clear();
        self.thetas.extend([1.0 / 3.0, 2.0 / 3.0, 1.0]);
        self.thetas.extend_from_slice(&self.turns);
        self.thetas.sort_by(f64::total_cmp);
        let look = Look {
            network: self.network,
            plan: self.plan,
            layout: &self.layout,
            state: &self.state,
            tolerance: self.tolerance(),
        };
        look.first_event(step, &self.values, &self.thetas, &mut self.triangles, &mut self.within)
    }

    /// Goes to the end of a step and shows what happened on the way.
    fn accept(&mut self, step: &Step<W>, reaches_clock: bool) {
        self.show_within(step);
        self.state.volumes = step.end;
        self.t = if reaches_clock { self.clock } else { self.t + step.h };
        self.state.refresh_levels(&self.layout);
        self.show_state();
        let sum: f64 = self.state.volumes[..self.network.tanks.len()].iter().sum();
        self.run.drift_m3 = self.run.drift_m3.max((sum - self.total).abs());
    }

    /// Shows turning points, for highest and lowest levels are results, and as many points between as the
    /// plan asks for.
    fn show_within(&mut self, step: &Step<W>) {
        self.thetas.clear();
        self.thetas.extend_from_slice(&self.turns);
        let resolution = self.plan.resolution_m();
        if resolution.is_finite() {
            let tanks = self.network.tanks.iter().enumerate();
            let moved = tanks.fold(0.0_f64, |most, (i, _)| {
                let change = (step.end[i] - self.state.volumes[i]).abs();
                most.max(change * self.state.inverse_areas[i])
            });
            let parts = (moved / resolution).ceil().min(MOST_PARTS);
            let mut part = 1.0;
            while part < parts {
                self.thetas.push(part / parts);
                part += 1.0;
            }
        }
        self.thetas.sort_by(f64::total_cmp);
        let (mut z, mut inverse_areas) = ([0.0; W], [0.0; W]);
        for &theta in &self.thetas {
            let volumes = self.state.within(step, theta);
            self.layout.levels(&volumes, &mut z, &mut inverse_areas);
            self.cycles.see(&z);
            self.plan.see(self.t + theta * step.h, &z[..self.network.tanks.len()]);
        }
    }

    fn show_state(&mut self) {
        self.cycles.see(&self.state.levels);
        self.plan.see(self.t, &self.state.levels[..self.network.tanks.len()]);
    }

    fn watch(&mut self) {
        self.values.clear();
        self.plan.watch(&self.state.levels[..self.network.tanks.len()], &mut self.values);
        for (value, spent) in self.values.iter_mut().zip(&mut self.spent) {
            match *spent {
                Some(fired) if fired <= *value && *value < 0.0 => *value = 0.0,
                _ => *spent = None,
            }
        }
    }

    /// Looks anew at elements and watched values after an event, and begins with a step of its own length.
    fn restart(&mut self) {
        self.layout.look(self.network);
        self.state.clear();
        self.state.refresh(self.network, &self.layout);
        self.watch();
        let first = self.state.first_step(self.network, self.tolerance());
        self.h = first.min(self.options.max_step_s);
    }

    fn fire(&mut self, event: Event) -> Result<(), TransientError> {
        let n = self.network.tanks.len();
        self.plan.fire(event, self.t, &self.state.levels[..n], &mut self.network.elements);
        self.network.check_elements()?;
        Ok(())
    }

    /// The clock switches something.
    fn tick(&mut self) -> Result<(), TransientError> {
        self.fire(Event::Clock)?;
        self.run.events += 1;
        self.wind()?;
        self.cycles.forget();
        self.restart();
        Ok(())
    }

    /// Fires the watched value that was located, and all others that have risen to zero by the same instant
    /// and are still there when their turn comes.
    fn fire_crossed(&mut self, located: usize) -> Result<(), TransientError> {
        let before = std::mem::take(&mut self.values);
        self.watch();
        // What was located may be a rounding below zero; so may what watches the same level, as two siphons
        // in one box do, and both fire.
        let zero = self.values.get(located).map_or(0.0, |value| value.min(0.0));
        let crossed: Vec<usize> = (0..before.len().min(self.values.len()))
            .filter(|&k| k == located || (before[k] < 0.0 && zero <= self.values[k]))
            .collect();
        for k in crossed {
            if k != located {
                self.watch();
            }
            let Some(&value) = self.values.get(k) else { continue };
            if k != located && value < zero {
                continue;
            }
            self.cycles.fired(k, self.t, &self.state.volumes, &self.state.levels);
            self.fire(Event::Watch(k))?;
            self.run.events += 1;
            if value < 0.0 {
                self.spent.resize(self.spent.len().max(k + 1), None);
                self.spent[k] = Some(value);
            }
        }
        // A clock that is due at this very instant still comes; a later one may have been moved.
        if self.t < self.clock { self.wind() } else { Ok(()) }
    }

    /// Asks the plan for the next instant.
    fn wind(&mut self) -> Result<(), TransientError> {
        let next = self.plan.next_time_s(self.t);
        let is_later = self.t < next;
        if !is_later {
            return Err(TransientError::Clock { now_s: self.t, next_s: next });
        }
        self.clock = next.min(self.end);
        Ok(())
    }

    /// Leaps over a settled cycle that has just ended.
    fn leap(&mut self, watch: usize) {
        if !self.options.leaps {
            return;
        }
        let per_area = self.state.inverse_areas;
        let leap = self.cycles.leap(watch, self.clock, self.network, &per_area);
        let Some(mut leap) = leap else { return };
        let n = self.network.tanks.len();
        let mut here = Vec::new();
        self.plan.watch(&self.state.levels[..n], &mut here);
        let mut there = Vec::new();
        while 1.0 <= leap.count {
            let volumes: Vector<W> =
                std::array::from_fn(|i| self.state.volumes[i] + leap.count * leap.change[i]);
            let (mut z, mut inverse_areas) = ([0.0; W], [0.0; W]);
            self.layout.levels(&volumes, &mut z, &mut inverse_areas);
            there.clear();
            self.plan.watch(&z[..n], &mut there);
            let mut pairs = here.iter().zip(&there).enumerate();
            if pairs.all(|(k, (a, b))| k == watch || (*a < 0.0) == (*b < 0.0)) {
                let rise_m: Vector<W> = std::array::from_fn(|i| leap.change[i] * per_area[i]);
                self.plan.leapt(&Leapt {
                    t_s: self.t,
                    period_s: leap.period,
                    count: whole(leap.count),
                    rise_m: &rise_m[..n],
                });
                self.state.volumes = volumes;
                self.t += leap.count * leap.period;
                self.run.leaps += 1;
                self.cycles.leapt(watch, &leap, self.t, &volumes);
                self.state.refresh_levels(&self.layout);
                self.show_state();
                return;
            }
            leap.count = (0.5 * leap.count).floor();
        }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "`as` saturates")]
fn whole(count: f64) -> u32 {
    count as u32
}

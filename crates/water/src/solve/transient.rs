//! What the water does in time: what may be asked, and what is answered.

use serde::Serialize;

use crate::network::{Network, NetworkError};
use crate::solve::cycle::Cycle;
use crate::solve::plan::Plan;
use crate::solve::runner::Runner;
use crate::solve::with_width;

/// How exactly and how long a run is computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TransientOptions {
    /// Error of a level in one step, m.
    pub level_m: f64,
    /// The same as the time in which the level moves so far, s: it keeps the instants right at which slow
    /// drifts reach a float.
    pub time_s: f64,
    /// Longest step, s.
    pub max_step_s: f64,
    /// Most events before the run is given up.
    pub max_events: usize,
    /// Most steps, taken and rejected, before the run is given up.
    pub max_steps: usize,
    /// Whether settled cycles are leapt over.
    pub leaps: bool,
}

impl Default for TransientOptions {
    /// 0.01 mm and 1 ms a step. A prototype with these was measured against SciPy's Radau IIA of order 5
    /// with a tolerance of 1e-10, over twelve days with failures: levels within 0.005 mm, events within
    /// 0.01 s.
    fn default() -> Self {
        Self {
            level_m: 1e-5,
            time_s: 1e-3,
            max_step_s: f64::INFINITY,
            max_events: 20_000,
            max_steps: 500_000,
            leaps: true,
        }
    }
}

/// Why a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stop {
    /// The time was up.
    End,
    /// There were too many events.
    TooManyEvents,
    /// There were too many steps.
    TooManySteps,
    /// No step was short enough to be exact.
    StepTooSmall,
}

/// A run, as far as it came.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Why it ended. Unless it is [`Stop::End`], what would have followed is not known.
    pub stop: Stop,
    /// When it ended, s.
    pub t_s: f64,
    /// Volume of every tank then, m³.
    pub volumes_m3: Vec<f64>,
    /// Level of every tank then, m.
    pub levels_m: Vec<f64>,
    /// Steps taken.
    pub steps: usize,
    /// Steps that were not exact enough and were tried again, shorter.
    pub rejected: usize,
    /// Events, of the clock and of levels.
    pub events: usize,
    /// Leaps over settled cycles.
    pub leaps: usize,
    /// Largest change of the sum of all volumes, m³.
    pub drift_m3: f64,
    /// Cycles that had settled.
    pub cycles: Vec<Cycle>,
}

/// Why a run could not be computed at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TransientError {
    /// The network, or what goes with it, is unsound, from the start or after an event.
    #[error(transparent)]
    Network(#[from] NetworkError),
    /// A run without an end.
    #[error("a run of {end_s} s has no end; give a finite time")]
    Endless {
        /// The time asked for, s.
        end_s: f64,
    },
    /// A plan gives an instant that is already past.
    #[error("after {now_s} s the plan names {next_s} s as the next instant; it must be later")]
    Clock {
        /// The time, s.
        now_s: f64,
        /// What the plan says, s.
        next_s: f64,
    },
}

/// Runs a network for `end_s` seconds from these volumes (m³), with what the plan switches. Afterwards the
/// elements are as the plan has left them.
///
/// # Errors
/// [`TransientError`] if the network is unsound or the plan's clock goes back. A run that is given up is no
/// error: [`Run::stop`] says why.
pub fn transient(
    network: &mut Network,
    volumes_m3: &[f64],
    end_s: f64,
    plan: &mut dyn Plan,
    options: &TransientOptions,
) -> Result<Run, TransientError> {
    network.check()?;
    network.check_values("volume", volumes_m3)?;
    if !end_s.is_finite() {
        return Err(TransientError::Endless { end_s });
    }
    with_width!(network.tanks.len(), W => {
        Runner::<W>::new(network, volumes_m3, end_s, plan, options).run()
    })
}

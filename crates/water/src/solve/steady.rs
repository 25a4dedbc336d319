//! Levels at which every chamber passes on what it receives.

use serde::Serialize;

use crate::network::{Network, NetworkError};
use crate::solve::newton::{Scratch, Work};
use crate::solve::with_width;

/// What is asked of levels at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteadyOptions {
    /// The net inflows of all free tanks together may differ from zero by this much, m³/s.
    pub residual_m3_s: f64,
}

impl Default for SteadyOptions {
    /// 1e-12 m³/s, 4 mm³ an hour. Our judgement: far below every flow in a sump, far above rounding.
    fn default() -> Self {
        Self { residual_m3_s: 1e-12 }
    }
}

/// Which method brought the levels to rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum How {
    /// Newton's method, shortened where it overshoots.
    Newton,
    /// Steps in time that grow without limit.
    Relaxed,
    /// One chamber after the other, halving between bounds.
    Bisected,
}

/// How levels came to rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// The method that ended it.
    pub how: How,
    /// Linear systems solved, or rounds over all chambers.
    pub iterations: usize,
    /// What the net inflows of all free tanks together still differ from zero, m³/s.
    pub residual_m3_s: f64,
}

/// Levels at rest and how they were found.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// Level of every tank, m; those held as they were given.
    pub levels_m: Vec<f64>,
    /// The method that ended it.
    pub how: How,
    /// Linear systems solved, or rounds over all chambers.
    pub iterations: usize,
    /// What the net inflows of all free tanks together still differ from zero, m³/s.
    pub residual_m3_s: f64,
}

/// Why there are no levels at rest.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SteadyError {
    /// The network or what goes with it is unsound.
    #[error(transparent)]
    Network(#[from] NetworkError),
    /// No method brought the flows into balance.
    #[error(
        "flows still miss balance by {residual_m3_s:.2e} m³/s after {iterations} iterations \
         (limit {limit_m3_s:.0e})"
    )]
    NotBalanced {
        /// Sum over all free tanks of what is missing, m³/s.
        residual_m3_s: f64,
        /// Iterations of all methods.
        iterations: usize,
        /// The limit, m³/s.
        limit_m3_s: f64,
    },
    /// The given volume is not met at any level of the free tank within reach.
    #[error(
        "no level of tank `{tank}` from {low_m} m to {high_m} m gives {volume_m3} m³ in all; nearest \
         is {nearest_m3} m³"
    )]
    Volume {
        /// The tank whose level was sought.
        tank: String,
        /// Lowest level tried, m.
        low_m: f64,
        /// Highest level tried, m.
        high_m: f64,
        /// The volume asked for, m³.
        volume_m3: f64,
        /// The nearest volume met, m³.
        nearest_m3: f64,
    },
}

/// Levels at rest. `held` marks the tanks whose level is given (the return chamber, the floor, the air, a
/// reservoir); `start_m` holds the given levels and, for all others, where to start: see
/// [`start_levels`](crate::start_levels).
///
/// Where water runs the answer does not depend on the start. A chamber that water neither enters nor
/// leaves keeps the level that it starts with.
///
/// # Errors
/// [`SteadyError`] if the network is unsound or no method balances it.
pub fn steady(
    network: &Network,
    held: &[bool],
    start_m: &[f64],
    options: &SteadyOptions,
) -> Result<Steady, SteadyError> {
    network.check()?;
    let mut levels_m = start_m.to_vec();
    let mut solver = SteadySolver::new(network)?;
    let Settled { how, iterations, residual_m3_s } =
        solver.solve(network, held, &mut levels_m, options)?;
    Ok(Steady { levels_m, how, iterations, residual_m3_s })
}

/// Finds levels at rest again and again without allocating, for sweeps.
#[derive(Debug)]
pub struct SteadySolver {
    work: Box<dyn Work + Send>,
    tanks: usize,
}

impl SteadySolver {
    /// Room for this network and all others with as many tanks or fewer.
    ///
    /// # Errors
    /// [`SteadyError::Network`] if the network is unsound.
    pub fn new(network: &Network) -> Result<Self, SteadyError> {
        network.check()?;
        let tanks = network.tanks.len();
        Ok(Self { work: with_width!(tanks, W => Box::<Scratch<W>>::default()), tanks })
    }

    /// Levels at rest, from those in `levels_m`; see [`steady`]. After an error they are where the last
    /// method left them.
    ///
    /// # Errors
    /// As [`steady`].
    pub fn solve(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &mut [f64],
        options: &SteadyOptions,
    ) -> Result<Settled, SteadyError> {
        self.check(network, held, levels_m)?;
        self.work.settle(network, held, levels_m, options.residual_m3_s)
    }

    /// How the levels at rest answer to that of a held tank: `slopes[i]` is the rise of tank `i` per rise
    /// of `tank`, 1 for that tank itself and 0 for all others held.
    pub(crate) fn slopes(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &[f64],
        tank: usize,
        slopes: &mut [f64],
    ) -> Result<(), SteadyError> {
        self.check(network, held, levels_m)?;
        self.work.slopes(network, held, levels_m, tank, slopes);
        Ok(())
    }

    fn check(
        &self,
        network: &Network,
        held: &[bool],
        levels_m: &[f64],
    ) -> Result<(), NetworkError> {
        network.check_length("marks of held levels", held.len())?;
        network.check_values("level", levels_m)?;
        network.check_elements()?;
        let (count, limit) = (network.tanks.len(), self.tanks);
        if limit < count { Err(NetworkError::TooManyTanks { count, limit }) } else { Ok(()) }
    }
}

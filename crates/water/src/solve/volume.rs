//! Levels at rest for a given volume of water: what fills the system, not what stands in one chamber.

use crate::network::Network;
use crate::solve::steady::{How, Settled, Steady, SteadyError, SteadyOptions, SteadySolver};

/// How far above its bottom the level of the free tank is sought, m.
const REACH_M: f64 = 2.0;
/// The volume is met when it is this near, m³: a thousandth of a cubic millimetre.
const MET_M3: f64 = 1e-12;
/// If rounding stands in the way, this is near enough, m³.
const NEAR_M3: f64 = 1e-9;
/// A tank through whose elements less than this runs stands still, m³/s: 4 cm³ an hour.
const STANDS_M3_S: f64 = 1e-9;
/// A dead end starts this far above where it was found, to drain to its lip, m.
const RAISED_M: f64 = 0.3;
/// A tank that can stand lower by more than this is trapped, m.
const LOWER_M: f64 = 1e-6;

/// Water that fills some tanks, whatever their levels.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// The tank whose level nothing else decides: the return chamber.
    pub free: usize,
    /// The tanks whose volumes count, `free` among them.
    pub counted: Vec<bool>,
    /// Their volume in all, m³.
    pub volume_m3: f64,
}

/// A chamber in which water stands that can neither leave nor be replaced.
#[derive(Clone, Debug, PartialEq)]
pub struct Trapped {
    /// The tank.
    pub tank: usize,
    /// The lowest level at which it could stand as well, m.
    pub lowest_m: f64,
    /// The water between that and its lip, m³.
    pub volume_m3: f64,
}

/// Levels at rest for a volume of water.
#[derive(Clone, Debug, PartialEq)]
pub struct SteadyWithVolume {
    /// The levels, with every trapped chamber filled to its lip.
    pub steady: Steady,
    /// Chambers that hold water back. While there are any the volume does not decide the levels.
    pub trapped: Vec<Trapped>,
    /// Level of the free tank if the trapped chambers held as little as they can, m. The same as in
    /// `steady` if nothing is trapped.
    pub free_level_if_dry_m: f64,
}

/// Levels at rest at which the counted tanks together hold a given volume. `start_m` is where to start; see
/// [`steady`](crate::steady).
///
/// The volume rises strictly with the level of the free tank, so there is one such level, with one
/// exception: water behind a lip that nothing runs over. Such chambers count as filled to the lip, and
/// the answer names them.
///
/// # Errors
/// As [`steady`](crate::steady), and [`SteadyError::Volume`] if no level of the free tank gives the volume:
/// there is too much for any, or too little to fill the trapped chambers.
pub fn steady_with_volume(
    network: &Network,
    held: &[bool],
    start_m: &[f64],
    budget: &Budget,
    options: &SteadyOptions,
) -> Result<SteadyWithVolume, SteadyError> {
    network.check()?;
    network.check_length("marks of held levels", held.len())?;
    network.check_length("marks of counted volumes", budget.counted.len())?;
    network.check_length("levels with the free tank", start_m.len().max(budget.free + 1))?;
    let mut held = held.to_vec();
    held[budget.free] = true;
    let mut search = Search {
        network,
        held,
        budget,
        options,
        solver: SteadySolver::new(network)?,
        iterations: 0,
    };

    let mut levels = start_m.to_vec();
    let settled = search.meet(&mut levels, Fill::ToTheLip)?;

    let (trapped, mut dry) = search.trapped(&levels)?;
    let mut free_level_if_dry_m = levels[budget.free];
    if trapped.iter().any(|t| budget.counted[t.tank]) {
        search.meet(&mut dry, Fill::Least)?;
        free_level_if_dry_m = dry[budget.free];
    }
    let Settled { how, residual_m3_s, .. } = settled;
    let steady = Steady { levels_m: levels, how, iterations: search.iterations, residual_m3_s };
    Ok(SteadyWithVolume { steady, trapped, free_level_if_dry_m })
}

/// How full chambers are that nothing runs through.
#[derive(Clone, Copy)]
enum Fill {
    ToTheLip,
    Least,
}

/// Bounds of the free level nearer than this, with the volume between theirs, enclose a jump, m.
const JUMP_M: f64 = 1e-9;

struct Search<'a> {
    network: &'a Network,
    held: Vec<bool>,
    budget: &'a Budget,
    options: &'a SteadyOptions,
    solver: SteadySolver,
    iterations: usize,
}

impl Search<'_> {
    fn settle(&mut self, levels: &mut [f64]) -> Result<Settled, SteadyError> {
        let settled = self.solver.solve(self.network, &self.held, levels, self.options)?;
        self.iterations += settled.iterations;
        Ok(settled)
    }

    /// Moves the free level until the volume is met: Newton's method within bounds.
    ///
    /// With the least fill the volume jumps where a chamber begins to be filled over its lip. In the jump
    /// the chamber is partly filled, and the free tank stands at the level of the jump.
    fn meet(&mut self, levels: &mut [f64], fill: Fill) -> Result<Settled, SteadyError> {
        let free = self.budget.free;
        let floor = self.network.tanks[free].floor_m();
        let (mut low, mut high) = (floor, floor + REACH_M);
        let mut slopes = vec![0.0; levels.len()];
        let mut nearest =
            (f64::INFINITY, Settled { how: How::Newton, iterations: 0, residual_m3_s: 0.0 });
        for _ in 0..100 {
            let settled = self.settle(levels)?;
            match fill {
                Fill::ToTheLip => self.fill_to_the_lip(levels)?,
                Fill::Least => self.drain(levels)?,
            }
            self.solver.slopes(self.network, &self.held, levels, free, &mut slopes)?;
            let (mut over, mut rise) = (-self.budget.volume_m3, 0.0);
            for (i, tank) in self.network.tanks.iter().enumerate() {
                if self.budget.counted[i] {
                    let (volume, area) = tank.volume(levels[i]);
                    over += volume;
                    rise += area * slopes[i];
                }
            }
            nearest = (over, settled);
            if over.abs() <= MET_M3 {
                break;
            }
            if 0.0 < over {
                high = levels[free];
            } else {
                low = levels[free];
            }
            let mut level = levels[free] - over / rise;
            if !(low < level && level < high) {
                level = 0.5 * (low + high);
            }
            let step = level - levels[free];
            if step.abs() < 1e-15 {
                break;
            }
            if matches!(fill, Fill::Least) && high - low < JUMP_M {
                return Ok(settled);
            }
            // Take the others along as far as the slopes are good for.
            let taken = step.clamp(-0.01, 0.01);
            for (i, z) in levels.iter_mut().enumerate().filter(|(i, _)| !self.held[*i]) {
                *z += slopes[i] * taken;
            }
            levels[free] = level;
        }
        let (over, settled) = nearest;
        if over.abs() <= NEAR_M3 {
            return Ok(settled);
        }
        Err(SteadyError::Volume {
            tank: self.network.tanks[free].name.clone(),
            low_m: floor,
            high_m: floor + REACH_M,
            volume_m3: self.budget.volume_m3,
            nearest_m3: self.budget.volume_m3 + over,
        })
    }

    /// Fills chambers that stand still up to their lips.
    fn fill_to_the_lip(&mut self, levels: &mut [f64]) -> Result<(), SteadyError> {
        let still = self.still(levels);
        if still.is_empty() {
            return Ok(());
        }
        let mut raised = levels.to_vec();
        for &i in &still {
            raised[i] += RAISED_M;
        }
        let start = raised.clone();
        self.settle(&mut raised)?;
        let mut has_risen = false;
        for i in still {
            // What has not drained at all has no way out; its level is what it was given.
            let has_drained = raised[i] < start[i] - LOWER_M;
            if has_drained && levels[i] + LOWER_M < raised[i] {
                levels[i] = raised[i];
                has_risen = true;
            }
        }
        if has_risen {
            self.settle(levels)?;
        }
        Ok(())
    }

    /// Drains chambers that stand still as far as they can be.
    fn drain(&mut self, levels: &mut [f64]) -> Result<(), SteadyError> {
        let still = self.still(levels);
        if still.is_empty() {
            return Ok(());
        }
        for i in still {
            levels[i] = levels[i].min(self.network.tanks[i].floor_m());
        }
        self.settle(levels)?;
        Ok(())
    }

    /// Chambers that could stand lower at the same level of the free tank, and the levels if they do.
    fn trapped(&mut self, levels: &[f64]) -> Result<(Vec<Trapped>, Vec<f64>), SteadyError> {
        let mut dry = levels.to_vec();
        self.drain(&mut dry)?;
        let lower = (0..levels.len()).filter(|&i| dry[i] < levels[i] - LOWER_M);
        let trapped = lower.map(|tank| {
            let volume = |z| self.network.tanks[tank].volume(z).0;
            let volume_m3 = volume(levels[tank]) - volume(dry[tank]);
            Trapped { tank, lowest_m: dry[tank], volume_m3 }
        });
        Ok((trapped.collect(), dry))
    }

    /// Tanks that nothing runs through.
    fn still(&self, levels: &[f64]) -> Vec<usize> {
        let mut most = vec![0.0_f64; levels.len()];
        for e in self.network.elements.iter().filter(|e| e.is_open()) {
            let q = e.flow(levels[e.up], levels[e.down]).q.abs();
            most[e.up] = most[e.up].max(q);
            most[e.down] = most[e.down].max(q);
        }
        (0..levels.len()).filter(|&i| !self.held[i] && most[i] < STANDS_M3_S).collect()
    }
}

//! What presses on the plate.

use crate::assembly::{PAIRS, PER_NODE, unknowns};
use crate::grid::Grid;
use crate::hermite::line_load;
use crate::{Error, Plate, Rect};

/// A pressure on the plate or a part of it, towards the front. Several in one case add up: water on both sides
/// is one `water` and another with a negative weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressure {
    kind: Kind,
    within: Option<Rect>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Kind {
    Uniform { pressure: f64 },
    Water { weight: f64, level: f64 },
}

impl Pressure {
    /// The same everywhere, Pa.
    pub fn uniform(pressure: f64) -> Self {
        Self { kind: Kind::Uniform { pressure }, within: None }
    }

    /// `p = weight · (level − y)` below the level and nothing above it: `weight` is that of the water, `ρ g`, N/m³,
    /// and `level` its height in the plate's y, m.
    pub fn water(weight: f64, level: f64) -> Self {
        Self { kind: Kind::Water { weight, level }, within: None }
    }

    /// Only on this part of the plate, m.
    #[must_use]
    pub fn within(mut self, part: Rect) -> Self {
        self.within = Some(part);
        self
    }

    /// Pressure at a place, Pa.
    pub fn at(&self, [x, y]: [f64; 2]) -> f64 {
        let part = self.part();
        if x < part.x[0] || x > part.x[1] || y < part.y[0] || y > part.y[1] {
            return 0.0;
        }
        match self.kind {
            Kind::Uniform { pressure } => pressure,
            Kind::Water { weight, level } => weight * (level - y).max(0.0),
        }
    }

    fn part(&self) -> Rect {
        let all = [f64::NEG_INFINITY, f64::INFINITY];
        self.within.unwrap_or(Rect { x: all, y: all })
    }

    pub(crate) fn check(&self, plate: &Plate, index: usize) -> Result<(), Error> {
        let values = match self.kind {
            Kind::Uniform { pressure } => [pressure, 0.0],
            Kind::Water { weight, level } => [weight, level],
        };
        if let Some(&value) = values.iter().find(|value| !value.is_finite()) {
            return Err(Error::Value { what: "load", value, must: "a number" });
        }
        match self.within {
            Some(part) if !(plate.meets(0, part.x) && plate.meets(1, part.y)) => {
                Err(Error::Outside { what: "load", index })
            }
            _ => Ok(()),
        }
    }
}

/// Forces and couples of one case on all unknowns; exact also where the water's surface or the edge of a part runs through a
/// cell. A pressure is a product of what it is along x and along y, so each direction is integrated once.
pub(crate) fn on_nodes(grid: &Grid, case: &[Pressure]) -> Vec<f64> {
    let mut all = vec![0.0; PER_NODE * grid.nodes()];
    for pressure in case {
        let part = pressure.part();
        let across = of_steps(&grid.xs, part.x, f64::INFINITY, |_| (1.0, 0.0));
        let up = match pressure.kind {
            Kind::Uniform { pressure } => {
                of_steps(&grid.ys, part.y, f64::INFINITY, |_| (pressure, 0.0))
            }
            Kind::Water { weight, level } => {
                of_steps(&grid.ys, part.y, level, |from| (weight * (level - from), -weight))
            }
        };
        for (i, j) in grid.cells() {
            for (unknown, (x, y)) in unknowns(grid, i, j).into_iter().zip(PAIRS) {
                all[unknown] += across[i][x] * up[j][y];
            }
        }
    }
    all
}

/// Of each step between `places`, the integrals over what of it lies in `part` and below `top`; `pressure` gives value and slope from
/// the start of a step.
fn of_steps(
    places: &[f64],
    part: [f64; 2],
    top: f64,
    pressure: impl Fn(f64) -> (f64, f64),
) -> Vec<[f64; 4]> {
    let of_step = |step: &[f64]| {
        let (from, extent) = (step[0], step[1] - step[0]);
        let share = |at: f64| ((at - from) / extent).clamp(0.0, 1.0);
        let (value, slope) = pressure(from);
        line_load(extent, share(part[0]), share(part[1]).min(share(top)), value, slope)
    };
    places.windows(2).map(of_step).collect()
}

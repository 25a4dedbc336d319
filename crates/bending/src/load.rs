//! What presses on the plate.

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

/// Forces and couples of one case on the sixteen unknowns of a cell; exact also where the water's surface or the
/// edge of a part runs through the cell.
pub(crate) fn on_cell(grid: &Grid, i: usize, j: usize, case: &[Pressure]) -> [f64; 16] {
    let (x0, width) = (grid.xs[i], grid.xs[i + 1] - grid.xs[i]);
    let (y0, height) = (grid.ys[j], grid.ys[j + 1] - grid.ys[j]);
    let mut load = [0.0; 16];
    for pressure in case {
        let part = pressure.part();
        let share = |from: f64, h: f64, at: f64| ((at - from) / h).clamp(0.0, 1.0);
        let left = share(x0, width, part.x[0]);
        let right = share(x0, width, part.x[1]);
        let low = share(y0, height, part.y[0]);
        let high = share(y0, height, part.y[1]);
        let across = line_load(width, left, right, 1.0, 0.0);
        let up = match pressure.kind {
            Kind::Uniform { pressure } => line_load(height, low, high, pressure, 0.0),
            Kind::Water { weight, level } => {
                let wet = share(y0, height, level).min(high);
                line_load(height, low, wet, weight * (level - y0), -weight)
            }
        };
        for (sum, (x, y)) in load.iter_mut().zip(crate::assembly::PAIRS) {
            *sum += across[x] * up[y];
        }
    }
    load
}

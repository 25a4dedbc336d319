//! The floor of a chamber as cells.

use glam::{DQuat, DVec2, DVec3};

use super::obstacles::{Bar, Obstacles};
use crate::convex::Convex;

/// Greatest side of a cell, mm: about a finger's thickness.
const CELL_MM: f64 = 20.0;
/// What stands on the floor lower than this above it takes no floor away, mm.
const ON_FLOOR_MM: f64 = 1.0;

/// A floor cut into equal cells.
#[derive(Clone, Debug)]
pub(crate) struct Floor {
    /// Least corner, mm.
    pub(crate) min: DVec2,
    /// Greatest corner.
    pub(crate) max: DVec2,
    /// Its height.
    pub(crate) z: f64,
    /// Sides of a cell.
    pub(crate) pitch: DVec2,
    /// How many cells there are along x and along y.
    pub(crate) count: [usize; 2],
}

impl Floor {
    /// The floor between two corners.
    pub(crate) fn new(min: DVec2, max: DVec2, z: f64) -> Self {
        let size = max - min;
        let count = [size.x, size.y].map(cells_along);
        let pitch = DVec2::new(size.x / as_f64(count[0]), size.y / as_f64(count[1]));
        Self { min, max, z, pitch, count }
    }

    /// How many cells there are.
    pub(crate) fn len(&self) -> usize {
        self.count[0] * self.count[1]
    }

    /// Middle of a cell.
    pub(crate) fn centre(&self, cell: usize) -> DVec2 {
        let (i, j) = (cell % self.count[0], cell / self.count[0]);
        self.min + self.pitch * DVec2::new(as_f64(i) + 0.5, as_f64(j) + 0.5)
    }

    /// Whether a cell is one of every other along and across, the last ones too.
    pub(crate) fn is_in_coarse_grid(&self, cell: usize) -> bool {
        let is_in = |place: usize, count: usize| place.is_multiple_of(2) || place + 1 == count;
        is_in(cell % self.count[0], self.count[0]) && is_in(cell / self.count[0], self.count[1])
    }

    /// The cells whose middle lies in the box between two corners.
    pub(crate) fn between(&self, min: DVec2, max: DVec2) -> impl Iterator<Item = usize> {
        let range = |k: usize| {
            let place = |edge: f64| (edge - self.min[k]) / self.pitch[k] - 0.5;
            count_up_to(place(min[k]).ceil())
                ..count_up_to(place(max[k]).floor() + 1.0).min(self.count[k])
        };
        let (columns, row) = (range(0), self.count[0]);
        range(1).flat_map(move |j| columns.clone().map(move |i| j * row + i))
    }

    /// The cells that are floor: nothing fixed stands on them.
    pub(crate) fn open(&self, obstacles: &Obstacles<'_>) -> Vec<bool> {
        let probe =
            Convex::block([DVec3::splat(0.4 * ON_FLOOR_MM), DVec3::splat(0.6 * ON_FLOOR_MM)]);
        let probe = [Bar::new(probe.points, [DVec3::splat(0.5 * ON_FLOOR_MM); 2], DQuat::IDENTITY)];
        let stands_free =
            |cell| obstacles.blocking(&probe, self.centre(cell).extend(self.z), &mut 0).is_some();
        (0..self.len()).map(stands_free).collect()
    }
}

/// Into how many cells a side is cut.
fn cells_along(length: f64) -> usize {
    (1_usize..).find(|&n| length <= CELL_MM * as_f64(n)).unwrap_or(1)
}

/// A whole number of cells; none for what is below.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast from a float stops at the ends of the range"
)]
fn count_up_to(place: f64) -> usize {
    place.max(0.0) as usize
}

/// Exact for any number of cells that fits in memory.
#[expect(clippy::cast_precision_loss, reason = "numbers of cells are far below 2^52")]
fn as_f64(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_fill_the_floor() {
        let floor = Floor::new(DVec2::new(10.0, -5.0), DVec2::new(121.0, 25.0), 3.0);
        assert_eq!(floor.count, [6, 2]);
        assert!(floor.centre(0).distance(DVec2::new(19.25, 2.5)) < 1e-12);
        assert!(floor.centre(11).distance(DVec2::new(111.75, 17.5)) < 1e-12);
        let all: Vec<usize> = floor.between(floor.min, floor.max).collect();
        assert_eq!(all, (0..12).collect::<Vec<_>>());
        let some: Vec<usize> =
            floor.between(DVec2::new(30.0, 0.0), DVec2::new(70.0, 10.0)).collect();
        assert_eq!(some, [1, 2]);
    }
}

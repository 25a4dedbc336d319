//! What is no part of the loop, and over which edges water leaves it.

use super::{PUDDLE_M, Part, System};

impl System<'_> {
    /// Which tanks are no part of the loop: floors, air, reservoir.
    pub(crate) fn is_outside(&self) -> Vec<bool> {
        let t = &self.tanks;
        let outside = [Some(t.sump_floor), Some(t.display_floor), Some(t.air), t.reservoir];
        (0..self.network.tanks.len()).map(|i| outside.contains(&Some(i))).collect()
    }

    /// Every tank with a rim over which it runs on to a floor, and that rim's height, m.
    pub fn rims(&self) -> Vec<(usize, f64)> {
        let is_lid = |tank: &usize| self.tanks.covers.contains(tank);
        self.edges().into_iter().filter(|(tank, _)| !is_lid(tank)).collect()
    }

    /// The same with the lids, from whose edges water runs on to the floor as well.
    pub(crate) fn edges(&self) -> Vec<(usize, f64)> {
        let mut rims: Vec<(usize, f64)> = Vec::new();
        for (i, part) in self.parts.iter().enumerate() {
            let height_mm = match part {
                Part::Rim { tank } => {
                    let basin = (0..self.tanks.basins).find(|b| b == tank).or_else(|| {
                        let shelf = self.tanks.shelves.iter().position(|s| s == tank)?;
                        Some(self.works.shelves[shelf].basin)
                    });
                    basin.map(|b| self.works.basins[b].rim_mm)
                }
                Part::DisplayRim => self.works.display.as_ref().map(|d| d.rim_mm),
                Part::LidEdge { cover } => Some(self.works.covers[*cover].top_mm + 1e3 * PUDDLE_M),
                _ => None,
            };
            if let Some(mm) = height_mm {
                rims.push((self.network.elements[i].up, mm * 1e-3));
            }
        }
        rims
    }
}

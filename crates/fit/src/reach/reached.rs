//! What of a floor is reached, given what is out.

use design::RemovableId;
use glam::DVec2;

use super::antichain::Antichain;
use super::cover::cover;
use super::floor::Floor;
use super::limb::Limb;
use super::obstacles::Obstacles;
use super::poses::{Arms, Tip};
use super::removal::{self, Removal};

/// What a limb reaches of a floor, whatever is out.
#[derive(Clone, Debug)]
pub(crate) struct Reached<'a> {
    floor: Floor,
    /// Of the cells that are floor: which, and what must be gone for each.
    cells: Vec<(usize, Antichain)>,
    obstacles: &'a Obstacles<'a>,
    removals: &'a [Removal],
}

impl<'a> Reached<'a> {
    pub(crate) fn new(
        floor: Floor,
        (limb, tips): (&Limb, &[Tip]),
        arms: &Arms<'_>,
        obstacles: &'a Obstacles<'a>,
        removals: &'a [Removal],
    ) -> Self {
        let open = floor.open(obstacles);
        let cells = cover(&floor, limb, tips, arms, obstacles).into_iter().enumerate();
        let cells = cells.filter(|(cell, _)| open[*cell]).collect();
        Self { floor, cells, obstacles, removals }
    }

    /// Whether there is any floor at all, on which nothing fixed stands.
    pub(crate) fn has_floor(&self) -> bool {
        !self.cells.is_empty()
    }

    /// How many cells are reached when these are wanted out.
    fn count(&self, out: &[bool]) -> usize {
        let gone = self.obstacles.gone(out);
        self.cells.iter().filter(|(_, needs)| needs.holds(gone)).count()
    }

    /// Share of the floor that is reached when all of `wanted` are out; 0 of a floor that is none.
    pub(crate) fn share(&self, wanted: &[RemovableId]) -> f64 {
        let all = u32::try_from(self.cells.len()).unwrap_or(u32::MAX);
        let reached =
            u32::try_from(self.count(&removal::out(self.removals, wanted))).unwrap_or(u32::MAX);
        f64::from(reached) / f64::from(all.max(1))
    }

    /// The fewest of the removables that make most of the floor reached; with `any_way` also such of which no
    /// way out is known.
    pub(crate) fn wanted(&self, any_way: bool) -> Vec<RemovableId> {
        // What is in no set of any cell is never wanted.
        let in_the_way =
            self.cells.iter().flat_map(|(_, needs)| needs.sets()).fold(0, |all, set| all | set);
        let helps = |id: &RemovableId| {
            let removal = &self.removals[*id];
            let out = removal::out(self.removals, &[*id]);
            (any_way || removal.is_way_known) && self.obstacles.gone(&out) & in_the_way != 0
        };
        let candidates: Vec<RemovableId> = (0..self.removals.len()).filter(helps).collect();
        removal::least(self.removals, &candidates, |out| self.count(out))
    }

    /// The place that is farthest from any that is reached when these are wanted out.
    pub(crate) fn farthest_off(&self, wanted: &[RemovableId]) -> Option<DVec2> {
        let gone = self.obstacles.gone(&removal::out(self.removals, wanted));
        let centre = |(cell, _): &(usize, Antichain)| self.floor.centre(*cell);
        let (reached, off): (Vec<_>, Vec<_>) =
            self.cells.iter().partition(|(_, needs)| needs.holds(gone));
        let reached: Vec<DVec2> = reached.into_iter().map(centre).collect();
        let middle = 0.5 * (self.floor.min + self.floor.max);
        let distance = |place: DVec2| match reached.is_empty() {
            true => -place.distance_squared(middle),
            false => {
                reached.iter().fold(f64::INFINITY, |least, p| least.min(p.distance_squared(place)))
            }
        };
        let places = off.into_iter().map(centre).map(|place| (distance(place), place));
        // The first of equals, so that the order of the floor decides and nothing else.
        places
            .reduce(|best, next| if best.0 < next.0 { next } else { best })
            .map(|(_, place)| place)
    }
}

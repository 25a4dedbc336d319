//! Which cells of a floor a limb covers, and what must be gone for each.

use glam::{DVec2, DVec3};

use super::antichain::Antichain;
use super::floor::Floor;
use super::limb::Limb;
use super::obstacles::{Bar, Obstacles};
use super::poses::{Arms, Stance, Tip};

/// How far what touches the floor stays above it and off the walls, mm; so that touching is not sharing room.
const OFF_MM: f64 = 0.5;
/// Spins whose joints lie no farther apart than this share the second link, mm.
const SAME_JOINT_MM: f64 = 20.0;

/// For every cell what must be gone so that a pose covers it, in all alternatives.
pub(crate) fn cover(
    floor: &Floor,
    limb: &Limb,
    tips: &[Tip],
    arms: &Arms<'_>,
    obstacles: &Obstacles<'_>,
) -> Vec<Antichain> {
    let mut cells = vec![Antichain::default(); floor.len()];
    let room = DVec3::splat(limb.first.length + limb.second.length);
    let [min, max] = [floor.min.extend(floor.z), floor.max.extend(floor.z)];
    let obstacles = obstacles.within(min - room, max + room);
    let place = |cell| Place { floor, limb, arms, centre: floor.centre(cell) };
    // Every other place first. Where those find nothing, however much is taken out, those between are left out.
    let (coarse, between): (Vec<usize>, Vec<usize>) =
        (0..floor.len()).partition(|cell| floor.is_in_coarse_grid(*cell));
    for cell in coarse {
        place(cell).try_all(tips, &obstacles, &mut cells);
    }
    let is_near_some = |cell: &usize| {
        let (centre, step) = (floor.centre(*cell), 1.1 * floor.pitch);
        floor.between(centre - step, centre + step).any(|near| !cells[near].sets().is_empty())
    };
    let between: Vec<usize> = between.into_iter().filter(is_near_some).collect();
    for cell in between {
        place(cell).try_all(tips, &obstacles, &mut cells);
    }
    cells
}

/// Where the end of a limb is put down.
struct Place<'a> {
    floor: &'a Floor,
    limb: &'a Limb,
    arms: &'a Arms<'a>,
    centre: DVec2,
}

impl Place<'_> {
    /// Tries every pose here, and notes what it takes with all cells that it covers.
    fn try_all(&self, tips: &[Tip], all: &Obstacles<'_>, cells: &mut [Antichain]) {
        let is_open = |cell: usize| !cells[cell].is_free();
        let widest = DVec2::splat(
            DVec2::from(self.limb.end).length() + 2.0 * self.floor.pitch.max_element(),
        );
        // No farther than it may cover, nor than walls push it off.
        if !self.floor.between(self.centre - 2.0 * widest, self.centre + 2.0 * widest).any(is_open)
        {
            return;
        }
        let near = self.near(tips, all);
        let (mut recent_first, mut recent_second) = (0, 0);
        for tip in tips {
            let joint = |stance: &Stance| self.end(stance) + self.limb.first.length * tip.up;
            // What the second link takes, for the first of all spins with nearly the same joint.
            let mut seconds: Vec<(DVec3, Option<Antichain>)> = Vec::new();
            for stance in &tip.stances {
                let (end, joint) = (self.end(stance), joint(stance));
                let known = seconds.iter().position(|(at, _)| at.distance(joint) <= SAME_JOINT_MM);
                let known = known.unwrap_or_else(|| {
                    seconds.push((joint, None));
                    seconds.len() - 1
                });
                let (joint, seconds) = &mut seconds[known];
                if seconds.as_ref().is_some_and(|seconds| seconds.sets().is_empty())
                    || !self.arms.may_get_out(*joint)
                    || self.covered(stance, end.truncate()).all(|cell| cells[cell].is_free())
                {
                    continue;
                }
                let Some(first) = near.blocking(&stance.bars, end, &mut recent_first) else {
                    continue;
                };
                if self.covered(stance, end.truncate()).all(|cell| cells[cell].holds(first)) {
                    continue;
                }
                let least = (tip.up, -self.limb.joint_cosine);
                let seconds = seconds
                    .get_or_insert_with(|| self.arms.least(*joint, least, all, &mut recent_second));
                for second in seconds.sets() {
                    for cell in self.covered(stance, end.truncate()) {
                        cells[cell].add(first | second);
                    }
                }
            }
        }
    }

    /// What is in the way of the first link in any of its poses.
    fn near<'o>(&self, tips: &[Tip], all: &Obstacles<'o>) -> Obstacles<'o> {
        let (mut min, mut max) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        for stance in tips.iter().flat_map(|tip| &tip.stances) {
            let end = self.end(stance);
            for [lo, hi] in stance.bars.iter().map(Bar::bounds) {
                (min, max) = (min.min(end + lo), max.max(end + hi));
            }
        }
        all.within(min, max)
    }

    /// Where the middle of the end is: over the cell, but off the walls as far as there is room, and with
    /// its lowest corner on the floor.
    fn end(&self, stance: &Stance) -> DVec3 {
        let keep = stance.half_end + OFF_MM;
        let (min, max) = (self.floor.min + keep, self.floor.max - keep);
        let along = |k: usize| match min[k] <= max[k] {
            true => self.centre[k].clamp(min[k], max[k]),
            false => 0.5 * (min[k] + max[k]),
        };
        DVec3::new(along(0), along(1), self.floor.z + stance.drop + OFF_MM)
    }

    /// The cells that it covers: half a cell more on every side than the end itself.
    fn covered(&self, stance: &Stance, end: DVec2) -> impl Iterator<Item = usize> {
        let slack = 0.5 * self.floor.pitch.max_element();
        let around = stance.half_end + 2.0 * slack;
        let covers =
            move |cell: &usize| stance.covers(self.floor.centre(*cell) - end, self.limb.end, slack);
        self.floor.between(end - around, end + around).filter(covers)
    }
}

//! Which cells of a floor a limb covers, and what must be gone for each.

use glam::{DVec2, DVec3};

use super::antichain::Antichain;
use super::floor::Floor;
use super::limb::Limb;
use super::obstacles::{Bar, Groups, Obstacles};
use super::poses::{Arms, Stance, Tip};

/// How far what touches the floor stays above it and off the walls, mm; so that touching is not sharing room.
const OFF_MM: f64 = 0.5;

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
    for cell in 0..floor.len() {
        let place = Place { floor, limb, arms, centre: floor.centre(cell) };
        place.try_all(tips, &obstacles, &mut cells);
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
        let near = self.near(tips, all);
        for tip in tips {
            // What the second link takes depends little on where exactly the end is, so it is reckoned from each.
            for stance in &tip.stances {
                let end = self.end(stance);
                let covered = self.covered(stance, end.truncate());
                if covered.iter().all(|cell| cells[*cell].is_free()) {
                    continue;
                }
                let Some(first) = near.blocking(&stance.bars, end) else { continue };
                if covered.iter().all(|cell| cells[*cell].holds(first)) {
                    continue;
                }
                let joint = end + self.limb.first.length * tip.up;
                for second in self.seconds(tip, joint, first, all).sets() {
                    for cell in &covered {
                        cells[*cell].add(first | second);
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
    fn covered(&self, stance: &Stance, end: DVec2) -> Vec<usize> {
        let slack = 0.5 * self.floor.pitch.max_element();
        let around = stance.half_end + 2.0 * slack;
        let covers =
            |cell: &usize| stance.covers(self.floor.centre(*cell) - end, self.limb.end, slack);
        self.floor.between(end - around, end + around).filter(covers).collect()
    }

    /// What must be gone for the second link besides `first`, in all alternatives.
    fn seconds(&self, tip: &Tip, joint: DVec3, first: Groups, all: &Obstacles<'_>) -> Antichain {
        let mut seconds = Antichain::default();
        for turn in self.arms.towards(joint) {
            let direction = turn * DVec3::Z;
            if direction.dot(tip.up) < -self.limb.joint_cosine {
                continue;
            }
            let bars: Vec<Bar> =
                self.limb.second.corners(turn).map(|corners| Bar::new(corners, turn)).collect();
            if let Some(groups) = all.blocking(&bars, joint) {
                seconds.add(groups & !first);
            }
            if seconds.is_free() {
                break;
            }
        }
        seconds
    }
}

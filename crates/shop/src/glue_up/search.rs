//! The order in which units go into the box.

use std::collections::BTreeSet;

use design::{PlacedId, Role};
use glam::DVec3;

use super::entry::{self, WAYS};
use super::feeding::{feeds, out_of_reach};
use super::fewest;
use super::parts::Parts;
use super::unit::Unit;
use super::{Feed, JointId, Unfed};

/// One unit going in.
#[derive(Clone, Debug)]
pub(super) struct Put {
    pub(super) unit: usize,
    /// The unit's parts.
    pub(super) moving: Vec<PlacedId>,
    /// What stands before.
    pub(super) standing: Vec<PlacedId>,
    /// Its way in; `None` where no straight way is free.
    pub(super) way: Option<DVec3>,
    pub(super) feeds: Vec<Feed>,
    /// Joints that no needle reaches.
    pub(super) unfed: Vec<Unfed>,
}

/// The search for an order over one set of units.
pub(super) struct Search<'a> {
    parts: &'a Parts<'a>,
    units: &'a [Unit],
    ids: Vec<Vec<PlacedId>>,
    /// Units from the one that is best put in first.
    preference: Vec<usize>,
    /// Sets of units from which no order leads to the end.
    dead: BTreeSet<Vec<usize>>,
    /// How many more units may be tried.
    tries: usize,
}

/// So many units are tried until no order is found; our judgement: where there is one, a sump of twenty parts takes some
/// dozens.
const TRIES: usize = 300;
/// A part that does not get in is as bad as so many joints out of reach; our judgement.
const NO_WAY: usize = 10;

impl<'a> Search<'a> {
    pub(super) fn new(parts: &'a Parts<'a>, units: &'a [Unit]) -> Self {
        let mut preference: Vec<usize> = (0..units.len()).collect();
        preference.sort_by(|&i, &j| {
            let [(a, p), (b, q)] = [i, j].map(|k| rank(parts, &units[k]));
            a.cmp(&b).then(q.total_cmp(&p)).then(i.cmp(&j))
        });
        let ids = units.iter().map(Unit::ids).collect();
        Self { parts, units, ids, preference, dead: BTreeSet::new(), tries: TRIES }
    }

    /// What the box begins with.
    pub(super) fn base(&self, among: &[usize]) -> Option<usize> {
        self.preference.iter().copied().find(|unit| among.contains(unit))
    }

    /// An order of units after the ones that stand, in which everything holds; `None` where there is none.
    pub(super) fn order(&mut self, standing: &mut Vec<usize>, left: &[usize]) -> Option<Vec<Put>> {
        if left.is_empty() {
            return Some(Vec::new());
        }
        let mut state = standing.clone();
        state.sort_unstable();
        if self.dead.contains(&state) {
            return None;
        }
        for unit in self.preference.clone() {
            if !left.contains(&unit) {
                continue;
            }
            self.tries = self.tries.checked_sub(1)?;
            let Some(put) = self.sound(standing, unit) else { continue };
            let rest: Vec<usize> = left.iter().copied().filter(|&u| u != unit).collect();
            standing.push(unit);
            let after =
                if self.is_open(standing, &rest) { self.order(standing, &rest) } else { None };
            standing.pop();
            if let Some(mut after) = after {
                after.insert(0, put);
                return Some(after);
            }
        }
        self.dead.insert(state);
        None
    }

    /// The unit that is best put in next where no order holds throughout: with the fewest joints out of reach, its own
    /// and those that it shuts off.
    pub(super) fn least_bad(&self, standing: &[usize], left: &[usize]) -> Option<Put> {
        let joined = left.iter().copied().filter(|&u| !self.joints(standing, u).is_empty());
        let puts = joined.map(|unit| {
            let put = self.put(standing, unit);
            let own = put.unfed.len() + NO_WAY * usize::from(put.way.is_none());
            let after: Vec<usize> = standing.iter().copied().chain([unit]).collect();
            let rest = left.iter().copied().filter(|&u| u != unit);
            let shut: usize = rest.map(|u| self.shut(&after, u)).sum();
            let place = self.preference.iter().position(|&u| u == unit);
            // A rim shuts off what it does not touch: the hand.
            let is_rim = self.parts.role(self.units[unit].host) == Role::Rim;
            ((is_rim && left.len() > 1, own + shut, place), put)
        });
        puts.min_by(|(a, _), (b, _)| a.cmp(b)).map(|(_, put)| put)
    }

    /// How much of a unit's work is shut off by what stands: joints out of reach, and its way in.
    fn shut(&self, standing: &[usize], unit: usize) -> usize {
        let (there, joints) = (self.placed(standing), self.joints(standing, unit));
        let out = out_of_reach(self.parts, &there, &self.ids[unit], &joints);
        out.len() + NO_WAY * usize::from(self.way(&there, unit).is_none())
    }

    /// A unit put to those that stand, when all of it holds.
    pub(super) fn sound(&self, standing: &[usize], unit: usize) -> Option<Put> {
        let joints = self.joints(standing, unit);
        let there = self.placed(standing);
        let is_sound = !joints.is_empty() && self.way(&there, unit).is_some();
        let put = is_sound.then(|| self.put(standing, unit))?;
        put.unfed.is_empty().then_some(put)
    }

    /// A unit put to those that stand, as well as it can be.
    fn put(&self, standing: &[usize], unit: usize) -> Put {
        let (there, moving) = (self.placed(standing), self.ids[unit].clone());
        let joints = self.joints(standing, unit);
        let (feeds, unfed) = feeds(self.parts, &there, &moving, &joints);
        Put { unit, way: self.way(&there, unit), moving, standing: there, feeds, unfed }
    }

    /// Whether every unit that is left can still go in, and its joints with what stands can still be fed. What stands
    /// later only takes room away.
    pub(super) fn is_open(&self, standing: &[usize], left: &[usize]) -> bool {
        left.iter().all(|&unit| self.shut(standing, unit) == 0)
    }

    fn way(&self, there: &[PlacedId], unit: usize) -> Option<DVec3> {
        WAYS.into_iter().find(|way| entry::is_free(self.parts, &self.ids[unit], there, *way))
    }

    fn joints(&self, standing: &[usize], unit: usize) -> Vec<JointId> {
        self.parts.between(&self.ids[unit], &self.placed(standing))
    }

    fn placed(&self, units: &[usize]) -> Vec<PlacedId> {
        units.iter().flat_map(|&unit| self.ids[unit].iter().copied()).collect()
    }

    /// The units that are joined to a unit, through others too, itself included.
    pub(super) fn joined_to(&self, unit: usize, among: &[usize]) -> Vec<usize> {
        let mut joined = vec![unit];
        loop {
            let next = among
                .iter()
                .copied()
                .find(|&u| !joined.contains(&u) && !self.joints(&joined, u).is_empty());
            match next {
                Some(next) => joined.push(next),
                None => return joined,
            }
        }
    }

    /// What a unit is, by the part that names it.
    pub(super) fn role(&self, unit: usize) -> Role {
        self.parts.role(self.units[unit].host)
    }

    /// Its place in common practice, the first 0.
    pub(super) fn place(&self, unit: usize) -> usize {
        self.preference.iter().position(|&u| u == unit).unwrap_or(self.preference.len())
    }

    /// What some units weigh together, kg.
    pub(super) fn mass_kg(&self, units: &[usize]) -> f64 {
        units.iter().map(|&unit| self.parts.mass_kg(&self.ids[unit])).sum()
    }

    /// Whether two units are glued to each other.
    pub(super) fn is_joined(&self, some: usize, other: usize) -> bool {
        !self.parts.between(&self.ids[some], &self.ids[other]).is_empty()
    }

    /// Whether two units have a joint that stands upright while the box stands on its bottom.
    pub(super) fn is_upright(&self, some: usize, other: usize) -> bool {
        let joints = self.parts.between(&self.ids[some], &self.ids[other]);
        joints.into_iter().any(|joint| fewest::is_upright(self.parts, joint))
    }

    /// The part that names a unit.
    pub(super) fn unit(&self, unit: usize) -> &Unit {
        &self.units[unit]
    }
}

/// The order in which a box is usually built (common practice): the bottom, the walls from the longest, what parts the
/// chambers from the inlet on, small parts, the rim. And by what like ones are told apart, the greatest first.
fn rank(parts: &Parts<'_>, unit: &Unit) -> (u8, f64) {
    let block = &parts.blocks[unit.host];
    let order = match parts.role(unit.host) {
        Role::Bottom => 0,
        Role::Wall => 1,
        Role::Leaf => 2,
        Role::Rim => 4,
        _ => 3,
    };
    (order, if order == 1 { block.size().max_element() } else { -block.lo.x })
}

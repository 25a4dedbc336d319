//! Ways through the real bodies.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use design::{Design, RemovableId, RemovableKind};

use super::{Search, Tries, before};
use crate::convex::Convex;
use crate::motion::Motion;
use crate::plan::{Body, Effort, Space, holds, is_free, plan_by_chance, plan_plainly, proof};
use crate::way::{Proof, Verdict};
use crate::world::hoses::{Hose, hoses};
use crate::world::{Exits, Origin, ThingId, World};

/// Plans ways of the removables of a design.
#[derive(Debug)]
pub(crate) struct Planner<'a> {
    pub(crate) design: &'a Design,
    pub(crate) world: &'a World,
    /// What moves with each removable.
    parts: Vec<Vec<ThingId>>,
    /// What is undone before each moves.
    undone: Vec<Vec<ThingId>>,
    wholes: Vec<Vec<RemovableId>>,
    /// For every thing whether it moves with, or is undone for, anything that can be taken out of the sump.
    is_loose: Vec<bool>,
    /// Hoses that hang down to drain pipes.
    hoses: Vec<Hose>,
    /// Searches by chance, one after the other until one finds a way.
    efforts: Vec<Effort>,
    /// The way out of the cabinet only: for what does not stand in the sump.
    doors: Exits,
    /// What was found before: the search for an order asks the same again.
    asked: Mutex<HashMap<Question, Arc<OnceLock<Verdict>>>>,
    /// What was proved of each. A proof rests on what stays whatever is gone, and on the part without what comes off it: it is
    /// the same for all questions.
    proofs: Vec<OnceLock<Option<Proof>>>,
}

/// What is asked for a way, with what is gone, and how hard.
type Question = (RemovableId, Vec<bool>, Tries);

impl<'a> Planner<'a> {
    /// With these searches where plain moves find nothing.
    pub(crate) fn new(design: &'a Design, world: &'a World, efforts: Vec<Effort>) -> Self {
        let parts: Vec<Vec<ThingId>> = world.removable_things(design);
        let undone: Vec<Vec<ThingId>> =
            design.removables.iter().map(|r| world.undone(r, design)).collect();
        let is_whole_of = |whole: RemovableId, part: RemovableId| {
            whole != part
                && !parts[part].is_empty()
                && parts[part].len() < parts[whole].len()
                && parts[part].iter().all(|thing| parts[whole].contains(thing))
        };
        let count = parts.len();
        let wholes =
            (0..count).map(|part| (0..count).filter(|w| is_whole_of(*w, part)).collect()).collect();
        let mut is_loose = vec![false; world.things.len()];
        for (which, removable) in design.removables.iter().enumerate() {
            if removable.kind != RemovableKind::Sump {
                parts[which].iter().chain(&undone[which]).for_each(|thing| is_loose[*thing] = true);
            }
        }
        // What is above the least height counts as past the rim.
        let doors = Exits { rim_z: f64::MIN, rim: Vec::new(), ..world.exits.clone() };
        let (asked, proofs) = (Mutex::default(), vec![OnceLock::new(); count]);
        Self {
            design,
            world,
            parts,
            undone,
            wholes,
            is_loose,
            hoses: hoses(world, design),
            efforts,
            doors,
            asked,
            proofs,
        }
    }

    /// The body that moves: all that goes with it and is not out yet.
    pub(crate) fn body(&self, which: RemovableId, gone: &[bool]) -> Body {
        let out = self.things_out(gone);
        let left: Vec<ThingId> =
            self.parts[which].iter().copied().filter(|thing| !out[*thing]).collect();
        let removable = &self.design.removables[which];
        let body = Body::new(&self.world.moving(removable, &left, self.design, true));
        body.really(&self.whole(which))
    }

    /// What of it always moves together, as it really is.
    fn whole(&self, which: RemovableId) -> Vec<Convex> {
        let is_part = |k: usize| self.wholes[k].contains(&which);
        let comes_off = |thing: &ThingId| {
            (0..self.parts.len()).any(|k| is_part(k) && self.parts[k].contains(thing))
        };
        let stays = |thing: &ThingId| self.is_sump(which) || !comes_off(thing);
        let things: Vec<ThingId> = self.parts[which].iter().copied().filter(stays).collect();
        if self.is_sump(which) {
            // For planning it is a block; what is hollow may pass where a block does not.
            let held = things.iter().filter(|thing| !self.is_loose[**thing]);
            return held.flat_map(|thing| &self.world.things[*thing].fine).cloned().collect();
        }
        let removable = &self.design.removables[which];
        let mut pieces = self.world.moving(removable, &things, self.design, false);
        if removable.stiff_from_z.is_some() {
            // Of a sock only its flange: its bag lies flat and bends.
            pieces.truncate(1);
        }
        pieces
    }

    /// What stands around it, without itself and what is undone for it.
    pub(crate) fn space<'w>(
        &'w self,
        world: &'w World,
        which: RemovableId,
        gone: &[bool],
    ) -> Space<'w> {
        let mut out = self.things_out(gone);
        // What came out only for this one had better not been in its way at all.
        let spared: Vec<ThingId> = (0..out.len()).filter(|thing| out[*thing]).collect();
        for thing in self.parts[which].iter().chain(&self.undone[which]) {
            out[*thing] = true;
        }
        if self.is_sump(which) {
            for (thing, is_out) in world.things.iter().zip(&mut out) {
                *is_out |= !matches!(thing.origin, Origin::Surrounding(_));
            }
        }
        let is_fixed = |thing: ThingId| !out[thing] && !self.is_loose[thing];
        let mut space = Space::of(world, &out).fixing(world, is_fixed);
        let is_from_outside = self.is_outside(which) && !world.exits.doors.is_empty();
        if is_from_outside {
            space.exits = &self.doors;
        } else if !spared.is_empty() {
            space = space.sparing(world, &spared);
        }
        // Of the sump all hoses are off.
        if self.is_sump(which) {
            return space;
        }
        let hanging = self.hoses.iter().filter(|hose| !out[hose.drain]);
        space.sparing_soft(hanging.map(|hose| (hose.drain, &hose.column)))
    }

    /// The drain pipes in place through whose hoses a way of it goes: someone bends them aside.
    pub(crate) fn bent_aside(
        &self,
        which: RemovableId,
        gone: &[bool],
        way: &[Motion],
    ) -> Vec<ThingId> {
        let out = self.things_out(gone);
        let is_off = |thing: &ThingId| {
            out[*thing] || self.parts[which].contains(thing) || self.undone[which].contains(thing)
        };
        if self.is_sump(which) {
            return Vec::new();
        }
        let body = self.body(which, gone);
        let is_bent = |hose: &&Hose| {
            let space = Space::around(hose.drain, &hose.column, &self.world.exits);
            !way.iter().all(|motion| is_free(&space, &body, motion))
        };
        let hanging = self.hoses.iter().filter(|hose| !is_off(&hose.drain));
        hanging.filter(is_bent).map(|hose| hose.drain).collect()
    }

    /// What moves with it.
    pub(crate) fn things_of(&self, which: RemovableId) -> &[ThingId] {
        &self.parts[which]
    }

    /// What is taken out to have a thing out, if it can be: the smallest that it goes with.
    pub(crate) fn removable_of(&self, thing: ThingId) -> Option<RemovableId> {
        let holds = |k: &RemovableId| self.parts[*k].contains(&thing) && !self.is_sump(*k);
        (0..self.parts.len()).filter(holds).min_by_key(|k| self.parts[*k].len())
    }

    /// The first search by chance.
    pub(crate) fn effort(&self) -> Option<Effort> {
        self.efforts.first().copied()
    }

    fn things_out(&self, gone: &[bool]) -> Vec<bool> {
        let mut out = vec![false; self.world.things.len()];
        let which = gone.iter().enumerate().filter(|(_, is_gone)| **is_gone).map(|(k, _)| k);
        for thing in which.flat_map(|k| self.parts[k].iter().chain(&self.undone[k])) {
            out[*thing] = true;
        }
        out
    }

    /// Why there is no way, asked with everything in place, so that it does not matter who asks first.
    fn proof(&self, which: RemovableId) -> Option<Proof> {
        let of = || {
            let gone = before(self, which);
            proof(&self.space(self.world, which, &gone), &self.body(which, &gone))
        };
        self.proofs[which].get_or_init(of).clone()
    }

    fn search(&self, which: RemovableId, gone: &[bool], tries: Tries) -> Verdict {
        let (space, body) = (self.space(self.world, which, gone), self.body(which, gone));
        let efforts = match tries {
            Tries::Plain => {
                let verdict = plan_plainly(&space, &body);
                if !matches!(verdict, Verdict::NotFound { .. }) {
                    return verdict;
                }
                return self.proof(which).map_or(verdict, Verdict::ProvedNone);
            }
            Tries::Chance { one_in: 1 } => self.efforts.clone(),
            Tries::Chance { one_in } => {
                let first = self.efforts.first();
                first.map(|e| Effort { steps: e.steps / one_in, ..*e }).into_iter().collect()
            }
        };
        let mut n_steps = match self.way(which, gone, Tries::Plain) {
            Verdict::NotFound { steps } => steps,
            verdict => return verdict,
        };
        for effort in &efforts {
            match plan_by_chance(&space, &body, *effort) {
                Verdict::NotFound { steps } => n_steps += steps,
                verdict => return verdict,
            }
        }
        Verdict::NotFound { steps: n_steps }
    }

    /// Whether it does not stand in the sump.
    fn is_outside(&self, which: RemovableId) -> bool {
        let kind = self.design.removables[which].kind;
        matches!(kind, RemovableKind::Sump | RemovableKind::CabinetShelf)
    }

    fn is_sump(&self, which: RemovableId) -> bool {
        self.design.removables[which].kind == RemovableKind::Sump
    }
}

impl Search for Planner<'_> {
    fn count(&self) -> usize {
        self.parts.len()
    }

    fn instead_of(&self, which: RemovableId) -> Option<RemovableId> {
        self.design.removables[which].instead_of
    }

    fn wholes(&self, which: RemovableId) -> &[RemovableId] {
        &self.wholes[which]
    }

    fn is_last(&self, which: RemovableId) -> bool {
        self.is_sump(which)
    }

    fn way(&self, which: RemovableId, gone: &[bool], tries: Tries) -> Verdict {
        let question = (which, gone.to_vec(), tries);
        let answer = {
            let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
            Arc::clone(asked.entry(question).or_default())
        };
        // Whoever asks the same meanwhile waits for it.
        answer.get_or_init(|| self.search(which, gone, tries)).clone()
    }

    fn holds(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool {
        let (space, body) = (self.space(self.world, which, gone), self.body(which, gone));
        holds(&space, &body, way)
    }

    fn is_free(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool {
        let (space, body) = (self.space(self.world, which, gone), self.body(which, gone));
        way.iter().all(|motion| is_free(&space, &body, motion))
    }
}

#[cfg(test)]
mod tests;

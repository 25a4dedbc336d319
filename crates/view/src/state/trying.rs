//! Other leaves in their slots and doors set otherwise than in the file, and what the water does then.

use study::trial::{self, Choice, Kept};
use units::System;

use super::State;
use crate::model::Model;

/// A choice and what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// What is chosen.
    pub choice: Choice,
    /// What the water does then, or in words why that is not known.
    pub water: Result<trial::Tried, String>,
}

/// A door stands where the file has it within this, mm.
const SAME_MM: f64 = 1e-6;

impl State {
    /// What is chosen.
    pub fn choice(&self) -> Choice {
        Choice { leaves: self.leaves.clone(), doors_mm: self.doors_mm.clone() }
    }

    /// Whether leaves and doors are as in the file.
    pub fn is_as_in_file(&self, model: &Model) -> bool {
        self.leaves.iter().all(|leaf| *leaf == 0)
            && self.doors_moved_mm(model).all(|mm| mm.abs() < SAME_MM)
    }

    /// Takes everything back to what the file has.
    pub fn back_to_file(&mut self, model: &Model) {
        self.leaves = vec![0; model.show.slots.len()];
        self.doors_mm = model.show.doors.iter().map(|door| door.set_mm).collect();
        self.tried = None;
    }

    /// Lets the water follow what is chosen.
    pub fn follow(&mut self, model: &Model) {
        if self.is_as_in_file(model) {
            self.tried = None;
            return;
        }
        let choice = self.choice();
        if self.tried.as_ref().is_some_and(|tried| tried.choice == choice) {
            return;
        }
        let water = match &model.trial {
            Some(trial) => trial.run(&choice).map_err(|error| error.to_string()),
            None => Err("the levels of the file are not known yet".to_owned()),
        };
        self.tried = Some(Tried { choice, water });
    }

    /// The level of every basin with what is chosen, where it is not as in the file and can be computed.
    pub fn levels_tried(&self) -> Option<&[f64]> {
        let tried = self.tried.as_ref()?;
        tried.water.as_ref().ok().map(|water| water.levels_mm.as_slice())
    }

    /// What to write into the file to keep what is chosen.
    pub fn to_keep(&self, model: &Model) -> Vec<Kept> {
        model.trial.as_ref().map_or_else(Vec::new, |trial| trial.to_keep(&self.choice()))
    }

    /// Sets a door, as finely as the file is written: to a tenth of a millimetre or a hundredth of an inch.
    pub fn set_door(&mut self, model: &Model, door: usize, mm: f64) {
        let (Some(of), Some(set)) = (model.show.doors.get(door), self.doors_mm.get_mut(door))
        else {
            return;
        };
        let part_mm = match model.system() {
            System::Metric => 0.1,
            System::UsCustomary => 0.254,
        };
        let mm = (mm / part_mm).round() * part_mm;
        // A key's step that ends beside the file's setting means that.
        let mm = if (mm - of.set_mm).abs() < 0.5 * part_mm { of.set_mm } else { mm };
        *set = mm.clamp(of.lowest_mm.min(of.highest_mm), of.highest_mm.max(of.lowest_mm));
    }

    /// Puts the next leaf of a slot into it.
    pub fn next_leaf(&mut self, model: &Model, slot: usize) {
        let (Some(of), Some(leaf)) = (model.show.slots.get(slot), self.leaves.get_mut(slot)) else {
            return;
        };
        *leaf = (*leaf + 1) % of.leaves.len().max(1);
    }

    /// Which leaf is drawn in each slot: the one that moves in what plays, else the one that is chosen.
    pub fn standing(&self, model: &Model) -> Vec<usize> {
        let played = |slot: &show::Slot| {
            let steps = self.play.iter().flat_map(|play| play.course.steps());
            let moved: Vec<_> = steps.flat_map(|step| &step.things).collect();
            slot.leaves.iter().position(|(_, things)| things.iter().any(|t| moved.contains(&t)))
        };
        let slots = model.show.slots.iter().zip(&self.leaves);
        slots.map(|(slot, leaf)| played(slot).unwrap_or(*leaf)).collect()
    }

    /// In words, which leaves these steps move although others are chosen for their slots.
    pub fn not_as_chosen(&self, model: &Model, steps: &[show::Step]) -> Vec<String> {
        let is_moved = |thing: &show::ThingId| steps.iter().any(|step| step.things.contains(thing));
        let slots = model.show.slots.iter().zip(&self.leaves);
        let told = slots.filter_map(|(slot, chosen)| {
            let moved = slot.leaves.iter().position(|(_, things)| things.iter().any(&is_moved))?;
            let (name, _) = slot.leaves.get(moved)?;
            let (wanted, _) = slot.leaves.get(*chosen).filter(|_| moved != *chosen)?;
            let whose = if moved == 0 { ", as the file has it," } else { "" };
            Some(format!(
                "with `{name}` in divider `{}`{whose} although `{wanted}` is chosen",
                slot.name
            ))
        });
        told.collect()
    }

    /// How much higher than in the file every door stands, mm.
    pub(super) fn doors_moved_mm(&self, model: &Model) -> impl Iterator<Item = f64> {
        let doors = model.show.doors.iter().zip(&self.doors_mm);
        doors.map(|(door, mm)| mm - door.set_mm)
    }

    /// Keeps what was chosen in another model as far as this one has the same slots and doors. A door that was set
    /// anew in the file is as in the file.
    pub(super) fn carry_choice_over(&mut self, before: Option<&Model>, model: &Model) {
        let (leaves, doors_mm) = (self.leaves.clone(), self.doors_mm.clone());
        self.back_to_file(model);
        let Some(before) = before else { return };
        for (slot, leaf) in before.show.slots.iter().zip(leaves).filter(|(_, leaf)| *leaf > 0) {
            let Some((chosen, _)) = slot.leaves.get(leaf) else { continue };
            let Some(k) = model.show.slots.iter().position(|new| new.name == slot.name) else {
                continue;
            };
            let same = model.show.slots[k].leaves.iter().position(|(name, _)| name == chosen);
            self.leaves[k] = same.unwrap_or(0);
        }
        for (door, mm) in before.show.doors.iter().zip(doors_mm) {
            let is_same = |new: &show::Door| {
                new.leaf == door.leaf && (new.set_mm - door.set_mm).abs() < SAME_MM
            };
            if let Some(k) = model.show.doors.iter().position(is_same) {
                self.set_door(model, k, mm);
            }
        }
    }
}

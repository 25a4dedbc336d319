//! What the water does when other leaves stand in their slots and doors are set otherwise, before any of that is written
//! into the file.

mod kept;
mod limits;

use std::collections::BTreeMap;

use design::{Design, Waterworks};
use show::{Door, Show};
use water::{NotRunning, Running, Setting};

use crate::reading::Reading;
use crate::shown::level_shown_mm;
pub use kept::Kept;

/// What can be tried with a design: it owns the design's waterworks, and asks for nothing else.
#[derive(Clone, Debug)]
pub struct Trial {
    works: Waterworks,
    slots: Vec<Slot>,
    doors: Vec<Door>,
    places: kept::Places,
    system: units::System,
    /// Parameters of the warnings that there are with what the file has.
    warned: Vec<String>,
}

/// A place that takes one of several leaves.
#[derive(Clone, Debug, PartialEq)]
struct Slot {
    divider: String,
    /// Which leaf of the divider, counted in flow order.
    place: usize,
    /// Names of the leaves, the one that is in first.
    leaves: Vec<String>,
    /// Path of the parameter that names them.
    parameter: String,
}

/// What is tried. What is missing at the end of a list is as in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choice {
    /// Which leaf is in, of every one of [`Show::slots`].
    pub leaves: Vec<usize>,
    /// Height of the crest of every one of [`Show::doors`], mm above the inside of the bottom.
    pub doors_mm: Vec<f64>,
}

/// What comes of a trial.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// The level of every one of [`Show::basins`], mm above the inside of the bottom.
    pub levels_mm: Vec<f64>,
    /// Flow up to the display, L/h.
    pub return_flow_l_h: f64,
    /// Limits that are not kept, in words. The levels are taken as computed, without the doubt of the formulas, which the
    /// findings of a saved file take into account.
    pub warnings: Vec<Warning>,
}

/// A limit that levels do not keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning {
    /// Path of the parameter that it is about.
    pub parameter: String,
    /// What is not kept.
    pub words: String,
    /// Whether the file does not keep it either.
    pub is_of_file: bool,
}

/// Why something cannot be tried.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NotTried {
    /// A slot has no such leaf.
    #[error("the slot of `{divider}` takes no leaf number {leaf}")]
    NoLeaf {
        /// The divider.
        divider: String,
        /// The number that was asked for.
        leaf: usize,
    },
    /// A door does not go there.
    #[error("the door of `{leaf}` goes from {lowest} to {highest}, not to {asked}")]
    OutOfReach {
        /// Its leaf.
        leaf: String,
        /// Its lowest setting, in words.
        lowest: String,
        /// Its highest setting.
        highest: String,
        /// The one asked for.
        asked: String,
    },
    /// There are no levels in flow.
    #[error(transparent)]
    NotRunning(#[from] NotRunning),
}

/// A door is where it was asked to go within this, mm.
const SAME_MM: f64 = 1e-6;

impl Trial {
    /// What can be tried with the design of a file that is shown so; `None` without a design.
    pub fn of(reading: &Reading, show: &Show) -> Option<Self> {
        let design = reading.design.as_ref()?;
        let slots = slots(design, show);
        let doors = show.doors.clone();
        let places = kept::Places::of(reading, &slots, &doors);
        let works = design.waterworks.clone();
        let (system, warned) = (design.report, Vec::new());
        let mut trial = Self { works, slots, doors, places, system, warned };
        if let Ok(own) = trial.run(&Choice::default()) {
            trial.warned = own.warnings.into_iter().map(|warning| warning.parameter).collect();
        }
        Some(trial)
    }

    /// What is chosen in the file.
    pub fn as_in_file(&self) -> Choice {
        Choice {
            leaves: vec![0; self.slots.len()],
            doors_mm: self.doors.iter().map(|door| door.set_mm).collect(),
        }
    }

    /// Levels in flow with what is chosen. Valves of main drains that the file leaves to the keeper are set anew.
    ///
    /// # Errors
    /// When it cannot be chosen, the file does not tell enough, or no method balances the flows.
    pub fn run(&self, choice: &Choice) -> Result<Tried, NotTried> {
        let running = Running::new(&self.works, self.setting(choice)?)?;
        let level = |(basin, level_m): (&design::Basin, &f64)| level_shown_mm(basin, level_m * 1e3);
        let levels_mm: Vec<f64> =
            self.works.basins.iter().zip(&running.levels_m).map(level).collect();
        let passed = limits::passed(&self.works, &running.levels_m, self.system);
        let warning = |(parameter, words): (String, String)| {
            let is_of_file = self.warned.contains(&parameter);
            Warning { parameter, words, is_of_file }
        };
        Ok(Tried {
            warnings: passed.into_iter().map(warning).collect(),
            return_flow_l_h: running.return_flow() * 3.6e6,
            levels_mm,
        })
    }

    /// The choice as the water's own setting: only what is not as in the file is named.
    fn setting(&self, choice: &Choice) -> Result<Setting, NotTried> {
        let mut leaves = BTreeMap::new();
        for (slot, chosen) in self.slots.iter().zip(&choice.leaves).filter(|(_, leaf)| **leaf > 0) {
            let leaf = slot.leaves.get(*chosen).ok_or_else(|| NotTried::NoLeaf {
                divider: slot.divider.clone(),
                leaf: chosen + 1,
            })?;
            leaves.insert((slot.divider.clone(), slot.place), leaf.clone());
        }
        let mut doors = BTreeMap::new();
        for (door, chosen_mm) in self.doors.iter().zip(&choice.doors_mm) {
            let reach_mm = door.lowest_mm - SAME_MM..=door.highest_mm + SAME_MM;
            if !reach_mm.contains(chosen_mm) {
                let [lowest, highest, asked] = [door.lowest_mm, door.highest_mm, *chosen_mm]
                    .map(|mm| units::Length::mm(mm).show(self.system));
                let leaf = door.leaf.clone();
                return Err(NotTried::OutOfReach { leaf, lowest, highest, asked });
            }
            if SAME_MM < (chosen_mm - door.set_mm).abs() {
                doors.insert(door.leaf.clone(), *chosen_mm);
            }
        }
        Ok(Setting { leaves, doors, ..Setting::default() })
    }
}

/// The slots that are shown, as the water knows them.
fn slots(design: &Design, show: &Show) -> Vec<Slot> {
    let leaf_of = |removable: &str| {
        let found = design.removables.iter().find(|r| r.name == removable);
        found.and_then(|r| r.parameter.strip_prefix("leaf.")).unwrap_or(removable).to_owned()
    };
    let mut taken: Vec<(&str, usize)> = Vec::new();
    let mut slots = Vec::new();
    for shown in &show.slots {
        let leaves: Vec<String> = shown.leaves.iter().map(|(name, _)| leaf_of(name)).collect();
        // The same leaf may be named in several dividers: both lists go along the flow.
        let is_it = |way: &&design::Way| {
            way.is_in
                && leaves.first() == Some(&way.leaf)
                && !taken.contains(&(way.divider.as_str(), way.place))
        };
        let way = design.waterworks.ways.iter().find(is_it);
        let (divider, place, parameter) =
            way.map_or(("", 0, ""), |way| (&way.divider, way.place, &way.divider_parameter));
        taken.push((divider, place));
        slots.push(Slot {
            divider: divider.to_owned(),
            place,
            leaves,
            parameter: format!("{parameter}.slot"),
        });
    }
    slots
}

#[cfg(test)]
mod tests;

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
use crate::told::figures::Figures;
pub use kept::{Kept, Lines};

/// What can be tried with a design: it owns the design's waterworks, and asks for nothing else.
#[derive(Clone, Debug)]
pub struct Trial {
    works: Waterworks,
    slots: Vec<Slot>,
    doors: Vec<Door>,
    places: kept::Places,
    system: units::System,
    /// The same run with what the file has; `None` when there are no levels in flow.
    own: Option<Own>,
}

/// What a trial is compared with.
#[derive(Clone, Debug)]
struct Own {
    /// Which limits are not kept, by their parameters.
    passed: Vec<(String, Limit)>,
    return_flow_l_h: f64,
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
    /// Main drains whose valve the file leaves to the keeper: the trial has set them anew.
    pub set_anew: Vec<String>,
    /// Limits that are not kept, in words. The levels are taken as computed, without the doubt of the formulas, which the
    /// findings of a saved file take into account.
    pub warnings: Vec<Warning>,
}

/// A limit that levels do not keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning {
    /// Path of the parameter that it is about.
    pub parameter: String,
    /// Which of its limits.
    pub limit: Limit,
    /// What is not kept.
    pub words: String,
    /// Whether the file does not keep this very limit either.
    pub is_of_file: bool,
}

/// A limit, and on which side of it levels are when they do not keep it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// Water runs over the rim.
    Rim,
    /// It stands too near below the rim.
    Freeboard,
    /// Too shallow for what stands in it.
    Shallow,
    /// Too deep for it.
    Deep,
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
        let mut trial = Self { works, slots, doors, places, system: design.report, own: None };
        if let Ok(own) = trial.run(&Choice::default()) {
            let passed = own.warnings.into_iter().map(|warning| (warning.parameter, warning.limit));
            let passed = passed.collect();
            trial.own = Some(Own { passed, return_flow_l_h: own.return_flow_l_h });
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
        let own = self.own.as_ref();
        let warning = |passed: limits::Passed| {
            let limits::Passed { parameter, limit, words } = passed;
            let mut of_file = own.iter().flat_map(|own| &own.passed);
            let is_of_file = of_file.any(|(of, which)| *of == parameter && *which == limit);
            Warning { parameter, limit, words, is_of_file }
        };
        Ok(Tried {
            warnings: passed.into_iter().map(warning).collect(),
            return_flow_l_h: running.return_flow() * 3.6e6,
            set_anew: running.system.setting.valves.keys().cloned().collect(),
            levels_mm,
        })
    }

    /// The flow up to the display with what the file has, L/h; `None` when there is none.
    pub fn own_return_flow_l_h(&self) -> Option<f64> {
        self.own.as_ref().map(|own| own.return_flow_l_h)
    }

    /// A flow as it is told of the file.
    pub fn flow_words(&self, l_h: f64) -> String {
        Figures(self.system).flow(l_h / 3.6e6)
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

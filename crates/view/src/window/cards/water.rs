//! The card of the water: levels, and what doors and leaves make of them.

use eframe::egui::{self, RichText};
use study::Trial;
use units::{Length, System};

use super::App;
use crate::model::Model;
use crate::state::rehearsal;

impl App {
    pub(super) fn water(&mut self, ui: &mut egui::Ui, model: &Model) {
        let play = self.state.play.as_ref();
        let is_rehearsed = play.is_some_and(|play| rehearsal(model, play.what).is_some());
        let is_tried = !is_rehearsed && self.state.tried.is_some();
        // Always as much room, so that nothing moves while a door is dragged.
        let words = match (is_rehearsed, is_tried) {
            (true, _) => self.paper.pale("as it is rehearsed"),
            (false, true) => {
                RichText::new("a trial, not the file").small().color(self.paper.orange)
            }
            (false, false) if model.show.is_in_flow => {
                self.paper.pale("of the file, while the pump runs")
            }
            (false, false) if self.progress.is_some() && model.trial.is_none() => {
                self.paper.pale("with nothing flowing, until the flow is computed")
            }
            (false, false) => {
                self.paper.pale("what flows is not known of this file: levels with nothing flowing")
            }
        };
        ui.label(words);
        self.levels_of(ui, model, is_tried);
        ui.label(self.paper.pale("above the inside of the bottom"));
        for slot in 0..model.show.slots.len() {
            ui.add_space(3.0);
            self.leaves_of(ui, model, slot);
        }
        for door in 0..model.show.doors.len() {
            ui.add_space(3.0);
            self.slider_of(ui, model, door, "water");
        }
        if is_tried {
            self.tried(ui, model);
        }
        self.trial(ui, model);
        if is_rehearsed && !self.state.is_as_in_file(model) {
            let words = "what plays is rehearsed with leaves and doors as the file was saved";
            ui.label(self.paper.pale(words));
        }
    }

    /// Every level, and of a trial how far it is from the file's.
    fn levels_of(&self, ui: &mut egui::Ui, model: &Model, is_tried: bool) {
        let levels = self.state.levels(model);
        let system = model.system();
        let is_known = self.state.levels_tried().is_some();
        egui::Grid::new("levels").num_columns(3).spacing([14.0, 3.0]).show(ui, |ui| {
            for (basin, level) in model.show.basins.iter().zip(levels) {
                ui.label(&basin.name);
                ui.label(fit::length_words(level.round(), system));
                if is_tried {
                    let change = is_known.then_some(level - basin.level_mm);
                    let is_seen = change.is_some_and(|mm| SEEN_MM <= mm.abs());
                    let colour = if is_seen { self.paper.orange } else { self.paper.pale_ink };
                    ui.label(RichText::new(change_words(change, system)).color(colour));
                }
                ui.end_row();
            }
        });
    }

    /// What flows in a trial, what it does not keep, and what it says nothing of.
    fn tried(&self, ui: &mut egui::Ui, model: &Model) {
        let paper = self.paper;
        match self.state.tried.as_ref().map(|tried| &tried.water) {
            Some(Ok(water)) => {
                if let Some(trial) = &model.trial {
                    ui.label(flow_up_words(trial, water.return_flow_l_h));
                }
                if let Some(words) = set_anew_words(&water.set_anew) {
                    ui.label(paper.pale(words));
                }
                for warning in &water.warnings {
                    let words = RichText::new(format!("! {}", warning.words));
                    ui.label(words.color(paper.red));
                    if warning.is_of_file {
                        ui.label(paper.pale("nor does the file keep it"));
                    }
                }
            }
            Some(Err(words)) => {
                let words = format!(
                    "? what changes is not known, and these levels are still the file's: {words}"
                );
                ui.label(RichText::new(words).color(paper.red));
            }
            None => {}
        }
        ui.label(
            paper.pale(
                "Computed levels, without the doubt of the formulas. Findings, rehearsals and ways out are still those of the file \
             as it is saved.",
            ),
        );
    }
}

/// A level that changes by less has not, mm.
const SEEN_MM: f64 = 0.5;

/// `up to the display 3120 L/h, in the file 3080 L/h`.
fn flow_up_words(trial: &Trial, l_h: f64) -> String {
    let own =
        trial.own_return_flow_l_h().map(|own| format!(", in the file {}", trial.flow_words(own)));
    format!("up to the display {}{}", trial.flow_words(l_h), own.unwrap_or_default())
}

/// That a trial does with valves what a keeper would: `the valve of drain main, which ...`.
fn set_anew_words(drains: &[String]) -> Option<String> {
    let (valves, which) = match drains {
        [] => return None,
        [one] => (format!("the valve of drain {one} is"), "it"),
        all => (format!("the valves of drains {} are", fit::listed(all)), "them"),
    };
    Some(format!("{valves} set anew for this, as a keeper would: the file leaves {which} to you"))
}

/// `+12 mm`, `−3 mm`, `same`, and `?` when it is not known.
fn change_words(mm: Option<f64>, system: System) -> String {
    let Some(mm) = mm else { return "?".to_owned() };
    if mm.abs() < SEEN_MM {
        return "same".to_owned();
    }
    let sign = if mm < 0.0 { "−" } else { "+" };
    let size = match system {
        System::Metric => format!("{:.0} mm", mm.abs()),
        System::UsCustomary => Length::mm(mm.abs()).show(system),
    };
    format!("{sign}{size}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_told_with_their_sign() {
        for (mm, words) in [(12.3, "+12 mm"), (-0.6, "−1 mm"), (0.3, "same")] {
            assert_eq!(change_words(Some(mm), System::Metric), words);
        }
        assert_eq!(change_words(Some(-12.7), System::UsCustomary), "−0.5 in");
        assert_eq!(change_words(None, System::Metric), "?");
    }

    #[test]
    fn valves_that_are_left_to_the_keeper_are_told() {
        assert_eq!(set_anew_words(&[]), None);
        let told = set_anew_words(&["main".to_owned()]).expect("one is set");
        assert_eq!(
            told,
            "the valve of drain main is set anew for this, as a keeper would: the file leaves it to you"
        );
        let told = set_anew_words(&["a".to_owned(), "b".to_owned()]).expect("two are set");
        assert!(told.starts_with("the valves of drains a and b are"), "{told}");
    }
}

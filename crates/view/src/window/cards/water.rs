//! The card of the water: levels, and what doors and leaves make of them.

use eframe::egui::{self, RichText};
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
            (false, false) => self.paper.pale("of the file, while the pump runs"),
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
            self.tried(ui);
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
                    let change = if is_known { level - basin.level_mm } else { 0.0 };
                    let words = change_words(change, system);
                    let colour = if change.abs() < SEEN_MM {
                        self.paper.pale_ink
                    } else {
                        self.paper.orange
                    };
                    ui.label(RichText::new(words).color(colour));
                }
                ui.end_row();
            }
        });
    }

    /// What a trial does not keep, and what it says nothing of.
    fn tried(&self, ui: &mut egui::Ui) {
        let paper = self.paper;
        match self.state.tried.as_ref().map(|tried| &tried.water) {
            Some(Ok(water)) => {
                for warning in &water.warnings {
                    let words = RichText::new(format!("! {}", warning.words));
                    ui.label(words.color(paper.red));
                    if warning.is_of_file {
                        ui.label(paper.pale("as in the file, or much like it"));
                    }
                }
            }
            Some(Err(words)) => {
                let words = format!("these levels are still the file's: {words}");
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

/// `+12 mm`, `−3 mm`, `same`.
fn change_words(mm: f64, system: System) -> String {
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
            assert_eq!(change_words(mm, System::Metric), words);
        }
        assert_eq!(change_words(-12.7, System::UsCustomary), "−0.5 in");
    }
}

//! What is told of the part that is picked, and what can be done with it.

use eframe::egui::{self, RichText};
use findings::Grade;

use super::App;
use crate::model::Model;

impl App {
    /// What was picked.
    pub(super) fn picked_card(&mut self, ui: &mut egui::Ui, model: &Model) {
        let Some(picked) = self.state.picked else { return };
        let Some(thing) = model.show.things.get(picked) else { return };
        let paper = self.paper;
        paper.card().stroke(egui::Stroke::new(1.5, paper.blue)).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new(&thing.name).heading().color(paper.blue));
            let told =
                [Some(&thing.what), Some(&thing.size), thing.stock.as_ref(), thing.mass.as_ref()];
            for words in told.into_iter().flatten().filter(|words| !words.is_empty()) {
                ui.label(words);
            }
            let place = thing.line.map(|line| format!("{}:{line}  ", self.file));
            ui.label(paper.pale(format!("{}{}", place.unwrap_or_default(), thing.parameter)));
            // Before what was found, which may be long.
            self.bending_of(ui, model, picked);
            let about = thing.findings.iter().filter_map(|k| model.show.findings.get(*k));
            for finding in about.filter(|finding| finding.grade != Grade::Holds) {
                self.finding(ui, finding);
            }
            if let Some(slot) = model.slot_of(picked) {
                self.leaves_of(ui, model, slot);
            }
            if let Some(door) = model.door_of(picked) {
                self.slider_of(ui, model, door, "picked");
            }
            if model.slot_of(picked).is_some() || model.door_of(picked).is_some() {
                self.trial(ui, model);
            }
            self.way_of(ui, model, picked);
            if ui.button("let go").clicked() {
                self.state.picked = None;
            }
        });
    }

    /// How it comes out.
    fn way_of(&mut self, ui: &mut egui::Ui, model: &Model, picked: usize) {
        let way = model.show.things.get(picked).and_then(|thing| thing.way);
        let Some((way, out)) = way.and_then(|way| Some((way, model.show.ways.get(way)?))) else {
            return;
        };
        let is_glued = model.is_glued(picked);
        if is_glued {
            ui.label("It is glued in: it comes out only with the whole sump.");
        }
        let words = if is_glued {
            "take the whole sump out, or back (T)"
        } else {
            "take it out, or back (T)"
        };
        if !out.steps.is_empty() && ui.button(words).clicked() {
            self.play_way(model, way);
        }
        let whose = if is_glued { "the sump " } else { "" };
        ui.label(self.paper.pale(format!("{whose}{}", out.verdict)));
    }
}

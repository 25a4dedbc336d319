//! The card of the tour.

use eframe::egui::{self, RichText};

use super::App;
use crate::model::Model;
use crate::window::paper::switch;

impl App {
    pub(super) fn tour(&mut self, ui: &mut egui::Ui, model: &Model) {
        let stops = &model.show.stops;
        if stops.is_empty() {
            ui.label(self.paper.pale("there is no tour of this sump"));
            return;
        }
        let at = self.state.tour.map(|tour| tour.stop);
        let mut to = None;
        ui.horizontal_wrapped(|ui| {
            for (k, stop) in stops.iter().enumerate() {
                let words = format!("{} {}", k + 1, stop.title);
                if switch(ui, at == Some(k), words).clicked() {
                    to = Some(k);
                }
            }
        });
        if let Some((at, stop)) = at.and_then(|at| Some((at, stops.get(at)?))) {
            ui.horizontal_wrapped(|ui| {
                let before = ui.add_enabled(at > 0, egui::Button::new("before (J)"));
                let on = ui.add_enabled(at + 1 < stops.len(), egui::Button::new("on (K)"));
                if before.clicked() {
                    to = at.checked_sub(1);
                }
                if on.clicked() {
                    to = Some(at + 1);
                }
                if ui.button("leave the tour").clicked() {
                    self.state.leave_tour();
                }
            });
            ui.add_space(2.0);
            ui.label(RichText::new(&stop.title).strong());
            for text in &stop.text {
                ui.label(text);
            }
            for finding in stop.findings.iter().filter_map(|k| model.show.findings.get(*k)) {
                self.finding(ui, finding);
            }
        } else {
            ui.label(self.paper.pale("through the sump chamber by chamber (K)"));
        }
        if let Some(stop) = to {
            self.state.go_to_stop(model, stop, self.frame);
        }
    }
}

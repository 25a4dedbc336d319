//! The card of the tour.

use eframe::egui::{self, RichText};

use super::App;
use crate::model::Model;

impl App {
    pub(super) fn tour(&mut self, ui: &mut egui::Ui, model: &Model) {
        let stops = &model.show.stops;
        let Some(stop) = stops.get(self.cards.stop.min(stops.len().saturating_sub(1))) else {
            ui.label(self.paper.pale("there is no tour of this sump"));
            return;
        };
        ui.label(RichText::new(&stop.title).strong());
        for text in &stop.text {
            ui.label(text);
        }
        for finding in stop.findings.iter().filter_map(|k| model.show.findings.get(*k)) {
            self.finding(ui, finding);
        }
        let mut to = None;
        ui.horizontal(|ui| {
            if ui.button("before").clicked() {
                to = Some(self.cards.stop.saturating_sub(1));
            }
            if ui.button("on").clicked() {
                to = Some((self.cards.stop + 1).min(stops.len() - 1));
            }
        });
        if let Some(stop) = to.and_then(|to| stops.get(to)) {
            self.cards.stop = to.unwrap_or_default();
            let [lo, hi] = stop.about;
            let corners: Vec<_> = [lo, hi, lo.with_x(hi.x), hi.with_x(lo.x)].to_vec();
            self.state.orbit = self.state.orbit.facing(stop.from).fitted(&corners, self.frame);
        }
    }
}

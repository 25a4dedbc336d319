//! What is measured.

use eframe::egui::{self, RichText};
use units::Length;

use super::App;
use crate::dimension::{On, Spot};
use crate::model::Model;

impl App {
    pub(super) fn measuring_card(&mut self, ui: &mut egui::Ui, model: &Model) {
        let measuring = &self.state.measuring;
        if !measuring.is_on && measuring.spots.is_empty() {
            return;
        }
        let paper = self.paper;
        let dimension = self.state.dimension(&self.state.places(model));
        paper.card().stroke(egui::Stroke::new(1.5, paper.blue)).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new("Measuring").heading().color(paper.blue));
            for (spot, from) in self.state.measuring.spots.iter().zip(["from", "to"]) {
                ui.label(format!("{from} {}", spot_words(spot, model)));
            }
            match (dimension, self.state.measuring.spots.len()) {
                (Some(dimension), _) => {
                    let show = |mm: f64| Length::mm(mm).show(model.system());
                    let length = RichText::new(show(dimension.length_mm())).strong().size(16.0);
                    ui.label(length.color(paper.blue));
                    if dimension.is_square {
                        ui.label(paper.pale("square between parallel faces"));
                    } else {
                        let [x, y, z] = dimension.parts_mm().to_array().map(show);
                        let words =
                            format!("along the sump {x}, front to back {y}, upwards {z}");
                        ui.label(paper.pale(words));
                    }
                }
                (None, 0) => {
                    ui.label(paper.pale("click a face, an edge or a corner"));
                }
                (None, _) => {
                    ui.label(paper.pale("and another"));
                }
            }
            ui.label(paper.pale(
                "Click again at the same place for the face behind. Enter takes what lies under the cross in the middle.",
            ));
            ui.horizontal_wrapped(|ui| {
                if ui.button("clear").clicked() {
                    self.state.measuring.clear();
                }
                if ui.button("no more (D)").clicked() {
                    self.state.measuring.is_on = false;
                    self.state.measuring.clear();
                }
            });
        });
    }
}

/// `a corner of wall front`.
fn spot_words(spot: &Spot, model: &Model) -> String {
    let on = match spot.on {
        On::Face(_) => "a face",
        On::Round => "a round face",
        On::Edge => "an edge",
        On::Corner => "a corner",
    };
    let name = model.show.things.get(spot.thing).map_or("", |thing| thing.name.as_str());
    format!("{on} of {name}")
}

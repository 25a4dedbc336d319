//! The card of the sump: its size, where one looks from, what is cut and shown.

use eframe::egui::{self, RichText};
use scene::Lens;
use show::Group;

use super::App;
use crate::cut::Axis;
use crate::model::Model;
use crate::orbit::Side;
use crate::window::paper::{switch, turned};

impl App {
    pub(super) fn sump(&mut self, ui: &mut egui::Ui, model: &Model) {
        let show = &model.show;
        ui.label(RichText::new(&show.title).strong());
        let words = |mm: f64| fit::length_words(mm, model.system());
        let [x, y, z] = show.outside_mm.to_array().map(words);
        ui.label(self.paper.pale(format!("outside {x} × {y} × {z}")));
        ui.add_space(4.0);
        ui.label(self.paper.pale("look from"));
        ui.horizontal_wrapped(|ui| {
            for side in Side::ALL {
                if ui.button(side.words()).clicked() {
                    self.state.look_from(side.direction(), model, self.frame);
                }
            }
            let is_parallel = self.state.orbit.lens == Lens::Parallel;
            if switch(ui, is_parallel, "parallel").clicked() {
                self.state.orbit = self.state.orbit.with_other_lens();
            }
            if ui.button("all of it").clicked() {
                self.state.look_at_all(model, self.frame);
            }
        });
        ui.label(self.paper.pale("cut"));
        ui.horizontal_wrapped(|ui| {
            for axis in Axis::ALL {
                let is_it = self.state.cut.axis == Some(axis);
                if switch(ui, is_it, axis.words()).clicked() {
                    self.state.cut.axis = (!is_it).then_some(axis);
                }
            }
            if self.state.cut.axis.is_some() {
                turned(ui, &mut self.state.cut.is_flipped, "other side");
            }
        });
        if self.state.cut.axis.is_some() {
            ui.spacing_mut().slider_width = (ui.available_width() - 12.0).max(60.0);
            let slider = egui::Slider::new(&mut self.state.cut.share, 0.0..=1.0);
            ui.add(slider.show_value(false));
        }
        ui.label(self.paper.pale("show"));
        ui.horizontal_wrapped(|ui| {
            let state = &mut self.state;
            turned(ui, &mut state.has_water, "water");
            turned(ui, &mut state.has_names, "names");
            turned(ui, &mut state.has_levels, "levels");
            turned(ui, &mut state.is_lifted, "lifted");
            let groups = [
                (Group::Equipment, "equipment"),
                (Group::Plumbing, "plumbing"),
                (Group::Cabinet, "cabinet"),
            ];
            for (group, words) in groups {
                if !model.show.things.iter().any(|thing| thing.group == group) {
                    continue;
                }
                let is_on = !state.off.contains(&group);
                if switch(ui, is_on, words).clicked() {
                    if is_on {
                        state.off.insert(group);
                    } else {
                        state.off.remove(&group);
                    }
                }
            }
            let look = if self.paper.is_dark { "light" } else { "dark" };
            if ui.button(look).clicked() {
                self.paper = self.paper.other();
            }
        });
    }
}

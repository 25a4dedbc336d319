//! Leaves for a slot, sliders of doors, and how to keep what was tried.

use eframe::egui::{self, RichText};
use units::{Length, System};

use super::App;
use crate::model::Model;
use crate::window::paper::switch;

impl App {
    /// The leaves that one slot takes, one of which is in.
    pub(super) fn leaves_of(&mut self, ui: &mut egui::Ui, model: &Model, slot: usize) {
        let Some(of) = model.show.slots.get(slot) else { return };
        let Some(standing) = self.state.leaves.get(slot).copied() else { return };
        ui.label(self.paper.pale(format!("one of these stands in divider `{}` (G)", of.name)));
        let mut chosen = standing;
        ui.horizontal_wrapped(|ui| {
            for (k, (name, _)) in of.leaves.iter().enumerate() {
                if switch(ui, k == standing, name).clicked() {
                    chosen = k;
                }
            }
        });
        if chosen != standing {
            self.state.leaves[slot] = chosen;
            let was_in = |thing| of.leaves.iter().any(|(_, things)| things.contains(&thing));
            if self.state.picked.is_some_and(was_in) {
                self.pick_standing(model, slot);
            }
        }
    }

    /// Picks the leaf that stands in a slot.
    pub(in crate::window) fn pick_standing(&mut self, model: &Model, slot: usize) {
        let leaf = self.state.leaves.get(slot).copied().unwrap_or(0);
        let standing = model.show.slots.get(slot).and_then(|slot| slot.leaves.get(leaf));
        self.state.picked = standing.and_then(|(_, things)| things.first().copied());
    }

    /// A door between its lowest and its highest setting, on a card of a name.
    pub(super) fn slider_of(
        &mut self,
        ui: &mut egui::Ui,
        model: &Model,
        door: usize,
        card: &'static str,
    ) {
        let (Some(of), Some(set)) =
            (model.show.doors.get(door), self.state.doors_mm.get(door).copied())
        else {
            return;
        };
        let system = model.system();
        let show = |mm: f64| Length::mm(mm).show(system);
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("door of {}", of.leaf));
            let words = RichText::new(show(set)).strong();
            let is_moved = 1e-6 < (set - of.set_mm).abs();
            ui.label(if is_moved { words.color(self.paper.orange) } else { words });
            if is_moved {
                ui.label(self.paper.pale(format!("in the file {}", show(of.set_mm))));
            }
        });
        let mut wanted = set;
        // It keeps the pointer and the keys when lines come and go above it.
        let own = egui::UiBuilder::new().id(egui::Id::new((card, "door", door)));
        ui.scope_builder(own, |ui| {
            ui.spacing_mut().slider_width = (ui.available_width() - 12.0).max(60.0);
            // Steps of the slider's own would begin at its end, and miss what the file has.
            let slider =
                egui::Slider::new(&mut wanted, of.lowest_mm..=of.highest_mm).show_value(false);
            let shown = ui.add(slider);
            if shown.changed() {
                let is_dragged = shown.dragged() || shown.is_pointer_button_down_on();
                let steps = stepped((set, wanted), is_dragged, of.set_mm, step_mm(system));
                self.state.set_door(model, door, steps);
            }
            // What was dragged is moved on with the arrows.
            if shown.drag_started() {
                shown.request_focus();
            }
        });
        let (lowest, highest) = (show(of.lowest_mm), show(of.highest_mm));
        ui.label(self.paper.pale(format!("from {lowest} to {highest}, its upper edge")));
    }

    /// That this is a trial, how to keep it and how to leave it.
    pub(super) fn trial(&mut self, ui: &mut egui::Ui, model: &Model) {
        if self.state.is_as_in_file(model) {
            return;
        }
        let paper = self.paper;
        ui.add_space(2.0);
        for kept in self.state.to_keep(model) {
            let place = kept.lines.map(|lines| format!(", {}", lines.words(&self.file)));
            let place = place.unwrap_or_default();
            let words = format!("to keep it write{place} ({})", kept.parameters.join(", "));
            ui.label(paper.pale(words));
            ui.horizontal_wrapped(|ui| {
                // As it is copied, but for what only sets it in from the edge of the file.
                ui.label(RichText::new(kept.text.trim()).strong());
                if ui.button("copy").clicked() {
                    ui.ctx().copy_text(kept.text.clone());
                }
            });
        }
        if ui.button("back to the file (Z)").clicked() {
            self.state.back_to_file(model);
        }
    }
}

/// Where a door goes from where it is (first) when it is dragged to where it is wanted, or pushed towards it by a key: in
/// whole steps from where the file has it.
fn stepped((set, wanted): (f64, f64), is_dragged: bool, file: f64, step: f64) -> f64 {
    let whole = |mm: f64| file + ((mm - file) / step).round() * step;
    if is_dragged { whole(wanted) } else { whole(set) + step.copysign(wanted - set) }
}

/// A key moves a door by so much: 1 mm, or a twentieth of an inch.
fn step_mm(system: System) -> f64 {
    match system {
        System::Metric => 1.0,
        System::UsCustomary => 1.27,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doors_go_in_steps_from_where_the_file_has_them() {
        let check = |set: f64, wanted: f64, is_dragged: bool, is: f64| {
            let got = stepped((set, wanted), is_dragged, 210.5, 1.0);
            assert!((got - is).abs() < 1e-9, "{got} for {is}");
        };
        check(210.5, 213.9, true, 213.5);
        check(213.5, 210.6, true, 210.5);
        // A key moves by a step, however little it moves the slider.
        check(210.5, 210.6, false, 211.5);
        check(210.5, 210.4, false, 209.5);
    }
}

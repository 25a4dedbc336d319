//! The cards of what plays: failures, and what is taken out, step by step.

use eframe::egui::{self, RichText};

use super::App;
use crate::model::Model;
use crate::state::Playing;

impl App {
    pub(super) fn what_if(&mut self, ui: &mut egui::Ui, model: &Model) {
        if model.show.rehearsals.is_empty() {
            ui.label(self.paper.pale("no failure is rehearsed"));
        }
        for (k, rehearsal) in model.show.rehearsals.iter().enumerate() {
            let what = Playing::Rehearsal(k);
            let is_it = self.state.play.as_ref().is_some_and(|play| play.what == what);
            if ui.selectable_label(is_it, &rehearsal.name).clicked() {
                self.state.start(model, what);
            }
            ui.label(self.paper.pale(&rehearsal.verdict));
        }
    }

    pub(super) fn taking_out(&mut self, ui: &mut egui::Ui, model: &Model) {
        let show = &model.show;
        if self.progress.is_some() && show.ways.is_empty() {
            ui.label(self.paper.pale("being looked for …"));
            return;
        }
        ui.label(self.paper.pale(&show.before_hands));
        self.many(ui, model, Playing::Emptying, "everything out", show.emptying.len());
        if let Some(rescue) = &show.rescue {
            self.many(ui, model, Playing::Rescue, "get at an animal", rescue.steps.len());
            ui.label(self.paper.pale(format!("{}: {}", rescue.chamber, rescue.verdict)));
        }
        for (k, way) in show.ways.iter().enumerate() {
            let what = Playing::Way(k);
            let is_it = self.state.play.as_ref().is_some_and(|play| play.what == what);
            let is_known = !way.steps.is_empty();
            let name = if model.whole == Some(k) {
                "the whole sump, with all that is glued to it"
            } else {
                way.name.as_str()
            };
            ui.add_enabled_ui(is_known, |ui| {
                if ui.selectable_label(is_it, name).clicked() {
                    self.play_way(model, k);
                }
            });
            ui.label(self.paper.pale(&way.verdict));
            if is_it && way.steps.len() > 1 {
                self.steps(ui);
            }
        }
    }

    /// Several parts, one after another.
    fn many(&mut self, ui: &mut egui::Ui, model: &Model, what: Playing, words: &str, count: usize) {
        if count == 0 {
            return;
        }
        let is_it = self.state.play.as_ref().is_some_and(|play| play.what == what);
        ui.horizontal_wrapped(|ui| {
            if ui.selectable_label(is_it, words).clicked() {
                self.state.start(model, what);
            }
            if ui.button("step by step").clicked() {
                self.state.start_by_steps(model, what);
            }
        });
        if is_it {
            self.steps(ui);
        }
    }

    /// The steps of what plays: what is done, what is next with what a person does first, what is still to come.
    fn steps(&mut self, ui: &mut egui::Ui) {
        let paper = self.paper;
        let Some(play) = &mut self.state.play else { return };
        let t_s = play.clock.t_s;
        let is_over = play.clock.span_s[1] <= t_s;
        let now = if is_over { play.begins_s.len() } else { play.course.number_at(t_s) };
        ui.horizontal_wrapped(|ui| {
            if ui.button("step before").clicked() {
                play.step_before();
            }
            if ui.button("next step").clicked() {
                play.next_step();
            }
            ui.label(paper.pale("Page up, Page down"));
        });
        for (k, step) in play.course.steps().enumerate() {
            let number = k + 1;
            if k < now {
                ui.label(paper.pale(format!("{number}  {}, done", step.name)));
            } else if k == now {
                let words = RichText::new(format!("{number}  {}", step.name)).strong();
                ui.label(words.color(paper.orange));
                if let Some(undo) = &step.undo {
                    ui.label(format!("first: {undo}"));
                }
                for one in &step.moves {
                    ui.label(paper.pale(&one.words));
                }
            } else {
                ui.label(paper.pale(format!("{number}  {}", step.name)));
            }
        }
    }
}

//! The cards of what plays: failures, and what is taken out, step by step.

use eframe::egui::{self, RichText};
use show::Step;

use super::App;
use crate::model::Model;
use crate::state::Playing;
use crate::window::paper::switch;

impl App {
    pub(super) fn what_if(&mut self, ui: &mut egui::Ui, model: &Model) {
        if model.show.rehearsals.is_empty() {
            ui.label(self.paper.pale("no failure is rehearsed"));
        }
        for (k, rehearsal) in model.show.rehearsals.iter().enumerate() {
            let what = Playing::Rehearsal(k);
            let is_it = self.is_played(what);
            if switch(ui, is_it, &rehearsal.name).clicked() {
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
        if let Some(rescue) = &show.rescue {
            ui.add_space(3.0);
            self.many(ui, model, Playing::Rescue, "get at an animal", &rescue.steps);
            ui.label(self.paper.pale(format!("{}: {}", rescue.chamber, rescue.verdict)));
            self.not_as_chosen(ui, model, &rescue.steps);
            self.steps(ui, Playing::Rescue, &rescue.steps);
        }
        ui.add_space(3.0);
        self.many(ui, model, Playing::Emptying, "everything out", &show.emptying);
        self.not_as_chosen(ui, model, &show.emptying);
        if self.is_played(Playing::Emptying) {
            self.steps(ui, Playing::Emptying, &show.emptying);
        }
        ui.add_space(3.0);
        ui.label(self.paper.pale("or one part"));
        for (k, way) in show.ways.iter().enumerate() {
            let what = Playing::Way(k);
            let is_it = self.is_played(what);
            let is_known = !way.steps.is_empty();
            let name = if model.whole == Some(k) {
                "the whole sump, with all that is glued to it"
            } else {
                way.name.as_str()
            };
            ui.add_enabled_ui(is_known, |ui| {
                if switch(ui, is_it, name).clicked() {
                    self.play_way(model, k);
                }
            });
            ui.label(self.paper.pale(&way.verdict));
            if is_it {
                self.not_as_chosen(ui, model, &way.steps);
                self.steps(ui, what, &way.steps);
            }
        }
    }

    /// What comes out as in the file, whatever is chosen.
    fn not_as_chosen(&self, ui: &mut egui::Ui, model: &Model, steps: &[Step]) {
        for words in self.state.not_as_chosen(model, steps) {
            ui.label(RichText::new(words).small().color(self.paper.orange));
        }
    }

    fn is_played(&self, what: Playing) -> bool {
        self.state.play.as_ref().is_some_and(|play| play.what == what)
    }

    /// Several parts, one after another.
    fn many(
        &mut self,
        ui: &mut egui::Ui,
        model: &Model,
        what: Playing,
        words: &str,
        steps: &[Step],
    ) {
        if steps.is_empty() {
            return;
        }
        ui.horizontal_wrapped(|ui| {
            if switch(ui, self.is_played(what), words).clicked() {
                self.state.start(model, what);
            }
            if ui.button("step by step").clicked() {
                self.state.start_by_steps(model, what);
            }
        });
    }

    /// Steps. Of what plays: what is done, what is next with what a person does first, what is still to come.
    fn steps(&mut self, ui: &mut egui::Ui, what: Playing, steps: &[Step]) {
        let paper = self.paper;
        let play = self.state.play.as_mut().filter(|play| play.what == what);
        let (mut now, mut moved) = (None, None);
        if let Some(play) = play {
            let is_over = play.clock.span_s[1] <= play.clock.t_s;
            now = Some(if is_over { steps.len() } else { play.course.number_at(play.clock.t_s) });
            // At rest before it begins nothing moves yet.
            let is_begun = play.begins_s.iter().all(|begin| 1e-6 < (begin - play.clock.t_s).abs());
            moved = play.course.at(play.clock.t_s).filter(|_| is_begun).map(|(_, words)| words);
            ui.horizontal_wrapped(|ui| {
                if ui.button("step before").clicked() {
                    play.step_before();
                }
                if ui.button("next step").clicked() {
                    play.next_step();
                }
                ui.label(paper.pale("Page up/down"));
            });
        }
        for (k, step) in steps.iter().enumerate() {
            let words = format!("{}  {}", k + 1, step.name);
            if now == Some(k) {
                ui.label(RichText::new(words).strong().color(paper.orange));
                let mark = |words: String, is_now: bool| {
                    let words = RichText::new(words).small();
                    words.color(if is_now { paper.ink } else { paper.pale_ink })
                };
                if let Some(undo) = &step.undo {
                    ui.label(mark(format!("first: {undo}"), moved.is_none()));
                }
                for one in &step.moves {
                    ui.label(mark(one.words.clone(), moved.as_ref() == Some(&one.words)));
                }
            } else {
                let is_done = now.is_some_and(|now| k < now);
                ui.label(paper.pale(if is_done { format!("{words}, is out") } else { words }));
            }
        }
    }
}

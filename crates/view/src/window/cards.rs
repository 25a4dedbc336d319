//! The sheet of cards at the side.

use eframe::egui::{self, RichText};
use findings::Grade;
use scene::Lens;
use show::{Group, ThingId};
use units::System;

use super::App;
use super::paper::sign;
use crate::cut::Axis;
use crate::model::Model;
use crate::orbit::Side;
use crate::state::Playing;

/// Which cards are unfolded.
#[derive(Clone, Debug)]
pub(super) struct Cards {
    open: [bool; 6],
    /// The stop of the tour.
    stop: usize,
    /// Whether findings that hold are listed too.
    has_holding: bool,
}

impl Default for Cards {
    fn default() -> Self {
        Self { open: [true, true, false, false, true, false], stop: 0, has_holding: false }
    }
}

impl App {
    pub(super) fn cards(&mut self, ui: &mut egui::Ui) {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            self.progress_card(ui);
            self.refused_card(ui);
            let Some(model) = self.model.clone() else { return };
            self.picked_card(ui, &model);
            self.card(ui, 0, "The sump", |app, ui| app.sump(ui, &model));
            self.card(ui, 1, "Water", |app, ui| app.water(ui, &model));
            self.card(ui, 2, "What if", |app, ui| app.what_if(ui, &model));
            self.card(ui, 3, "Taking out", |app, ui| app.taking_out(ui, &model));
            self.card(ui, 4, "Findings", |app, ui| app.findings(ui, &model));
            self.card(ui, 5, "Tour", |app, ui| app.tour(ui, &model));
            if ui.button("Help (H)").clicked() {
                self.has_help = true;
            }
        });
    }

    /// A card that folds at its heading.
    fn card(
        &mut self,
        ui: &mut egui::Ui,
        which: usize,
        title: &str,
        content: impl FnOnce(&mut Self, &mut egui::Ui),
    ) {
        let is_open = self.cards.open[which];
        self.paper.card().show(ui, |ui| {
            ui.set_width(ui.available_width());
            let title = RichText::new(title).heading().color(self.paper.blue);
            let heading = ui.add(egui::Button::new(title).frame(false));
            if heading.clicked() {
                self.cards.open[which] = !is_open;
            }
            if is_open {
                ui.add_space(2.0);
                content(self, ui);
            }
        });
    }

    fn progress_card(&self, ui: &mut egui::Ui) {
        let Some(words) = self.progress else { return };
        self.paper.card().show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal(|ui| {
                ui.add(egui::Spinner::new().size(13.0));
                ui.label(format!("{words} …"));
            });
        });
    }

    /// What is wrong with the file as it is now.
    fn refused_card(&self, ui: &mut egui::Ui) {
        if self.refused.is_empty() {
            return;
        }
        let paper = self.paper;
        paper.card().stroke(egui::Stroke::new(1.5, paper.red)).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(
                RichText::new("The file as it is now cannot be shown").heading().color(paper.red),
            );
            if self.model.is_some() {
                ui.label(paper.pale("the last good model is kept"));
            }
            let worst = self.refused.iter().filter(|finding| finding.grade == Grade::Fails);
            for finding in worst.take(8) {
                self.finding(ui, finding);
            }
        });
    }

    fn finding(&self, ui: &mut egui::Ui, finding: &show::Finding) -> egui::Response {
        let paper = self.paper;
        let colour = paper.of(finding.grade);
        ui.scope(|ui| {
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(sign(finding.grade)).color(colour).strong());
                ui.label(&finding.message);
            });
            if let Some(hint) = &finding.hint {
                ui.label(paper.pale(format!("→ {hint}")));
            }
            if let Some(line) = finding.line {
                ui.label(paper.pale(format!("{}:{line}  {}", self.file, finding.parameter)));
            }
            ui.add_space(3.0);
        })
        .response
    }

    /// What was picked.
    fn picked_card(&mut self, ui: &mut egui::Ui, model: &Model) {
        let Some(thing) = self.state.picked.and_then(|thing| model.show.things.get(thing)) else {
            return;
        };
        let paper = self.paper;
        paper.card().stroke(egui::Stroke::new(1.5, paper.orange)).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new(&thing.name).heading().color(paper.orange));
            let told =
                [Some(&thing.what), Some(&thing.size), thing.stock.as_ref(), thing.mass.as_ref()];
            for words in told.into_iter().flatten().filter(|words| !words.is_empty()) {
                ui.label(words);
            }
            let place = thing.line.map(|line| format!("{}:{line}  ", self.file));
            ui.label(paper.pale(format!("{}{}", place.unwrap_or_default(), thing.parameter)));
            let about = thing.findings.iter().filter_map(|k| model.show.findings.get(*k));
            for finding in about.filter(|finding| finding.grade != Grade::Holds) {
                self.finding(ui, finding);
            }
            ui.horizontal_wrapped(|ui| {
                let way = thing.way.and_then(|way| Some((way, model.show.ways.get(way)?)));
                if let Some((way, out)) = way {
                    if !out.steps.is_empty() && ui.button("take it out, or back (T)").clicked() {
                        self.play_way(model, way);
                    }
                    ui.label(paper.pale(&out.verdict));
                }
                if ui.button("let go").clicked() {
                    self.state.picked = None;
                }
            });
        });
    }

    fn sump(&mut self, ui: &mut egui::Ui, model: &Model) {
        let show = &model.show;
        ui.label(RichText::new(&show.title).strong());
        let words = |mm: f64| fit::length_words(mm, system(model));
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
            if ui.selectable_label(is_parallel, "parallel").clicked() {
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
                if ui.selectable_label(is_it, axis.words()).clicked() {
                    self.state.cut.axis = (!is_it).then_some(axis);
                }
            }
            if self.state.cut.axis.is_some() {
                ui.toggle_value(&mut self.state.cut.is_flipped, "other side");
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
            ui.toggle_value(&mut state.has_water, "water");
            ui.toggle_value(&mut state.has_names, "names");
            ui.toggle_value(&mut state.has_levels, "levels");
            ui.toggle_value(&mut state.is_lifted, "lifted");
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
                if ui.selectable_label(is_on, words).clicked() {
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

    fn water(&self, ui: &mut egui::Ui, model: &Model) {
        let levels = self.state.levels(model);
        egui::Grid::new("levels").num_columns(2).spacing([14.0, 3.0]).show(ui, |ui| {
            for (basin, level) in model.show.basins.iter().zip(levels) {
                ui.label(&basin.name);
                ui.label(fit::length_words(level.round(), system(model)));
                ui.end_row();
            }
        });
        ui.label(self.paper.pale("above the inside of the bottom"));
    }

    fn what_if(&mut self, ui: &mut egui::Ui, model: &Model) {
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

    fn taking_out(&mut self, ui: &mut egui::Ui, model: &Model) {
        let show = &model.show;
        if self.progress.is_some() && show.ways.is_empty() {
            ui.label(self.paper.pale("being looked for …"));
            return;
        }
        ui.label(self.paper.pale(&show.before_hands));
        for (slot, leaf) in show.slots.iter().zip(&mut self.state.leaves) {
            ui.label(self.paper.pale("one of these stands in its slot"));
            ui.horizontal_wrapped(|ui| {
                for (k, (name, _)) in slot.leaves.iter().enumerate() {
                    ui.selectable_value(leaf, k, name);
                }
            });
        }
        for (what, words, count) in [
            (Playing::Emptying, "everything out", show.emptying.len()),
            (
                Playing::Rescue,
                "get at an animal",
                show.rescue.as_ref().map_or(0, |r| r.steps.len()),
            ),
        ] {
            if count > 0 && ui.button(words).clicked() {
                self.state.start(model, what);
            }
        }
        if let Some(rescue) = &show.rescue {
            ui.label(self.paper.pale(format!("{}: {}", rescue.chamber, rescue.verdict)));
        }
        for (k, way) in show.ways.iter().enumerate() {
            let is_it = self.state.play.as_ref().is_some_and(|play| play.what == Playing::Way(k));
            let is_known = !way.steps.is_empty();
            ui.add_enabled_ui(is_known, |ui| {
                if ui.selectable_label(is_it, &way.name).clicked() {
                    self.play_way(model, k);
                }
            });
            ui.label(self.paper.pale(&way.verdict));
        }
    }

    fn findings(&mut self, ui: &mut egui::Ui, model: &Model) {
        let count = |grade| model.show.findings.iter().filter(|f| f.grade == grade).count();
        ui.horizontal_wrapped(|ui| {
            for grade in [Grade::Fails, Grade::Tight, Grade::NotChecked, Grade::Holds] {
                let words = format!("{} {} {grade}", sign(grade), count(grade));
                ui.label(RichText::new(words).color(self.paper.of(grade)).small());
            }
        });
        ui.toggle_value(&mut self.cards.has_holding, "also what holds");
        let mut picked = None;
        for finding in &model.show.findings {
            if finding.grade == Grade::Holds && !self.cards.has_holding {
                continue;
            }
            let shown = self.finding(ui, finding);
            if shown.interact(egui::Sense::click()).clicked() {
                picked = thing_of(model, finding);
            }
        }
        if picked.is_some() {
            self.state.picked = picked;
        }
    }

    fn tour(&mut self, ui: &mut egui::Ui, model: &Model) {
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

/// The body that a finding is about, if it is about one.
fn thing_of(model: &Model, finding: &show::Finding) -> Option<ThingId> {
    let told = || {
        let about = |thing: &show::Thing| {
            thing.findings.iter().any(|k| model.show.findings.get(*k) == Some(finding))
        };
        model.show.things.iter().position(about)
    };
    finding.things.first().copied().or_else(told)
}

fn system(model: &Model) -> System {
    if model.show.is_us { System::UsCustomary } else { System::Metric }
}

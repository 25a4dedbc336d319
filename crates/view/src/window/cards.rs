//! The sheet of cards at the side.

mod choosing;
mod found;
mod measuring;
mod picked;
mod sump;
mod taking_out;
mod tour;
mod water;

use eframe::egui::{self, RichText};
use findings::Grade;

use super::App;
use super::paper::sign;

/// Which cards are unfolded.
#[derive(Clone, Debug)]
pub(super) struct Cards {
    open: [bool; 6],
    /// Whether findings that hold are listed too.
    has_holding: bool,
    /// Whether to go to the first card, where what is picked is told.
    pub(super) to_top: bool,
    /// Whether to go to the card of the tour.
    to_tour: bool,
    /// What had the focus of the keys last.
    focused: Option<egui::Id>,
}

/// So many of the things that are wrong with a file are listed: the cards below stay in reach (our judgement).
const MOST_REFUSALS: usize = 8;

impl Default for Cards {
    fn default() -> Self {
        Self {
            open: [true, true, false, false, true, false],
            has_holding: false,
            to_top: false,
            to_tour: false,
            focused: None,
        }
    }
}

impl Cards {
    /// Unfolds the card of the tour and goes to it.
    pub(super) fn open_tour(&mut self) {
        self.open[5] = true;
        self.to_tour = true;
    }
}

impl App {
    pub(super) fn cards(&mut self, ui: &mut egui::Ui) {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            self.unwatched_card(ui);
            self.progress_card(ui);
            self.refused_card(ui);
            let Some(model) = self.model.clone() else { return };
            if std::mem::take(&mut self.cards.to_top) {
                ui.scroll_to_cursor(Some(egui::Align::TOP));
            }
            let own = |name: &'static str| egui::UiBuilder::new().id(egui::Id::new(name));
            ui.scope_builder(own("measuring"), |ui| self.measuring_card(ui, &model));
            ui.scope_builder(own("picked"), |ui| self.picked_card(ui, &model));
            self.card(ui, 0, "The sump", |app, ui| app.sump(ui, &model));
            self.card(ui, 1, "Water", |app, ui| app.water(ui, &model));
            self.card(ui, 2, "What if", |app, ui| app.what_if(ui, &model));
            self.card(ui, 3, "Taking out", |app, ui| app.taking_out(ui, &model));
            self.card(ui, 4, "Findings", |app, ui| app.findings(ui, &model));
            if std::mem::take(&mut self.cards.to_tour) {
                ui.scroll_to_cursor(Some(egui::Align::TOP));
            }
            self.card(ui, 5, "Tour", |app, ui| app.tour(ui, &model));
            if ui.button("Help (H)").clicked() {
                self.has_help = true;
            }
            self.show_focus(ui);
        });
    }

    /// Draws a line around what the keys go to, and brings it into view when that is new.
    fn show_focus(&mut self, ui: &egui::Ui) {
        let focused = ui.memory(egui::Memory::focused).filter(|id| Some(*id) != self.pane_id);
        let is_new = focused != std::mem::replace(&mut self.cards.focused, focused);
        let Some(response) = focused.and_then(|id| ui.ctx().read_response(id)) else { return };
        let stroke = egui::Stroke::new(2.0, self.paper.orange);
        let kind = egui::StrokeKind::Outside;
        ui.painter().rect_stroke(response.rect.expand(1.5), 4.0, stroke, kind);
        if is_new {
            ui.scroll_to_rect(response.rect.expand(12.0), None);
        }
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
        // What has the keys keeps them when a card above comes or goes.
        let own = egui::UiBuilder::new().id(egui::Id::new(("card", which)));
        ui.scope_builder(own, |ui| self.card_content(ui, which, is_open, title, content));
    }

    fn card_content(
        &mut self,
        ui: &mut egui::Ui,
        which: usize,
        is_open: bool,
        title: &str,
        content: impl FnOnce(&mut Self, &mut egui::Ui),
    ) {
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

    /// Said when nothing tells the window of saves.
    fn unwatched_card(&self, ui: &mut egui::Ui) {
        let Err(error) = &self.watch else { return };
        self.paper.card().show(ui, |ui| {
            ui.set_width(ui.available_width());
            let words = "This machine does not tell when the file is saved: open the window again to see changes";
            ui.label(format!("{words} ({error})."));
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
            let worst: Vec<_> =
                self.refused.iter().filter(|finding| finding.grade == Grade::Fails).collect();
            for finding in worst.iter().take(MOST_REFUSALS) {
                self.finding(ui, finding);
            }
            if let Some(more) = worst.len().checked_sub(MOST_REFUSALS).filter(|more| *more > 0) {
                ui.label(paper.pale(format!("and {more} more: `sumpwright check` lists them all")));
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
}

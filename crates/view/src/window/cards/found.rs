//! The card of findings.

use eframe::egui::{self, RichText};
use findings::Grade;
use show::ThingId;

use super::App;
use super::sign;
use crate::model::Model;
use crate::window::paper::turned;

impl App {
    pub(super) fn findings(&mut self, ui: &mut egui::Ui, model: &Model) {
        let count = |grade| model.show.findings.iter().filter(|f| f.grade == grade).count();
        ui.horizontal_wrapped(|ui| {
            for grade in [Grade::Fails, Grade::Tight, Grade::NotChecked, Grade::Holds] {
                let words = format!("{} {}", sign(grade), counted(count(grade), grade));
                ui.label(RichText::new(words).color(self.paper.of(grade)).small());
            }
        });
        turned(ui, &mut self.cards.has_holding, "also what holds");
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
}

/// `1 fails`, `2 fail`, `3 tight`.
fn counted(count: usize, grade: Grade) -> String {
    let words = match (grade, count) {
        (Grade::Fails, 1) => "fails",
        (Grade::Fails, _) => "fail",
        (Grade::Holds, 1) => "holds",
        (Grade::Holds, _) => "hold",
        (Grade::Tight, _) => "tight",
        (Grade::NotChecked, _) => "not checked",
    };
    format!("{count} {words}")
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

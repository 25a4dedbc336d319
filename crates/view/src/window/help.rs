//! The help page.

use eframe::egui;

use super::App;
use super::keys::KEYS;
use super::paper::bold;

/// What the pointer does.
const POINTER: &[(&str, &str)] = &[
    ("drag", "turn"),
    ("drag with the right or middle button, or with Shift", "move"),
    ("wheel", "nearer and farther, towards the pointer"),
    ("click", "pick a part; again at the same place the one behind it, through clear sheet"),
    ("double click", "take the part out, or put it back"),
];

impl App {
    /// Over everything else.
    pub(super) fn help(&mut self, ctx: &egui::Context) {
        let paper = self.paper;
        let title = egui::RichText::new("How to use this window").family(bold()).size(17.0);
        let shown = egui::Modal::new("help".into())
            .frame(paper.card().inner_margin(egui::Margin::same(20)))
            .show(ctx, |ui| {
                ui.set_width(560.0);
                ui.label(title);
                ui.label(format!(
                    "Save `{}` in your text editor, and the model follows. A mistake is told at the top of the cards, and \
                     the last good model stays.",
                    self.file
                ));
                for (heading, rows) in [("The pointer", POINTER), ("Keys", KEYS)] {
                    ui.add_space(8.0);
                    ui.heading(heading);
                    egui::Grid::new(heading).num_columns(2).spacing([18.0, 3.0]).show(ui, |ui| {
                        for (key, words) in rows {
                            ui.add(
                                egui::Label::new(
                                    egui::RichText::new(*key).color(paper.blue).small(),
                                )
                                .wrap_mode(egui::TextWrapMode::Extend),
                            );
                            ui.label(egui::RichText::new(*words).small());
                            ui.end_row();
                        }
                    });
                }
                ui.add_space(8.0);
                ui.button("Close").clicked()
            });
        if shown.inner || shown.should_close() {
            self.has_help = false;
        }
    }
}

//! The help page.

use eframe::egui::{self, RichText};

use super::App;
use super::keys::{OF_CARDS, TABLE};
use super::paper::bold;

/// What the pointer does.
const POINTER: &[(&str, &str)] = &[
    ("drag", "turn"),
    ("Shift+drag, right or middle drag", "move"),
    ("wheel", "nearer and farther, towards the pointer"),
    ("click", "pick a part; again at the same place the one behind it"),
    ("double click", "take the part out, or put it back; through clear walls that are glued in"),
    ("Ctrl+click", "measure from here, to there"),
    ("click below, in a failure", "to that instant; ← and → then step"),
];

impl App {
    /// Over everything else.
    pub(super) fn help(&mut self, ctx: &egui::Context) {
        let paper = self.paper;
        let title = RichText::new("How to use this window").family(bold()).size(17.0);
        let shown = egui::Modal::new("help".into())
            .frame(paper.card().inner_margin(egui::Margin::same(20)))
            .show(ctx, |ui| {
                let room = ui.ctx().content_rect().size() - egui::vec2(90.0, 120.0);
                ui.set_width(room.x.min(620.0));
                ui.label(title);
                let most = room.y.max(120.0);
                let sheet = egui::ScrollArea::vertical().max_height(most).min_scrolled_height(most);
                sheet.show(ui, |ui| {
                    ui.set_width(ui.available_width());
                    ui.label(format!(
                        "Save `{}` in your text editor, and the model follows. A mistake is told at the top of the \
                         cards, and the last good model stays.",
                        self.file
                    ));
                    let pairs = |rows: &[(&str, &str)]| -> Vec<(String, String)> {
                        let owned = rows.iter().map(|(key, words)| [*key, *words].map(str::to_owned));
                        owned.map(Into::into).collect()
                    };
                    let keys = TABLE.iter().map(|row| (row.label(), row.words.to_owned()));
                    let keys: Vec<_> = keys.chain(pairs(OF_CARDS)).collect();
                    for (heading, rows) in [("The pointer", pairs(POINTER)), ("Keys", keys)] {
                        ui.add_space(8.0);
                        ui.heading(heading);
                        for (key, words) in rows {
                            ui.horizontal_top(|ui| {
                                ui.spacing_mut().item_spacing.x = 12.0;
                                let key = RichText::new(key).color(paper.blue).small();
                                let width = 0.36 * ui.available_width();
                                ui.allocate_ui(egui::vec2(width, 0.0), |ui| {
                                    ui.set_width(width);
                                    ui.label(key);
                                });
                                ui.add(egui::Label::new(RichText::new(words).small()).wrap());
                            });
                        }
                    }
                });
                ui.add_space(8.0);
                ui.button("Close").clicked()
            });
        if shown.inner || shown.should_close() {
            self.has_help = false;
        }
    }
}

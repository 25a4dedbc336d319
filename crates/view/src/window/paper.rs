//! The look: pale paper, or the same at night.

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, RichText,
    Stroke, TextStyle,
};
use findings::Grade;

/// Colours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Paper {
    pub(super) is_dark: bool,
    /// Beneath the cards.
    pub(super) desk: Color32,
    /// A card.
    pub(super) card: Color32,
    pub(super) rule: Color32,
    pub(super) ink: Color32,
    /// Less important words.
    pub(super) pale_ink: Color32,
    /// Chambers, water, what can be pressed, what is picked.
    pub(super) blue: Color32,
    /// What moves, or is not as in the file.
    pub(super) orange: Color32,
    pub(super) red: Color32,
    pub(super) green: Color32,
    /// Around words on the model.
    pub(super) halo: Color32,
}

/// Something that is on or off: framed either way, so that it is seen to be a button.
pub(super) fn switch(
    ui: &mut egui::Ui,
    is_on: bool,
    words: impl Into<egui::WidgetText>,
) -> egui::Response {
    ui.add(egui::Button::selectable(is_on, words.into()).frame_when_inactive(true))
}

/// The same of a value that it turns on and off.
pub(super) fn turned(ui: &mut egui::Ui, is_on: &mut bool, words: impl Into<egui::WidgetText>) {
    if switch(ui, *is_on, words).clicked() {
        *is_on = !*is_on;
    }
}

impl Paper {
    pub(super) const LIGHT: Self = Self {
        is_dark: false,
        desk: Color32::from_rgb(232, 235, 234),
        card: Color32::from_rgb(252, 251, 247),
        rule: Color32::from_rgb(208, 213, 212),
        ink: Color32::from_rgb(33, 44, 52),
        pale_ink: Color32::from_rgb(94, 106, 114),
        blue: Color32::from_rgb(16, 82, 138),
        orange: Color32::from_rgb(184, 84, 8),
        red: Color32::from_rgb(176, 38, 30),
        green: Color32::from_rgb(28, 112, 66),
        halo: Color32::from_rgb(250, 251, 250),
    };

    pub(super) const DARK: Self = Self {
        is_dark: true,
        desk: Color32::from_rgb(24, 28, 32),
        card: Color32::from_rgb(36, 41, 46),
        rule: Color32::from_rgb(66, 74, 80),
        ink: Color32::from_rgb(228, 232, 233),
        pale_ink: Color32::from_rgb(158, 170, 178),
        blue: Color32::from_rgb(126, 188, 236),
        orange: Color32::from_rgb(244, 160, 82),
        red: Color32::from_rgb(244, 126, 114),
        green: Color32::from_rgb(118, 206, 152),
        halo: Color32::from_rgb(24, 28, 32),
    };

    /// The other look.
    pub(super) fn other(self) -> Self {
        if self.is_dark { Self::LIGHT } else { Self::DARK }
    }

    /// Makes everything look so.
    pub(super) fn set(self, ctx: &egui::Context) {
        let mut visuals = if self.is_dark { egui::Visuals::dark() } else { egui::Visuals::light() };
        visuals.override_text_color = Some(self.ink);
        visuals.panel_fill = self.desk;
        visuals.window_fill = self.card;
        visuals.hyperlink_color = self.blue;
        visuals.selection.bg_fill = self.blue.gamma_multiply(0.28);
        visuals.selection.stroke = Stroke::new(1.5, self.blue);
        let widgets = &mut visuals.widgets;
        let all = [
            (&mut widgets.inactive, 1.0, self.rule),
            (&mut widgets.hovered, 1.0, self.blue),
            (&mut widgets.active, 1.5, self.orange),
            (&mut widgets.open, 1.0, self.rule),
        ];
        for (widget, width, colour) in all {
            widget.corner_radius = CornerRadius::same(9);
            widget.bg_stroke = Stroke::new(width, colour);
            widget.weak_bg_fill = self.card;
            widget.bg_fill = self.rule;
            widget.fg_stroke = Stroke::new(1.0, self.ink);
            widget.expansion = 0.0;
        }
        ctx.set_visuals(visuals);
    }

    /// The colour of a grade.
    pub(super) fn of(self, grade: Grade) -> Color32 {
        match grade {
            Grade::Fails => self.red,
            Grade::Tight => self.orange,
            Grade::NotChecked => self.pale_ink,
            Grade::Holds => self.green,
        }
    }

    /// A card.
    pub(super) fn card(self) -> egui::Frame {
        egui::Frame::new()
            .fill(self.card)
            .stroke(Stroke::new(1.0, self.rule))
            .corner_radius(CornerRadius::same(3))
            .inner_margin(Margin::symmetric(12, 9))
            .outer_margin(Margin { bottom: 8, ..Margin::ZERO })
    }

    /// Less important words.
    pub(super) fn pale(self, text: impl Into<String>) -> RichText {
        RichText::new(text).color(self.pale_ink).small()
    }
}

/// A sign for a grade that reads without colour.
pub(super) fn sign(grade: Grade) -> &'static str {
    match grade {
        Grade::Fails => "✗",
        Grade::Tight => "!",
        Grade::NotChecked => "?",
        Grade::Holds => "✓",
    }
}

/// The bold family.
pub(super) fn bold() -> FontFamily {
    FontFamily::Name("bold".into())
}

/// The letters of the pictures.
pub(super) fn set_fonts(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let mut add = |name: &str, bytes: &'static [u8], family: FontFamily| {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
        let others = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
        let list = fonts.families.entry(family).or_insert(others);
        list.insert(0, name.to_owned());
    };
    add("bold", dejavu::sans::bold(), bold());
    add("regular", dejavu::sans::regular(), FontFamily::Proportional);
    ctx.set_fonts(fonts);
    ctx.all_styles_mut(|style| {
        let sizes = [
            (TextStyle::Small, 11.0),
            (TextStyle::Body, 13.0),
            (TextStyle::Button, 12.5),
            (TextStyle::Heading, 15.0),
            (TextStyle::Monospace, 12.0),
        ];
        for (which, size) in sizes {
            let family =
                if which == TextStyle::Heading { bold() } else { FontFamily::Proportional };
            style.text_styles.insert(which, FontId::new(size, family));
        }
        style.spacing.item_spacing = egui::vec2(6.0, 5.0);
        style.spacing.button_padding = egui::vec2(8.0, 3.0);
        style.interaction.selectable_labels = false;
    });
}

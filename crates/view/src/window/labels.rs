//! Names and level marks over the model.
//!
//! Words are about something that shows: a part is named at a point of it that can be seen, and not at all when none
//! can. No words lie over others.

mod chambers;
mod names;

use eframe::egui::{self, Align2, Color32, FontId, Pos2, Rect, Stroke, vec2};
use glam::{DVec2, DVec3};
use scene::{Camera, Lens};

use super::App;
use crate::cut::Plane;
use crate::model::Model;
use crate::sight::Sight;
pub(super) use names::spread;

/// A slip of paper is so much larger than its words, points; our judgement.
const SLIP: egui::Vec2 = vec2(3.0, 1.0);

/// What labels are placed by.
struct Scenery<'a> {
    model: &'a Model,
    camera: &'a Camera,
    plane: Plane,
    sight: Sight<'a>,
    rect: Rect,
    per_point: f32,
}

impl Scenery<'_> {
    fn project(&self, p: DVec3) -> Option<Pos2> {
        let is_before = self.camera.lens == Lens::Parallel || self.camera.view(p).z > 1.0;
        let to_screen = |place: DVec2| {
            let p = place.as_vec2() / self.per_point;
            self.rect.min + vec2(p.x, p.y)
        };
        is_before.then(|| to_screen(self.camera.project(p)))
    }
}

impl App {
    pub(super) fn labels(&self, ui: &egui::Ui, rect: Rect, model: &Model) {
        let painter = ui.painter().with_clip_rect(rect);
        let camera = self.state.orbit.camera(self.frame);
        let plane = self.state.plane(model);
        let sight = Sight::new(model, &self.state.places(model), &camera, plane);
        let per_point = ui.ctx().pixels_per_point();
        let scenery = Scenery { model, camera: &camera, plane, sight, rect, per_point };
        let mut taken = Vec::new();
        if self.state.has_names {
            self.names(&painter, &scenery, &mut taken);
        }
        self.chambers(&painter, &scenery, &mut taken);
    }

    /// A line from what is meant to its words, on any ground.
    fn leader(&self, painter: &egui::Painter, from: Pos2, to: Pos2, colour: Color32) {
        let halo = self.paper.halo;
        painter.line_segment([from, to], Stroke::new(2.6, halo.gamma_multiply(0.7)));
        painter.line_segment([from, to], Stroke::new(0.8, colour));
        painter.circle(from, 2.4, colour, Stroke::new(1.0, halo));
    }

    /// Words on a slip of paper.
    pub(super) fn haloed(
        &self,
        painter: &egui::Painter,
        at: Pos2,
        align: Align2,
        text: &str,
        font: FontId,
        colour: Color32,
    ) {
        let laid = painter.layout_no_wrap(text.to_owned(), font, colour);
        let own = align.anchor_size(at, laid.size());
        self.slip(painter, own);
        painter.galley(own.min, laid, colour);
    }

    /// A slip of paper under words, so that they read on whatever is behind them.
    fn slip(&self, painter: &egui::Painter, words: Rect) {
        painter.rect_filled(words.expand2(SLIP), 3.0, self.paper.halo.gamma_multiply(0.82));
    }
}

//! What is measured, drawn over the model.

use eframe::egui::{self, Align2, FontId, Pos2, Stroke, vec2};
use glam::DVec3;
use scene::Lens;
use units::Length;

use super::App;
use super::paper::bold;
use crate::dimension::Dimension;
use crate::model::Model;

/// Half a mark on a place that was picked, and half a stroke across the end of a line, points.
const MARK: f32 = 4.5;

impl App {
    pub(super) fn dimensions(&self, ui: &egui::Ui, rect: egui::Rect, model: &Model) {
        let measuring = &self.state.measuring;
        let painter = ui.painter().with_clip_rect(rect);
        if measuring.is_on && measuring.spots.len() < 2 {
            self.cross(&painter, rect.center());
        }
        if measuring.spots.is_empty() {
            return;
        }
        let camera = self.state.orbit.camera(self.frame);
        let per_point = ui.ctx().pixels_per_point();
        let project = |p: DVec3| {
            let is_before = camera.lens == Lens::Parallel || camera.view(p).z > 1.0;
            let px = is_before.then(|| camera.project(p))?;
            let p = px.as_vec2() / per_point;
            Some(rect.min + vec2(p.x, p.y))
        };
        let places = self.state.places(model);
        for spot in &measuring.spots {
            let Some(place) = places.get(spot.thing).copied().flatten() else { continue };
            let Some(at) = project(place.apply(spot.at)) else { continue };
            painter.circle(at, MARK, self.paper.halo, Stroke::new(1.8, self.paper.blue));
        }
        if let Some(dimension) = self.state.dimension(&places) {
            self.dimension(&painter, &dimension, model, &project);
        }
    }

    /// The line with its length, which reads on whatever is behind it.
    fn dimension(
        &self,
        painter: &egui::Painter,
        dimension: &Dimension,
        model: &Model,
        project: &dyn Fn(DVec3) -> Option<Pos2>,
    ) {
        let (Some(a), Some(b)) = (project(dimension.from), project(dimension.to)) else { return };
        let paper = self.paper;
        let line = |from: Pos2, to: Pos2, width: f32| {
            painter.line_segment([from, to], Stroke::new(width + 2.4, paper.halo));
            painter.line_segment([from, to], Stroke::new(width, paper.blue));
        };
        if let Some(beside) = dimension.beside.and_then(project) {
            line(b, beside, 0.8);
        }
        line(a, b, 1.8);
        let along = b - a;
        let across = if along.length() < 1.0 { vec2(0.0, 1.0) } else { along.normalized().rot90() };
        for end in [a, b] {
            line(end - across * MARK, end + across * MARK, 1.8);
        }
        let show = |mm: f64| Length::mm(mm).show(model.system());
        // Beside the line, on its upper side.
        let up = if across.y > 0.0 { -across } else { across };
        let middle = a + 0.5 * along + up * 14.0;
        let font = FontId::new(14.0, bold());
        let words = show(dimension.length_mm());
        self.on_paper(painter, middle, &words, font);
        if !dimension.is_square {
            let [x, y, z] = dimension.parts_mm().to_array().map(show);
            let words = format!("along {x}, front to back {y}, up {z}");
            let below = a + 0.5 * along - up * 14.0;
            let font = FontId::proportional(11.5);
            self.on_paper(painter, below, &words, font);
        }
    }

    /// Words on a strip of paper, which read on other words as well.
    fn on_paper(&self, painter: &egui::Painter, at: Pos2, words: &str, font: FontId) {
        let laid = painter.layout_no_wrap(words.to_owned(), font.clone(), self.paper.blue);
        let strip = Align2::CENTER_CENTER.anchor_size(at, laid.size()).expand2(vec2(5.0, 1.0));
        painter.rect_filled(strip, 3.0, self.paper.halo.gamma_multiply(0.86));
        self.haloed(painter, at, Align2::CENTER_CENTER, words, font, self.paper.blue);
    }

    /// Marks the middle of the picture, which Enter takes.
    fn cross(&self, painter: &egui::Painter, at: Pos2) {
        for arm in [vec2(7.0, 0.0), vec2(0.0, 7.0)] {
            painter.line_segment([at - arm, at + arm], Stroke::new(3.4, self.paper.halo));
            painter.line_segment([at - arm, at + arm], Stroke::new(1.2, self.paper.blue));
        }
    }
}

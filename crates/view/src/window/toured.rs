//! The chamber that the tour is at, drawn over the model by its edges.

use eframe::egui::{self, Pos2, Stroke, vec2};
use glam::DVec3;
use scene::Lens;

use super::App;
use crate::model::Model;
use crate::state::corners;

/// Width of an edge and of the light around it, points; our judgement.
const EDGE: f32 = 1.6;
const LIGHT: f32 = 4.0;

impl App {
    pub(super) fn toured(&self, ui: &egui::Ui, rect: egui::Rect, model: &Model) {
        let Some(about) = self.state.toured(model) else { return };
        let camera = self.state.orbit.camera(self.frame);
        let per_point = ui.ctx().pixels_per_point();
        let project = |p: DVec3| -> Option<Pos2> {
            let is_before = camera.lens == Lens::Parallel || camera.view(p).z > 1.0;
            let px = is_before.then(|| camera.project(p))?;
            let p = px.as_vec2() / per_point;
            Some(rect.min + vec2(p.x, p.y))
        };
        let corners = corners(about).map(project);
        let painter = ui.painter().with_clip_rect(rect);
        let edges = (0..8_usize).flat_map(|k| [1, 2, 4].map(|bit| (k, k | bit)));
        let edges = edges.filter(|(from, to)| from != to);
        let edges: Vec<[Pos2; 2]> =
            edges.filter_map(|(from, to)| Some([corners[from]?, corners[to]?])).collect();
        let looks = [(LIGHT, self.paper.halo.gamma_multiply(0.6)), (EDGE, self.paper.blue)];
        for (width, colour) in looks {
            for edge in &edges {
                painter.line_segment(*edge, Stroke::new(width, colour));
            }
        }
    }
}

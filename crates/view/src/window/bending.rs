//! How the panel that is picked bends, drawn over the model.

use eframe::egui::{self, Align2, FontId, Pos2, Stroke, vec2};
use glam::DVec3;
use scene::Lens;

use super::App;
use super::paper::bold;
use crate::bent::Bent;
use crate::model::Model;

/// Radius of the mark where it bends most, points.
const MARK: f32 = 4.0;

impl App {
    /// What is known of how a body bends, while that is asked for.
    pub(super) fn bent<'a>(&self, model: &'a Model) -> Option<&'a Bent> {
        let picked = self.state.picked.filter(|_| self.state.has_bending)?;
        model.bent.iter().find(|bent| bent.thing == picked)
    }

    pub(super) fn bending(&self, ui: &egui::Ui, rect: egui::Rect, model: &Model) {
        let Some(bent) = self.bent(model) else { return };
        let Some(place) = self.state.places(model).get(bent.thing).copied().flatten() else {
            return;
        };
        let painter = ui.painter().with_clip_rect(rect);
        let camera = self.state.orbit.camera(self.frame);
        let per_point = ui.ctx().pixels_per_point();
        let project = |p: DVec3| -> Option<Pos2> {
            let p = place.apply(p);
            let is_before = camera.lens == Lens::Parallel || camera.view(p).z > 1.0;
            let px = is_before.then(|| camera.project(p))?;
            let p = px.as_vec2() / per_point;
            Some(rect.min + vec2(p.x, p.y))
        };
        for stroke in [Stroke::new(3.2, self.paper.halo), Stroke::new(1.3, self.paper.blue)] {
            for line in &bent.lines {
                for ends in line.windows(2) {
                    let (Some(a), Some(b)) = (project(ends[0]), project(ends[1])) else { continue };
                    painter.line_segment([a, b], stroke);
                }
            }
        }
        let Some(at) = project(bent.most) else { return };
        painter.circle(at, MARK, self.paper.halo, Stroke::new(1.8, self.paper.blue));
        let font = FontId::new(14.0, bold());
        let beside = at + vec2(0.0, -14.0);
        self.haloed(
            &painter,
            beside,
            Align2::CENTER_CENTER,
            &bent.deflection,
            font,
            self.paper.blue,
        );
    }
}

//! The model beside the cards: what the pointer does to it, and how it gets onto the screen.

use std::sync::Arc;

use eframe::{egui, egui_glow};
use egui::{PointerButton, Sense};
use glam::{DVec2, dvec2};
use scene::Frame;
use three_d::Viewport;

use super::App;
use crate::canvas::{Detail, Picture, Pool};
use crate::cut::Plane;
use crate::model::Model;
use crate::spill::Spill;
use crate::state::rehearsal;

/// A wheel's step of so many points goes nearer by e.
const POINTS_PER_E: f64 = 400.0;

/// Water ends so far behind what is cut away, mm: more than the graphics processor's numbers are off; our judgement.
const HAIR_MM: f64 = 0.1;

/// Width of lines, points: never less than a sample, or they break up.
fn line_points(detail: Detail) -> f32 {
    match detail {
        Detail::Fine => 1.15,
        Detail::Plain => 1.3,
        Detail::Coarse => 1.7,
        Detail::Coarsest => 2.2,
    }
}

impl App {
    pub(super) fn pane(&mut self, ui: &mut egui::Ui) {
        let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
        let per_point = f64::from(ui.ctx().pixels_per_point());
        let size = dvec2(f64::from(rect.width()), f64::from(rect.height())) * per_point;
        self.frame = Frame { min: DVec2::ZERO, max: size.round().max(DVec2::ONE) };
        let Some(model) = self.model.clone() else {
            self.nothing_yet(ui, rect);
            return;
        };
        self.pane_id = Some(response.id);
        self.keep_arrows(ui, &response);
        self.bring_into_view();
        let in_pane = |at: egui::Pos2| {
            let d = at - rect.min;
            dvec2(f64::from(d.x), f64::from(d.y)) * per_point
        };
        self.move_view(ui, &response, per_point, &in_pane);
        let has_command = ui.input(|input| input.modifiers.command);
        let is_measuring = self.state.measuring.is_on || has_command;
        // One who goes through all with Tab sees when it is the model's turn.
        if response.gained_focus() || response.is_pointer_button_down_on() {
            self.has_keys_by_tab = !response.is_pointer_button_down_on();
        }
        // Not by a key: those have their own table.
        if response.clicked_by(PointerButton::Primary) {
            // The keys are the model's again.
            response.request_focus();
            self.has_keys_by_tab = false;
            if let Some(at) = response.interact_pointer_pos() {
                let camera = self.state.orbit.camera(self.frame);
                if is_measuring {
                    self.state.click_to_measure(&model, &camera, in_pane(at));
                } else {
                    // The toolkit tells the second and the third of quick clicks as clicks as well.
                    let [is_second, is_third] = [
                        response.double_clicked_by(PointerButton::Primary),
                        response.triple_clicked_by(PointerButton::Primary),
                    ];
                    let place = in_pane(at);
                    let way = (!is_third)
                        .then(|| self.state.click_or_second(&model, &camera, place, is_second));
                    if let Some(way) = way.flatten() {
                        self.play_way(&model, way);
                    }
                }
                // Where it is told what was picked.
                self.cards.to_top = true;
            }
        }
        self.paint(ui, rect, &model);
        self.toured(ui, rect, &model);
        // Names would lie over the lines of how a panel bends.
        if self.bent(&model).is_some() {
            self.bending(ui, rect, &model);
        } else {
            self.labels(ui, rect, &model);
        }
        self.dimensions(ui, rect, &model);
        self.trouble(ui, rect);
        if response.has_focus() && self.has_keys_by_tab {
            let stroke = egui::Stroke::new(2.0, self.paper.orange);
            let kind = egui::StrokeKind::Inside;
            ui.painter().rect_stroke(rect.shrink(1.0), 3.0, stroke, kind);
        }
        if self.state.is_moving() {
            ui.ctx().request_repaint();
        }
        if self.moved.is_some() && self.detail() != Detail::Fine {
            ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(super::SETTLED_S));
        }
    }

    /// Arrows turn the model while it has the keys; they do not go to the cards.
    fn keep_arrows(&self, ui: &egui::Ui, response: &egui::Response) {
        if !response.has_focus() {
            return;
        }
        let filter = egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..egui::EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    }

    fn move_view(
        &mut self,
        ui: &egui::Ui,
        response: &egui::Response,
        per_point: f64,
        in_pane: &dyn Fn(egui::Pos2) -> DVec2,
    ) {
        let drag = response.drag_delta();
        let drag = dvec2(f64::from(drag.x), f64::from(drag.y)) * per_point;
        let has_shift = ui.input(|input| input.modifiers.shift);
        let frame = self.frame;
        if response.dragged_by(PointerButton::Primary) && !has_shift {
            self.state.orbit = self.state.orbit.turned(drag, frame.size().y);
        } else if response.dragged() {
            self.state.orbit = self.state.orbit.panned(drag, frame);
        }
        if let Some(at) = response.hover_pos() {
            let (wheel, pinch) =
                ui.input(|input| (input.smooth_scroll_delta.y, input.zoom_delta()));
            let factor = (f64::from(wheel) / POINTS_PER_E).exp() * f64::from(pinch);
            if (factor - 1.0).abs() > 1e-6 {
                self.state.orbit = self.state.orbit.zoomed(factor, in_pane(at), frame);
            }
        }
    }

    /// Hands the picture to the graphics processor.
    fn paint(&mut self, ui: &egui::Ui, rect: egui::Rect, model: &Model) {
        let per_point = ui.ctx().pixels_per_point();
        let mut picture = self.picture(model, per_point);
        // Whatever moves, by whatever means, is drawn no finer than the machine can.
        if self.canvas.lock().is_ok_and(|canvas| canvas.shows_another(&picture)) {
            self.note_motion(ui.ctx());
            picture = self.picture(model, per_point);
        }
        let (canvas, trouble) = (self.canvas.clone(), self.trouble.clone());
        let draw = move |info: egui::PaintCallbackInfo, _: &egui_glow::Painter| {
            let at = info.viewport_in_pixels();
            let [width, height] =
                [at.width_px, at.height_px].map(|px| u32::try_from(px).unwrap_or(0));
            let viewport = Viewport { x: at.left_px, y: at.from_bottom_px, width, height };
            let Ok(mut canvas) = canvas.lock() else { return };
            if let Err(error) = canvas.show(&picture, viewport, info.screen_size_px)
                && let Ok(mut trouble) = trouble.lock()
            {
                *trouble = Some(error.to_string());
            }
        };
        let callback = Arc::new(egui_glow::CallbackFn::new(draw));
        ui.painter().add(egui::PaintCallback { rect, callback });
    }

    fn picture(&self, model: &Model, per_point: f32) -> Picture {
        let state = &self.state;
        let camera = state.orbit.camera(self.frame);
        let [width, height] = self.frame.size().as_uvec2().to_array();
        let plane = state.plane(model);
        let outside = model.show.outside_mm;
        Picture {
            line_px: line_points(self.detail()) * per_point.max(1.0),
            places: state.places(model),
            picked: state.picked,
            moving: state.moving(),
            plane,
            pools: if state.has_water { self.pools(model) } else { Vec::new() },
            box_mm: outside.x,
            is_dark: self.paper.is_dark,
            detail: self.detail(),
            ..Picture::new(&camera, state.orbit.distance_mm, [width, height])
        }
    }

    /// The water as it stands now, and as the cut leaves it.
    fn pools(&self, model: &Model) -> Vec<Pool> {
        let levels = self.state.levels(model);
        let plane = self.state.plane(model);
        // A hair behind the cut, or its rim there would be cut away here and there.
        let plane = Plane { least: plane.least + HAIR_MM, ..plane };
        let floor = model.show.floor_z_mm;
        let standing = model.show.basins.iter().zip(&levels).map(|(basin, level)| {
            let [min, max] = [basin.min_mm.extend(floor), basin.max_mm.extend(floor + level)];
            ([min, max], true)
        });
        // Under a leaf that ends above the bottom the water goes on, as high as the gap or the water beside it.
        let under = model.scene.waters.iter().filter(|water| !water.is_open).map(|water| {
            let beside = model.show.basins.iter().zip(&levels).filter(|(basin, _)| {
                const REACH_MM: f64 = 1.0;
                let (lo, hi) = (water.min.truncate() - REACH_MM, water.max.truncate() + REACH_MM);
                lo.cmple(basin.max_mm).all() && basin.min_mm.cmple(hi).all()
            });
            let highest = beside.fold(0.0_f64, |highest, (_, level)| highest.max(*level));
            let top = water.max.z.min(floor + highest);
            ([water.min, water.max.with_z(top)], false)
        });
        let cut = |([lo, hi], has_surface): ([glam::DVec3; 2], bool)| {
            let corners = plane.keeps_of([lo, hi]).filter(|[lo, hi]| lo.z + 0.5 < hi.z)?;
            // Cut level, the top that is left is no surface.
            let has_surface = has_surface && (corners[1].z - hi.z).abs() < 1e-6;
            Some(Pool { corners, has_surface })
        };
        let spilled = self.spill(model).map_or_else(Vec::new, |spill| spill.strips);
        let spilled = spilled.into_iter().map(|corners| (corners, true));
        standing.chain(under).chain(spilled).filter_map(cut).collect()
    }

    /// What lies on the floor under the sump in the failure that plays.
    pub(super) fn spill(&self, model: &Model) -> Option<Spill> {
        let play = self.state.play.as_ref()?;
        let rehearsal = rehearsal(model, play.what)?;
        Spill::of(model, rehearsal.at(&rehearsal.spilled_l[0], play.clock.t_s))
    }

    /// Plays the way out of what is picked, or its way back.
    pub(super) fn take_out_picked(&mut self) {
        let Some(model) = self.model.clone() else { return };
        let picked = self.state.picked.and_then(|thing| model.show.things.get(thing));
        let Some(way) = picked.and_then(|thing| thing.way) else { return };
        self.play_way(&model, way);
    }

    /// Plays a way out; when it is played already, backwards.
    pub(super) fn play_way(&mut self, model: &Model, way: usize) {
        self.state.take_out(model, way);
    }

    fn nothing_yet(&self, ui: &egui::Ui, rect: egui::Rect) {
        let words = match self.progress {
            Some(words) => format!("{words} …"),
            None => "there is no model yet".to_owned(),
        };
        ui.painter().rect_filled(rect, 0.0, self.paper.halo);
        let font = egui::FontId::proportional(16.0);
        let (at, align) = (rect.center(), egui::Align2::CENTER_CENTER);
        ui.painter().text(at, align, words, font, self.paper.pale_ink);
    }

    fn trouble(&self, ui: &egui::Ui, rect: egui::Rect) {
        let Ok(trouble) = self.trouble.lock() else { return };
        if let Some(words) = trouble.as_deref() {
            let font = egui::FontId::proportional(13.0);
            let at = rect.left_bottom() + egui::vec2(12.0, -12.0);
            let words = format!("the graphics driver failed: {words}");
            ui.painter().text(at, egui::Align2::LEFT_BOTTOM, words, font, self.paper.red);
        }
    }
}

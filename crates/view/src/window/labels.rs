//! Names and level marks over the model.

use eframe::egui::{self, Align2, Color32, FontId, Pos2, Stroke, pos2, vec2};
use glam::{DVec2, DVec3};
use scene::{Camera, Lens, Topic};
use units::System;

use super::App;
use super::paper::bold;
use crate::model::Model;

/// Names closer than this above each other run together, points.
const LINE_POINTS: f32 = 19.0;
/// Between the model and the names beside it, points.
const BESIDE_POINTS: f32 = 26.0;

/// A name, where it points and where it stands, points.
#[derive(Clone, Debug, PartialEq)]
struct Name {
    text: String,
    anchor: Pos2,
    at: Pos2,
    is_left: bool,
    is_picked: bool,
}

impl App {
    pub(super) fn labels(&self, ui: &egui::Ui, rect: egui::Rect, model: &Model) {
        let painter = ui.painter().with_clip_rect(rect);
        let camera = self.state.orbit.camera(self.frame);
        let per_point = ui.ctx().pixels_per_point();
        let to_screen = |place: DVec2| {
            let p = place.as_vec2() / per_point;
            rect.min + vec2(p.x, p.y)
        };
        let project = |p: DVec3| {
            let is_before = camera.lens == Lens::Parallel || camera.view(p).z > 1.0;
            is_before.then(|| to_screen(camera.project(p)))
        };
        if self.state.has_levels && self.state.has_water {
            self.levels(&painter, model, &camera, &project);
        }
        if self.state.has_names {
            self.chambers(&painter, model, &project);
            self.names(&painter, rect, model, &project);
        }
    }

    /// Names of chambers, on their floors.
    fn chambers(
        &self,
        painter: &egui::Painter,
        model: &Model,
        project: &dyn Fn(DVec3) -> Option<Pos2>,
    ) {
        let plane = self.state.plane(model);
        for label in model.scene.labels.iter().filter(|label| label.topic == Topic::Chamber) {
            let front = label.anchor.with_y(0.0).with_z(model.show.floor_z_mm + 12.0);
            let places = [front, label.anchor.with_z(front.z)];
            let Some(anchor) = places.into_iter().find(|place| plane.keeps(*place)) else {
                continue;
            };
            if let Some(at) = project(anchor) {
                let font = FontId::new(13.0, bold());
                self.haloed(painter, at, Align2::CENTER_CENTER, &label.text, font, self.paper.blue);
            }
        }
    }

    /// Names of parts, in two columns beside the model.
    fn names(
        &self,
        painter: &egui::Painter,
        rect: egui::Rect,
        model: &Model,
        project: &dyn Fn(DVec3) -> Option<Pos2>,
    ) {
        let places = self.state.places(model);
        let plane = self.state.plane(model);
        let labels = model.scene.labels.iter().filter_map(|label| {
            let body = label.body?;
            let place = places.get(body).copied().flatten()?;
            let is_picked = self.state.picked == Some(body);
            let is_told = matches!(
                label.topic,
                Topic::Equipment | Topic::Leaf | Topic::SockHolder | Topic::Door | Topic::Insert
            );
            let at = place.apply(label.anchor);
            if !(is_picked || is_told) || !plane.keeps(at) {
                return None;
            }
            Some((label.text.clone(), project(at)?, is_picked))
        });
        let [x, y, z] = model.show.outside_mm.to_array();
        let corners = (0..8).filter_map(|k| {
            let pick = |bit: usize, most: f64| if k & bit == 0 { 0.0 } else { most };
            project(DVec3::new(pick(1, x), pick(2, y), pick(4, z)))
        });
        let names = beside(labels.collect(), corners.map(|corner| corner.x).collect(), rect);
        let font = FontId::proportional(12.0);
        for name in &names {
            let colour = if name.is_picked { self.paper.orange } else { self.paper.ink };
            painter.line_segment(
                [name.anchor, name.at],
                Stroke::new(2.6, self.paper.halo.gamma_multiply(0.7)),
            );
            painter.line_segment([name.anchor, name.at], Stroke::new(0.8, colour));
            painter.circle(name.anchor, 2.4, colour, Stroke::new(1.0, self.paper.halo));
            let (align, off) = if name.is_left {
                (Align2::RIGHT_CENTER, vec2(-4.0, 0.0))
            } else {
                (Align2::LEFT_CENTER, vec2(4.0, 0.0))
            };
            self.haloed(painter, name.at + off, align, &name.text, font.clone(), colour);
        }
    }

    /// A short line on the water at the front of each chamber, with its height.
    fn levels(
        &self,
        painter: &egui::Painter,
        model: &Model,
        camera: &Camera,
        project: &dyn Fn(DVec3) -> Option<Pos2>,
    ) {
        let system = if model.show.is_us { System::UsCustomary } else { System::Metric };
        let levels = self.state.levels(model);
        let plane = self.state.plane(model);
        // On the side of the chamber that is nearer to the eye.
        let from_front = camera.forward.y >= 0.0;
        for (basin, level) in model.show.basins.iter().zip(levels).filter(|(b, _)| b.is_chamber) {
            let z = model.show.floor_z_mm + level;
            let lo = basin.min_mm.extend(model.show.floor_z_mm);
            let Some([lo, hi]) = plane.keeps_of([lo, basin.max_mm.extend(z.max(lo.z + 1.0))])
            else {
                continue;
            };
            let y = if from_front { lo.y } else { hi.y };
            let at = DVec3::new(0.5 * (lo.x + hi.x), y, z);
            let half = DVec3::X * (0.25 * (hi.x - lo.x)).min(45.0);
            let (Some(a), Some(b), Some(middle)) =
                (project(at - half), project(at + half), project(at))
            else {
                continue;
            };
            let colour = self.paper.blue;
            painter.line_segment([a, b], Stroke::new(1.8, colour));
            let tip = middle + vec2(0.0, -1.0);
            let mark = vec![tip, tip + vec2(-5.0, -8.0), tip + vec2(5.0, -8.0)];
            painter.add(egui::Shape::convex_polygon(mark, colour, Stroke::NONE));
            let words = fit::length_words(level.round(), system);
            let at = tip + vec2(0.0, -10.0);
            self.haloed(
                painter,
                at,
                Align2::CENTER_BOTTOM,
                &words,
                FontId::proportional(11.5),
                colour,
            );
        }
    }

    /// Words that read on whatever is behind them.
    pub(super) fn haloed(
        &self,
        painter: &egui::Painter,
        at: Pos2,
        align: Align2,
        text: &str,
        font: FontId,
        colour: Color32,
    ) {
        let laid = painter.layout_no_wrap(text.to_owned(), font.clone(), self.paper.halo);
        let corner = align.anchor_size(at, laid.size()).min;
        let halo = self.paper.halo.gamma_multiply(0.8);
        for off in [
            (-1.2, 0.0),
            (1.2, 0.0),
            (0.0, -1.2),
            (0.0, 1.2),
            (-0.9, -0.9),
            (0.9, 0.9),
            (-0.9, 0.9),
            (0.9, -0.9),
        ] {
            painter.galley_with_override_text_color(
                corner + vec2(off.0, off.1),
                laid.clone(),
                halo,
            );
        }
        painter.galley_with_override_text_color(corner, laid, colour);
    }
}

/// Names beside the model, which reaches over `model_x`, none over another: those of the left half in a column on the left, the others on the
/// right.
fn beside(labels: Vec<(String, Pos2, bool)>, model_x: Vec<f32>, rect: egui::Rect) -> Vec<Name> {
    let xs = || labels.iter().map(|(_, anchor, _)| anchor.x).chain(model_x.iter().copied());
    let (least, most) = (xs().fold(f32::MAX, f32::min), xs().fold(f32::MIN, f32::max));
    let middle = 0.5 * (least + most);
    let columns = [
        (least - BESIDE_POINTS).max(rect.left() + 110.0),
        (most + BESIDE_POINTS).min(rect.right() - 110.0),
    ];
    let mut names: Vec<Name> = labels
        .into_iter()
        .map(|(text, anchor, is_picked)| {
            let is_left = anchor.x <= middle;
            let x = columns[usize::from(!is_left)];
            Name { text, anchor, at: pos2(x, anchor.y), is_left, is_picked }
        })
        .collect();
    for is_left in [true, false] {
        let mut column: Vec<&mut Name> =
            names.iter_mut().filter(|name| name.is_left == is_left).collect();
        column.sort_by(|a, b| a.anchor.y.total_cmp(&b.anchor.y));
        let ys: Vec<f32> = column.iter().map(|name| name.anchor.y).collect();
        for (name, y) in
            column.into_iter().zip(spread(&ys, rect.top() + 14.0, rect.bottom() - 14.0))
        {
            name.at.y = y;
        }
    }
    names
}

/// Heights near the wanted ones (in order), no two nearer than a line, between two limits as far as there is room.
fn spread(wanted: &[f32], top: f32, bottom: f32) -> Vec<f32> {
    let mut ys: Vec<f32> = Vec::with_capacity(wanted.len());
    for y in wanted {
        let least = ys.last().map_or(top, |last| last + LINE_POINTS);
        ys.push(y.max(least));
    }
    let mut most = bottom;
    for y in ys.iter_mut().rev() {
        *y = y.min(most);
        most = *y - LINE_POINTS;
    }
    ys
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_keep_apart_and_inside() {
        let ys = spread(&[10.0, 12.0, 13.0, 300.0, 395.0, 399.0], 20.0, 390.0);
        assert!(ys.windows(2).all(|pair| LINE_POINTS <= pair[1] - pair[0] + 1e-3), "{ys:?}");
        assert!(20.0 <= ys[0] && ys[5] <= 390.0, "{ys:?}");
        assert!((ys[3] - 300.0).abs() < 1e-3, "what has room stays: {ys:?}");
        assert_eq!(spread(&[], 0.0, 1.0), Vec::<f32>::new());
    }

    #[test]
    fn names_stand_on_their_side() {
        let rect = egui::Rect::from_min_max(pos2(0.0, 0.0), pos2(800.0, 600.0));
        let label = |x: f32| (format!("{x}"), pos2(x, 200.0), false);
        let names =
            beside(vec![label(300.0), label(440.0), label(500.0)], vec![250.0, 600.0], rect);
        let sides: Vec<bool> = names.iter().map(|name| name.is_left).collect();
        assert_eq!(sides, [true, false, false]);
        assert!(names[0].at.x < 250.0 && 600.0 < names[1].at.x);
    }
}

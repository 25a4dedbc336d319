//! How the panel that is picked bends, drawn over the model.

use eframe::egui::{self, Align2, Color32, FontId, Pos2, Rect, Stroke, vec2};
use glam::DVec3;
use scene::Lens;
use show::ThingId;

use super::App;
use super::paper::{bold, turned};
use crate::bent::{Bent, Spot};
use crate::model::Model;

/// Radius of the ring where it bends most, and half the cross where it is stressed most, points.
const MARK: f32 = 4.5;
/// A line shorter than this has no number, points.
const SHORT: f32 = 50.0;
/// Places along a line at which its number is tried.
const TRIED: usize = 24;
/// Other lines and words are at least so far from a number, points.
const CLEAR: f32 = 4.0;

impl App {
    /// What is known of how a body bends, while that is asked for.
    pub(super) fn bent<'a>(&self, model: &'a Model) -> Option<&'a Bent> {
        farthest(model, self.state.picked.filter(|_| self.state.has_bending)?)
    }

    /// In words, with what draws it and what looks straight at it.
    pub(super) fn bending_of(&mut self, ui: &mut egui::Ui, model: &Model, picked: usize) {
        let Some(bent) = farthest(model, picked) else { return };
        for bent in model.bent.iter().filter(|bent| bent.thing == picked) {
            ui.label(&bent.words);
        }
        ui.horizontal_wrapped(|ui| {
            turned(ui, &mut self.state.has_bending, "draw how it bends (S)");
            if ui.button("look straight at it").clicked() {
                self.state.look_at_panel(model, bent, self.frame);
            }
        });
    }

    pub(super) fn bending(&self, ui: &egui::Ui, rect: Rect, model: &Model) {
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
        // Where it is, also behind a sheet that is not clear.
        let [a, b, c, d] = bent.corners.map(project);
        for (from, to) in [(a, b), (b, c), (c, d), (d, a)] {
            let (Some(from), Some(to)) = (from, to) else { continue };
            painter.line_segment([from, to], Stroke::new(2.4, self.paper.halo));
            painter.line_segment([from, to], Stroke::new(0.8, self.paper.blue));
        }
        // In pieces: what is behind the eye is not seen.
        let lines: Vec<Vec<Option<Pos2>>> = bent
            .lines
            .iter()
            .map(|line| line.places.iter().map(|at| project(*at)).collect())
            .collect();
        for stroke in [Stroke::new(3.2, self.paper.halo), Stroke::new(1.3, self.paper.blue)] {
            for ends in lines.iter().flat_map(|line| line.windows(2)) {
                let &[Some(a), Some(b)] = ends else { continue };
                painter.line_segment([a, b], stroke);
            }
        }
        let mut taken = Vec::new();
        let spots = [(&bent.most, self.paper.blue), (&bent.stressed, self.paper.orange)];
        for (spot, _) in spots {
            let Some(at) = project(spot.at) else { continue };
            taken.push(Rect::from_center_size(at, egui::Vec2::splat(2.0 * MARK + 4.0)));
        }
        for (k, (spot, colour)) in spots.into_iter().enumerate() {
            let Some(at) = project(spot.at) else { continue };
            self.spot(&painter, rect, (spot, at, colour), k == 1, &mut taken);
        }
        for (own, line) in bent.lines.iter().enumerate() {
            let font = FontId::proportional(12.0);
            let laid = painter.layout_no_wrap(line.number.clone(), font.clone(), self.paper.blue);
            let Some(middle) = clearest(own, &lines, laid.size(), rect, &taken) else { continue };
            taken.push(Rect::from_center_size(middle, laid.size()));
            let colour = self.paper.blue;
            self.haloed(&painter, middle, Align2::CENTER_CENTER, &line.number, font, colour);
        }
    }

    /// A ring or a cross with its value beside it, where that meets nothing.
    fn spot(
        &self,
        painter: &egui::Painter,
        rect: Rect,
        (spot, at, colour): (&Spot, Pos2, Color32),
        is_cross: bool,
        taken: &mut Vec<Rect>,
    ) {
        if is_cross {
            for stroke in [Stroke::new(4.4, self.paper.halo), Stroke::new(2.2, colour)] {
                for arm in [vec2(MARK, MARK), vec2(MARK, -MARK)] {
                    painter.line_segment([at - arm, at + arm], stroke);
                }
            }
        } else {
            painter.circle(at, MARK + 2.5, self.paper.halo, Stroke::new(1.8, colour));
            painter.circle_filled(at, 1.8, colour);
        }
        let font = FontId::new(14.0, bold());
        let size = painter.layout_no_wrap(spot.value.clone(), font.clone(), colour).size();
        let (x, y) = (0.5 * size.x + 11.0, 0.5 * size.y + 9.0);
        let sides = [(0.0, -y), (0.0, y), (x, 0.0), (-x, 0.0), (x, -y), (-x, -y), (x, y), (-x, y)];
        let words = |(x, y): (f32, f32)| Rect::from_center_size(at + vec2(x, y), size);
        let is_clear = |own: &Rect| {
            rect.contains_rect(*own) && !taken.iter().any(|other| other.intersects(*own))
        };
        let own = sides.into_iter().map(words).find(is_clear).unwrap_or(words(sides[0]));
        taken.push(own);
        self.haloed(painter, own.center(), Align2::CENTER_CENTER, &spot.value, font, colour);
    }
}

/// How a body bends; of one that is held in two ways, the one in which it bends farther.
fn farthest(model: &Model, thing: ThingId) -> Option<&Bent> {
    let of_thing = model.bent.iter().filter(|bent| bent.thing == thing);
    of_thing.max_by(|a, b| a.most_mm.total_cmp(&b.most_mm))
}

/// Where on a line its number stands farthest from all else on the screen; nowhere when lines are too near each other.
fn clearest(
    own: usize,
    lines: &[Vec<Option<Pos2>>],
    size: egui::Vec2,
    rect: Rect,
    taken: &[Rect],
) -> Option<Pos2> {
    let line = lines.get(own)?;
    let lengths = line.windows(2).map(|ends| match ends {
        &[Some(a), Some(b)] => a.distance(b),
        _ => 0.0,
    });
    if lengths.sum::<f32>() < SHORT {
        return None;
    }
    let others = || lines.iter().enumerate().filter(|(k, _)| *k != own).flat_map(|(_, line)| line);
    let room = |at: Pos2| {
        let words = Rect::from_center_size(at, size);
        let from_lines = others().flatten().map(|p| words.distance_to_pos(*p));
        let from_words = taken.iter().map(|other| gap(*other, words));
        let least = from_lines.chain(from_words).fold(f32::INFINITY, f32::min);
        (rect.contains_rect(words) && CLEAR <= least).then_some((at, least))
    };
    let step = (line.len() / TRIED).max(1);
    let places = line.iter().flatten().step_by(step).filter_map(|at| room(*at));
    places.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(at, _)| at)
}

/// Between two boxes; nothing where they meet.
fn gap(a: Rect, b: Rect) -> f32 {
    let apart = (a.min - b.max).max(b.min - a.max);
    apart.max(egui::Vec2::ZERO).length()
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;

    #[test]
    fn a_number_stands_on_its_line_away_from_others_and_not_at_all_between_near_ones() {
        let upright = |x: f32| (0..=50).map(|k| Some(pos2(x, 4.0 * k as f32))).collect::<Vec<_>>();
        let rect = Rect::from_min_max(pos2(-100.0, 0.0), pos2(100.0, 200.0));
        let size = vec2(20.0, 12.0);
        let apart = [upright(0.0), upright(40.0)];
        let taken = [Rect::from_min_max(pos2(-20.0, 0.0), pos2(20.0, 120.0))];
        let at = clearest(0, &apart, size, rect, &taken).expect("there is room");
        assert!(at.x.abs() < 1e-3 && 126.0 < at.y, "{at}");
        let near = [upright(0.0), upright(8.0)];
        assert_eq!(clearest(0, &near, size, rect, &taken), None);
        assert!(gap(taken[0], Rect::from_center_size(pos2(0.0, 60.0), size)) < 1e-6);
    }
}

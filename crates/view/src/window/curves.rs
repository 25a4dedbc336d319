//! Levels over time, with what happens.

use eframe::egui::{self, Align2, Color32, FontId, Key, Modifiers, Pos2, Rect, Sense, Stroke};
use egui::{pos2, vec2};
use show::{Rehearsal, Show};
use units::System;

use super::labels::spread;
use super::paper::Paper;
use super::timeline::time;
use crate::timescale::Timescale;

/// Height of the strip, points: a line for every basin must find room beside it.
const HEIGHT: f32 = 132.0;
/// Of the display's own strip above it.
const DISPLAY_HEIGHT: f32 = 26.0;
/// Room for names and figures on the right and for figures on the left, and for instants below.
const RIGHT: f32 = 190.0;
const LEFT: f32 = 58.0;
const BELOW: f32 = 17.0;
/// Names closer than this run together.
const LINE: f32 = 12.5;
/// Ticks closer than this run together.
const TICK: f32 = 46.0;
/// A key steps so far along the strip.
const STEP: f64 = 0.02;

/// Told apart in light and dark, and by most who see few colours (our judgement).
const COLOURS: [Color32; 8] = [
    Color32::from_rgb(40, 130, 205),
    Color32::from_rgb(214, 116, 24),
    Color32::from_rgb(24, 150, 126),
    Color32::from_rgb(168, 104, 190),
    Color32::from_rgb(150, 142, 36),
    Color32::from_rgb(200, 84, 110),
    Color32::from_rgb(112, 128, 144),
    Color32::from_rgb(122, 150, 60),
];

/// What is drawn.
pub(super) struct Curves<'a> {
    pub(super) show: &'a Show,
    pub(super) rehearsal: &'a Rehearsal,
    pub(super) paper: Paper,
}

/// Where it is drawn, points.
struct Plot {
    rect: Rect,
    scale: Timescale,
    /// Height at the top, mm.
    most_mm: f64,
}

impl Plot {
    fn at(&self, t_s: f64, level_mm: f64) -> Pos2 {
        let share = glam::dvec2(self.scale.share(t_s), level_mm / self.most_mm).as_vec2();
        pos2(
            self.rect.left() + share.x * self.rect.width(),
            self.rect.bottom() - share.y * self.rect.height(),
        )
    }

    fn time(&self, at: Pos2) -> f64 {
        let share = f64::from((at.x - self.rect.left()) / self.rect.width().max(1.0));
        self.scale.time(share.clamp(0.0, 1.0))
    }
}

impl Curves<'_> {
    /// Draws all of it; the instant that was chosen, if one was.
    pub(super) fn draw(&self, ui: &mut egui::Ui, t_s: f64) -> Option<f64> {
        let size = vec2(ui.available_width(), HEIGHT + DISPLAY_HEIGHT + BELOW);
        let (all, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
        let levels = self.rehearsal.levels_mm.iter().flatten();
        let most_mm = 1.08 * levels.fold(1.0_f64, |most, level| most.max(*level));
        let rect =
            Rect::from_min_max(all.min + vec2(LEFT, DISPLAY_HEIGHT), all.max - vec2(RIGHT, BELOW));
        let plot = Plot { rect, scale: Timescale::of(self.rehearsal), most_mm };
        let painter = ui.painter();
        self.axes(painter, &plot);
        self.levels(painter, &plot, t_s);
        self.display(painter, &plot, t_s);
        self.events(painter, &plot, &response);
        let now = plot.at(t_s, 0.0).x;
        let line = [pos2(now, all.top()), pos2(now, rect.bottom())];
        painter.line_segment(line, Stroke::new(1.4, self.paper.orange));
        if response.clicked() || response.drag_started() {
            response.request_focus();
        }
        if response.has_focus() {
            let step = keys(ui, &response);
            if step.abs() > 0.0 {
                return Some(plot.scale.moved(t_s, step));
            }
        }
        response.interact_pointer_pos().map(|at| plot.time(at))
    }

    fn words(&self, mm: f64) -> String {
        if mm.abs() < 1e-9 {
            return if self.show.is_us { "0 in" } else { "0 mm" }.to_owned();
        }
        let system = if self.show.is_us { System::UsCustomary } else { System::Metric };
        fit::length_words(mm.round(), system)
    }

    fn axes(&self, painter: &egui::Painter, plot: &Plot) {
        let (font, pale) = (FontId::proportional(10.5), self.paper.pale_ink);
        let rule = Stroke::new(1.0, self.paper.rule);
        // Heights that read well in the file's units: of 50 mm or 2 in, twice that, and so on.
        let mut step = if self.show.is_us { 50.8 } else { 50.0 };
        while 4.0 * step < plot.most_mm {
            step *= 2.0;
        }
        let heights = (0..=4_u8).map(|k| f64::from(k) * step);
        for height in heights.take_while(|height| *height < plot.most_mm) {
            let at = plot.at(0.0, height).y;
            painter.line_segment([pos2(plot.rect.left(), at), pos2(plot.rect.right(), at)], rule);
            let place = pos2(plot.rect.left() - 5.0, at);
            painter.text(place, Align2::RIGHT_CENTER, self.words(height), font.clone(), pale);
        }
        let apart = f64::from(TICK / plot.rect.width().max(1.0));
        for tick in plot.scale.ticks(apart) {
            let at = plot.at(plot.scale.time(tick.share), 0.0);
            painter.line_segment([at, at + vec2(0.0, 4.0)], Stroke::new(1.0, pale));
            let place = at + vec2(0.0, 5.0);
            painter.text(place, Align2::CENTER_TOP, tick.words, font.clone(), pale);
        }
    }

    /// The level of every basin, and its name with what it is now.
    fn levels(&self, painter: &egui::Painter, plot: &Plot, t_s: f64) {
        let font = FontId::proportional(10.5);
        let mut names = Vec::new();
        for (k, levels) in self.rehearsal.levels_mm.iter().enumerate() {
            let colour = COLOURS[k % COLOURS.len()];
            curve(painter, plot, &self.rehearsal.times_s, levels, colour);
            let (Some(basin), Some(last)) = (self.show.basins.get(k), levels.last()) else {
                continue;
            };
            let end = pos2(plot.rect.right(), plot.at(0.0, *last).y);
            let words = self.words(self.rehearsal.at(levels, t_s));
            names.push((end, format!("{}  {words}", basin.name), colour));
        }
        names.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
        let wanted: Vec<f32> = names.iter().map(|(end, ..)| end.y).collect();
        let (top, bottom) = (plot.rect.top() - 4.0, plot.rect.bottom() + BELOW - 8.0);
        let ys = spread(&wanted, LINE, top, bottom);
        for ((end, words, colour), y) in names.into_iter().zip(ys) {
            let at = pos2(end.x + 14.0, y);
            painter.line_segment([end, at], Stroke::new(0.8, colour));
            let place = at + vec2(3.0, 0.0);
            painter.text(place, Align2::LEFT_CENTER, words, font.clone(), colour);
        }
    }

    /// The display's level on a strip of its own: it stands elsewhere, and a few millimetres of it matter.
    fn display(&self, painter: &egui::Painter, plot: &Plot, t_s: f64) {
        let levels = &self.rehearsal.display_mm;
        let least = levels.iter().copied().fold(f64::INFINITY, f64::min);
        let most = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if levels.is_empty() || !least.is_finite() {
            return;
        }
        // Less than a few millimetres of change stay flat.
        let range = (most - least).max(4.0);
        let rect = Rect::from_min_max(
            pos2(plot.rect.left(), plot.rect.top() - DISPLAY_HEIGHT + 2.0),
            pos2(plot.rect.right(), plot.rect.top() - 8.0),
        );
        let scaled: Vec<f64> = levels.iter().map(|level| (level - least) / range).collect();
        let own = Plot { rect, scale: plot.scale.clone(), most_mm: 1.0 };
        let ink = self.paper.ink;
        curve(painter, &own, &self.rehearsal.times_s, &scaled, ink);
        let font = FontId::proportional(10.5);
        let place = rect.left_center() - vec2(5.0, 0.0);
        painter.text(place, Align2::RIGHT_CENTER, "display", font.clone(), ink);
        let now = self.words(self.rehearsal.at(levels, t_s));
        let words = format!("{now}, of {} to {}", self.words(least), self.words(most));
        painter.text(rect.right_center() + vec2(17.0, 0.0), Align2::LEFT_CENTER, words, font, ink);
    }

    /// Marks where something happens, with its words under the pointer.
    fn events(&self, painter: &egui::Painter, plot: &Plot, response: &egui::Response) {
        const NEAR: f32 = 6.0;
        let colour = self.paper.orange;
        let pointed = response.hover_pos();
        let mut words = Vec::new();
        for event in &self.rehearsal.events {
            let foot = plot.at(event.t_s, 0.0);
            let line = [pos2(foot.x, plot.rect.top()), foot];
            painter.line_segment(line, Stroke::new(0.8, colour.gamma_multiply(0.5)));
            let mark = vec![foot, foot + vec2(-4.0, 6.0), foot + vec2(4.0, 6.0)];
            painter.add(egui::Shape::convex_polygon(mark, colour, Stroke::NONE));
            if pointed.is_some_and(|at| (at.x - foot.x).abs() < NEAR) {
                words.push(format!("{}: {}", time(event.t_s), event.words));
            }
        }
        if words.is_empty() {
            let Some(at) = pointed.filter(|at| plot.rect.x_range().contains(at.x)) else { return };
            words.push(time(plot.time(at)));
        }
        response.clone().on_hover_text_at_pointer(words.join("\n"));
    }
}

fn curve(painter: &egui::Painter, plot: &Plot, times: &[f64], values: &[f64], colour: Color32) {
    let points: Vec<Pos2> = times.iter().zip(values).map(|(t, v)| plot.at(*t, *v)).collect();
    // What falls onto one pixel is one point.
    let mut some: Vec<Pos2> = Vec::new();
    for point in points {
        if some.last().is_none_or(|last| 0.3 < (point - *last).abs().max_elem()) {
            some.push(point);
        }
    }
    painter.add(egui::Shape::line(some, Stroke::new(1.6, colour)));
}

/// How far the arrow keys step while the strip has the focus.
fn keys(ui: &egui::Ui, response: &egui::Response) -> f64 {
    let filter = egui::EventFilter { horizontal_arrows: true, ..egui::EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let count = |key| {
        let pressed = ui.input_mut(|input| input.count_and_consume_key(Modifiers::NONE, key));
        f64::from(u32::try_from(pressed).unwrap_or(0))
    };
    STEP * (count(Key::ArrowRight) - count(Key::ArrowLeft))
}

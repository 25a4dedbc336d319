//! The strip below while something plays.

use eframe::egui::{self, Color32, Sense, Stroke, pos2};
use show::Rehearsal;

use super::App;
use crate::state::{Playing, name_of, rehearsal};

/// Choices of speed for what people do, in times.
const SPEEDS: [f64; 4] = [0.5, 1.0, 2.0, 4.0];

impl App {
    pub(super) fn timeline(&mut self, ui: &mut egui::Ui) {
        let (Some(model), Some(play)) = (self.model.clone(), &mut self.state.play) else { return };
        let paper = self.paper;
        let mut is_closed = false;
        paper.card().show(ui, |ui| {
            ui.horizontal(|ui| {
                let name = name_of(&model, play.what).unwrap_or_default();
                ui.heading(name);
                if let Some((step, words)) = play.course.at(play.clock.t_s) {
                    let undo = step.undo.as_deref().filter(|_| !play.clock.is_backwards);
                    let told = undo.map_or(words.clone(), |undo| format!("{undo}; {words}"));
                    ui.label(
                        egui::RichText::new(format!("{}: {told}", step.name)).color(paper.orange),
                    );
                    ui.label(paper.pale(format!("least gap {}", step.least_gap)));
                } else if let Some(rehearsal) = rehearsal(&model, play.what) {
                    let t = play.clock.t_s;
                    let last = rehearsal.events.iter().rev().find(|event| event.t_s <= t);
                    let words = last.map_or(rehearsal.words.as_str(), |event| event.words.as_str());
                    ui.label(egui::RichText::new(words).color(paper.orange));
                    ui.label(paper.pale(spilled(rehearsal, t)));
                }
            });
            ui.horizontal(|ui| {
                let is_running = play.clock.is_running;
                if ui.button(if is_running { "pause" } else { "play" }).clicked() {
                    play.clock.toggle();
                }
                if ui.button("back").clicked() {
                    play.clock.go_back();
                }
                let mut t = play.clock.t_s;
                let [begin, end] = play.clock.span_s;
                ui.spacing_mut().slider_width = (ui.available_width() - 290.0).max(80.0);
                let slider = egui::Slider::new(&mut t, begin..=end).show_value(false);
                if ui.add(slider).changed() {
                    play.clock.is_running = false;
                    play.clock.set(t);
                }
                ui.label(time(play.clock.t_s));
                if !matches!(play.what, Playing::Rehearsal(_)) {
                    for speed in SPEEDS {
                        let is_it = (play.clock.speed - speed).abs() < 1e-9;
                        if ui.selectable_label(is_it, format!("×{speed}")).clicked() {
                            play.clock.speed = speed;
                        }
                    }
                }
                is_closed = ui.button("close").clicked();
            });
            if let Some(rehearsal) = rehearsal(&model, play.what) {
                let names: Vec<&str> =
                    model.show.basins.iter().map(|basin| basin.name.as_str()).collect();
                if let Some(t) = curves(ui, rehearsal, &names, play.clock.t_s, paper.pale_ink) {
                    play.clock.is_running = false;
                    play.clock.set(t);
                }
            }
        });
        if is_closed {
            self.state.play = None;
        }
    }
}

/// `1 min 20 s`.
fn time(t_s: f64) -> String {
    let s = t_s.abs().round();
    let sign = if t_s < -0.5 { "−" } else { "" };
    let (h, min) = ((s / 3600.0).floor(), (s % 3600.0 / 60.0).floor());
    match (h > 0.0, min > 0.0) {
        (true, _) => format!("{sign}{h} h {min} min"),
        (false, true) => format!("{sign}{min} min {:.0} s", s % 60.0),
        (false, false) => format!("{sign}{s:.0} s"),
    }
}

/// What lies on the floor at an instant.
fn spilled(rehearsal: &Rehearsal, t_s: f64) -> String {
    let [sump, display] = &rehearsal.spilled_l;
    let litres = rehearsal.at(sump, t_s) + rehearsal.at(display, t_s);
    if litres < 0.05 {
        "nothing on the floor".to_owned()
    } else {
        format!("{litres:.1} L on the floor")
    }
}

/// The level of every basin over time; the instant that was pointed at, if one was.
fn curves(
    ui: &mut egui::Ui,
    rehearsal: &Rehearsal,
    names: &[&str],
    t_s: f64,
    pale: Color32,
) -> Option<f64> {
    let size = egui::vec2(ui.available_width(), 84.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
    let (begin, end) = rehearsal.times_s.first().copied().zip(rehearsal.times_s.last().copied())?;
    let most = rehearsal.levels_mm.iter().flatten().fold(1.0_f64, |most, level| most.max(*level));
    let share = |t: f64| (t - begin) / (end - begin).max(1e-9);
    let place = |t: f64, level: f64| {
        let at = glam::dvec2(share(t), 1.0 - level / most).as_vec2();
        pos2(rect.left() + at.x * rect.width(), rect.top() + at.y * rect.height())
    };
    let painter = ui.painter();
    painter.line_segment([rect.left_bottom(), rect.right_bottom()], Stroke::new(1.0, pale));
    for (k, levels) in rehearsal.levels_mm.iter().enumerate() {
        let colour = CURVES[k % CURVES.len()];
        let points = rehearsal.times_s.iter().zip(levels).map(|(t, level)| place(*t, *level));
        painter.add(egui::Shape::line(points.collect(), Stroke::new(1.6, colour)));
        if let (Some(name), Some(last)) = (names.get(k), levels.last()) {
            let at = place(end, *last) + egui::vec2(-4.0, -2.0);
            let font = egui::FontId::proportional(10.5);
            painter.text(at, egui::Align2::RIGHT_BOTTOM, name, font, colour);
        }
    }
    let now = place(t_s, 0.0).x;
    painter.line_segment([pos2(now, rect.top()), pos2(now, rect.bottom())], Stroke::new(1.2, pale));
    let at = response.interact_pointer_pos()?;
    let pointed = f64::from((at.x - rect.left()) / rect.width().max(1.0));
    Some(begin + pointed * (end - begin))
}

/// Told apart in light and dark, and by most who see few colours (our judgement).
const CURVES: [Color32; 6] = [
    Color32::from_rgb(30, 120, 190),
    Color32::from_rgb(206, 110, 20),
    Color32::from_rgb(20, 140, 120),
    Color32::from_rgb(150, 90, 170),
    Color32::from_rgb(150, 140, 30),
    Color32::from_rgb(120, 130, 140),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_people_say_them() {
        for (t_s, words) in [
            (0.0, "0 s"),
            (59.6, "1 min 0 s"),
            (80.0, "1 min 20 s"),
            (-5.0, "−5 s"),
            (7265.0, "2 h 1 min"),
        ] {
            assert_eq!(time(t_s), words);
        }
    }
}

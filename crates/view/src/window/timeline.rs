//! The strip below while something plays.

use eframe::egui;
use show::Rehearsal;
use units::System;

use super::App;
use super::curves::Curves;
use super::paper::{Paper, switch};
use crate::clock::Clock;
use crate::spill::Spill;
use crate::state::{name_of, rehearsal};

/// Choices of speed for what people do, in times.
const SPEEDS: [f64; 4] = [0.5, 1.0, 2.0, 4.0];

impl App {
    pub(super) fn timeline(&mut self, ui: &mut egui::Ui) {
        let Some(model) = self.model.clone() else { return };
        let spill = self.spill(&model);
        let Some(play) = &mut self.state.play else { return };
        let paper = self.paper;
        let mut is_closed = false;
        paper.card().show(ui, |ui| {
            // As wide as the model, whatever is told in it: else what is dragged would move under the pointer.
            ui.set_width(ui.available_width());
            ui.horizontal_wrapped(|ui| {
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
                    let words = happening(rehearsal, play.clock.t_s);
                    ui.label(egui::RichText::new(words).color(paper.orange));
                }
            });
            match rehearsal(&model, play.what) {
                Some(rehearsal) => {
                    ui.horizontal_wrapped(|ui| {
                        run(ui, &mut play.clock);
                        ui.label(time(play.clock.t_s));
                        for words in running(rehearsal, play.clock.t_s, model.show.is_us) {
                            ui.label(paper.pale(words));
                        }
                        if let Some(spill) = &spill {
                            ui.label(paper.pale(sheet(spill, model.show.is_us)));
                        }
                        is_closed = ui.button("close").clicked();
                    });
                }
                None => {
                    ui.horizontal(|ui| {
                        run(ui, &mut play.clock);
                        is_closed = slide(ui, &mut play.clock);
                    });
                }
            }
            if let Some(rehearsal) = rehearsal(&model, play.what) {
                let pointed = happenings(ui, rehearsal, play.clock.t_s, paper);
                let curves = Curves { show: &model.show, rehearsal, paper };
                if let Some(t) = curves.draw(ui, play.clock.t_s).or(pointed) {
                    play.clock.stand_at(t);
                }
            }
        });
        if is_closed {
            self.state.stop();
        }
    }
}

/// On and back.
fn run(ui: &mut egui::Ui, clock: &mut Clock) {
    if ui.button(if clock.is_running { "pause" } else { "play" }).clicked() {
        clock.toggle();
    }
    if ui.button("back").clicked() {
        clock.go_back();
    }
}

/// The slider of what people do, with its speeds at its right; whether it was closed.
fn slide(ui: &mut egui::Ui, clock: &mut Clock) -> bool {
    let from_right = egui::Layout::right_to_left(egui::Align::Center);
    let row = ui.with_layout(from_right, |ui| {
        let is_closed = ui.button("close").clicked();
        for speed in SPEEDS.into_iter().rev() {
            let is_it = (clock.speed - speed).abs() < 1e-9;
            if switch(ui, is_it, format!("×{speed}")).clicked() {
                clock.speed = speed;
            }
        }
        ui.label(time(clock.t_s));
        let mut t = clock.t_s;
        let [begin, end] = clock.span_s;
        ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(60.0);
        if ui.add(egui::Slider::new(&mut t, begin..=end).show_value(false)).changed() {
            clock.stand_at(t);
        }
        is_closed
    });
    row.inner
}

/// `1 min 20 s`.
pub(super) fn time(t_s: f64) -> String {
    let s = t_s.abs().round();
    let sign = if t_s < -0.5 { "−" } else { "" };
    let (h, min) = ((s / 3600.0).floor(), (s % 3600.0 / 60.0).floor());
    match (h > 0.0, min > 0.0) {
        (true, _) => format!("{sign}{h} h {min} min"),
        (false, true) => format!("{sign}{min} min {:.0} s", s % 60.0),
        (false, false) => format!("{sign}{s:.0} s"),
    }
}

/// Everything that happens, with when, what is over in ink; the instant of the one that was chosen.
fn happenings(ui: &mut egui::Ui, rehearsal: &Rehearsal, t_s: f64, paper: Paper) -> Option<f64> {
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(14.0, 1.0);
        for event in &rehearsal.events {
            let colour = if event.t_s <= t_s { paper.ink } else { paper.pale_ink };
            let words = format!("{}  {}", time(event.t_s), event.words);
            let words = egui::RichText::new(words).small().color(colour);
            if ui.add(egui::Button::new(words).frame(false)).clicked() {
                chosen = Some(event.t_s);
            }
        }
    });
    chosen
}

/// What happened last, and at the end what came of it.
fn happening(rehearsal: &Rehearsal, t_s: f64) -> &str {
    if rehearsal.times_s.last().is_some_and(|end| *end <= t_s) {
        return &rehearsal.verdict;
    }
    let last = rehearsal.events.iter().rev().find(|event| event.t_s <= t_s);
    last.map_or(rehearsal.words.as_str(), |event| event.words.as_str())
}

/// What every pump and drain carries at an instant, and what lies on the floor.
fn running(rehearsal: &Rehearsal, t_s: f64, is_us: bool) -> Vec<String> {
    let flow = |flow: &show::Flows| {
        let words = flow_words(rehearsal.at(&flow.l_h, t_s), is_us);
        format!("{} {}", flow.name, words)
    };
    let mut words: Vec<String> = rehearsal.flows.iter().map(flow).collect();
    words.push(spilled(rehearsal, t_s, is_us));
    words
}

/// Litres in a US gallon: 231 in³ of 25.4 mm, exact. NIST SP 811 (2008), B.8.
const L_PER_GAL: f64 = 3.785_411_784;

/// A flow with a sign that reads without colour: `● 2500 L/h`, `○ stands`, `◐ 40 L/h back`.
pub(super) fn flow_words(l_h: f64, is_us: bool) -> String {
    let (value, unit) = if is_us { (l_h / L_PER_GAL, "gph") } else { (l_h, "L/h") };
    match value {
        v if v.abs() < 0.5 => "○ stands".to_owned(),
        v if v < 0.0 => format!("◐ {:.0} {unit} back", -v),
        v => format!("● {v:.0} {unit}"),
    }
}

/// What lies on the floor at an instant.
fn spilled(rehearsal: &Rehearsal, t_s: f64, is_us: bool) -> String {
    let [sump, display] = &rehearsal.spilled_l;
    let words = |values: &Vec<f64>, where_: &str| {
        let litres = rehearsal.at(values, t_s);
        let (value, unit) = if is_us { (litres / L_PER_GAL, "gal") } else { (litres, "L") };
        (litres >= 0.05).then(|| format!("{value:.1} {unit} on the floor under the {where_}"))
    };
    let told: Vec<String> =
        [words(sump, "sump"), words(display, "display")].into_iter().flatten().collect();
    if told.is_empty() { "nothing on the floor".to_owned() } else { told.join(", ") }
}

/// How the water under the sump is drawn.
fn sheet(spill: &Spill, is_us: bool) -> String {
    let system = if is_us { System::UsCustomary } else { System::Metric };
    let depth = fit::length_words(spill.depth_mm.round(), system);
    // A square foot is 144 in² of 25.4 mm, exact.
    let area = if is_us {
        format!("{:.1} sq ft", spill.area_m2 / 0.092_903_04)
    } else {
        format!("{:.2} m²", spill.area_m2)
    };
    if spill.is_in_cabinet {
        format!("({depth} deep at most over the {area} of the cabinet's floor that are free)")
    } else {
        format!("(drawn over {area}: the file has no cabinet)")
    }
}

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

    #[test]
    fn flows_read_in_the_units_of_the_file() {
        assert_eq!(flow_words(2500.4, false), "● 2500 L/h");
        assert_eq!(flow_words(3785.4, true), "● 1000 gph");
        assert_eq!(flow_words(0.2, false), "○ stands");
        assert_eq!(flow_words(-40.0, false), "◐ 40 L/h back");
    }
}

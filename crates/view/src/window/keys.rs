//! What keys do.

use eframe::egui::{self, Key, Modifiers};
use glam::dvec2;
use show::Group;

use super::App;
use crate::cut::Axis;
use crate::orbit::Side;

/// Every key with what it does, for the help page.
pub(super) const KEYS: &[(&str, &str)] = &[
    ("1 to 6", "look from the corner, the front, the back, the inlet end, the far end, above"),
    ("0", "bring everything into view"),
    ("arrows", "turn; with Shift move"),
    ("+ and −", "nearer and farther"),
    ("P", "lines of sight through one point, or parallel"),
    ("X", "cut: across, along, level, not at all"),
    (", and .", "move the cut"),
    ("W  N  V", "water, names, level marks on or off"),
    ("L", "what lifts out above its place"),
    ("E  U  C", "equipment, plumbing, cabinet on or off"),
    ("T", "take the picked part out, or put it back"),
    ("Space", "play or pause"),
    ("B", "play backwards"),
    ("Escape", "stop playing, let go of what is picked, close this page"),
    ("D", "light or dark"),
    ("Tab, Space", "go through the cards, press"),
    ("H or F1", "this page"),
];

/// A key turns as a drag of so many px does.
const TURN_PX: f64 = 30.0;
/// A key goes nearer by this factor.
const NEARER: f64 = 1.15;

impl App {
    pub(super) fn keys(&mut self, ctx: &egui::Context) {
        let is_pressed = |key: Key| ctx.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        if is_pressed(Key::H) || is_pressed(Key::F1) {
            self.has_help = !self.has_help;
        }
        if is_pressed(Key::D) {
            self.paper = self.paper.other();
        }
        if is_pressed(Key::Escape) {
            self.escape();
        }
        self.keys_of_view(ctx);
        self.keys_of_parts(ctx);
    }

    fn escape(&mut self) {
        if self.has_help {
            self.has_help = false;
        } else if self.state.play.is_some() {
            self.state.play = None;
        } else {
            self.state.picked = None;
        }
    }

    fn keys_of_view(&mut self, ctx: &egui::Context) {
        let Some(model) = self.model.clone() else { return };
        let before = self.state.orbit;
        let is_pressed = |key: Key| ctx.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let numbers = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6];
        for (key, side) in numbers.into_iter().zip(Side::ALL) {
            if is_pressed(key) {
                self.state.look_from(side.direction(), &model, self.frame);
            }
        }
        if is_pressed(Key::Num0) {
            self.state.look_at_all(&model, self.frame);
        }
        if is_pressed(Key::P) {
            self.state.orbit = self.state.orbit.with_other_lens();
        }
        let nearer = |orbit: crate::orbit::Orbit, factor| {
            orbit.zoomed(factor, 0.5 * (self.frame.min + self.frame.max), self.frame)
        };
        if is_pressed(Key::Plus) || is_pressed(Key::Equals) {
            self.state.orbit = nearer(self.state.orbit, NEARER);
        }
        if is_pressed(Key::Minus) {
            self.state.orbit = nearer(self.state.orbit, 1.0 / NEARER);
        }
        // With a card's button in focus arrows go through the cards.
        if ctx.memory(|memory| memory.focused().is_none()) {
            let arrows = [
                (Key::ArrowLeft, dvec2(-1.0, 0.0)),
                (Key::ArrowRight, dvec2(1.0, 0.0)),
                (Key::ArrowUp, dvec2(0.0, -1.0)),
                (Key::ArrowDown, dvec2(0.0, 1.0)),
            ];
            for (key, way) in arrows {
                let with = |modifiers| ctx.input_mut(|input| input.consume_key(modifiers, key));
                if with(Modifiers::SHIFT) {
                    self.state.orbit = self.state.orbit.panned(-way * TURN_PX, self.frame);
                } else if with(Modifiers::NONE) {
                    self.state.orbit = self.state.orbit.turned(way * TURN_PX, self.frame.size().y);
                }
            }
        }
        if self.state.orbit != before {
            self.note_motion(ctx);
        }
    }

    fn keys_of_parts(&mut self, ctx: &egui::Context) {
        let is_pressed = |key: Key| ctx.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let state = &mut self.state;
        for (key, group) in
            [(Key::E, Group::Equipment), (Key::U, Group::Plumbing), (Key::C, Group::Cabinet)]
        {
            if is_pressed(key) && !state.off.remove(&group) {
                state.off.insert(group);
            }
        }
        let flags = [
            (Key::W, &mut state.has_water),
            (Key::N, &mut state.has_names),
            (Key::V, &mut state.has_levels),
            (Key::L, &mut state.is_lifted),
        ];
        for (key, flag) in flags {
            if is_pressed(key) {
                *flag = !*flag;
            }
        }
        if is_pressed(Key::X) {
            state.cut.axis = match state.cut.axis {
                None => Some(Axis::Along),
                Some(Axis::Along) => Some(Axis::Front),
                Some(Axis::Front) => Some(Axis::Up),
                Some(Axis::Up) => None,
            };
        }
        for (key, by) in [(Key::Comma, -0.02), (Key::Period, 0.02)] {
            if is_pressed(key) {
                state.cut.share = (state.cut.share + by).clamp(0.0, 1.0);
            }
        }
        if let Some(play) = &mut state.play {
            if ctx.memory(|memory| memory.focused().is_none()) && is_pressed(Key::Space) {
                play.clock.toggle();
            }
            if is_pressed(Key::B) {
                play.clock.go_back();
            }
        }
        if is_pressed(Key::T) {
            self.take_out_picked();
        }
    }
}

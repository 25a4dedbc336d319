//! What keys do, by the [`TABLE`] from which the help page is written as well.

mod table;

use eframe::egui::{self, Key};

use super::App;
use crate::cut::Axis;
use crate::model::Model;
use table::{Does, Flag};
pub(super) use table::{OF_CARDS, TABLE};

/// A key turns as a drag of so many px does.
const TURN_PX: f64 = 30.0;

impl App {
    pub(super) fn keys(&mut self, ctx: &egui::Context) {
        let focused = ctx.memory(egui::Memory::focused);
        let is_models = focused.is_none() || focused == self.pane_id;
        for row in TABLE {
            for (modifiers, key, does) in row.keys {
                // What a focused button or slider answers itself is left to it.
                let is_theirs = matches!(
                    key,
                    Key::Space
                        | Key::Enter
                        | Key::ArrowLeft
                        | Key::ArrowRight
                        | Key::ArrowUp
                        | Key::ArrowDown
                );
                if is_theirs && !is_models {
                    continue;
                }
                // In a slow frame a key may come more than once.
                let times = ctx.input_mut(|input| input.count_and_consume_key(*modifiers, *key));
                for _ in 0..times {
                    self.act(ctx, *does);
                }
            }
        }
    }

    /// Does what a key says.
    fn act(&mut self, ctx: &egui::Context, does: Does) {
        match does {
            Does::Help => self.has_help = !self.has_help,
            Does::Dark => self.paper = self.paper.other(),
            Does::Escape => self.escape(),
            _ => {
                if let Some(model) = self.model.clone() {
                    let before = self.state.orbit;
                    self.act_on(&model, does);
                    if self.state.orbit != before {
                        ctx.request_repaint();
                    }
                }
            }
        }
    }

    fn escape(&mut self) {
        let state = &mut self.state;
        if self.has_help {
            self.has_help = false;
        } else if !state.measuring.spots.is_empty() {
            state.measuring.clear();
        } else if state.measuring.is_on {
            state.measuring.is_on = false;
        } else if state.plays() {
            state.stop();
        } else if state.tour.is_some() {
            state.leave_tour();
        } else {
            state.picked = None;
        }
    }

    fn act_on(&mut self, model: &Model, does: Does) {
        let frame = self.frame;
        let middle = 0.5 * (frame.min + frame.max);
        let state = &mut self.state;
        match does {
            Does::Help | Does::Dark | Does::Escape => {}
            Does::Look(side) => state.look_from(side.direction(), model, frame),
            Does::LookAtAll => state.look_at_all(model, frame),
            Does::Lens => state.orbit = state.orbit.with_other_lens(),
            Does::Turn(way) => state.orbit = state.orbit.turned(way * TURN_PX, frame.size().y),
            Does::Move(way) => state.orbit = state.orbit.panned(-way * TURN_PX, frame),
            Does::Zoom(factor) => state.orbit = state.orbit.zoomed(factor, middle, frame),
            Does::Show(flag) => {
                let flag = match flag {
                    Flag::Water => &mut state.has_water,
                    Flag::Names => &mut state.has_names,
                    Flag::Levels => &mut state.has_levels,
                    Flag::Lifted => &mut state.is_lifted,
                    Flag::Bending => &mut state.has_bending,
                };
                *flag = !*flag;
            }
            Does::Toggle(group) => {
                if !state.off.remove(&group) {
                    state.off.insert(group);
                }
            }
            Does::CutAxis => {
                state.cut.axis = match state.cut.axis {
                    None => Some(Axis::Along),
                    Some(Axis::Along) => Some(Axis::Front),
                    Some(Axis::Front) => Some(Axis::Up),
                    Some(Axis::Up) => None,
                };
            }
            Does::CutFlip => state.cut.is_flipped = !state.cut.is_flipped,
            Does::CutMove(by) => state.cut.share = (state.cut.share + by).clamp(0.0, 1.0),
            Does::NextPart { is_backwards } => {
                state.pick_next(model, is_backwards);
                self.cards.to_top = true;
            }
            Does::TakeOut if state.measuring.is_on => {
                let camera = state.orbit.camera(frame);
                state.click_to_measure(model, &camera, middle);
            }
            Does::TakeOut => self.take_out_picked(),
            Does::OtherLeaf => {
                let of_picked = state.picked.and_then(|thing| model.slot_of(thing));
                state.next_leaf(model, of_picked.unwrap_or(0));
                if let Some(slot) = of_picked {
                    self.pick_standing(model, slot);
                }
            }
            Does::BackToFile => state.back_to_file(model),
            Does::NextStop { is_backwards } => {
                state.next_stop(model, is_backwards, frame);
                self.cards.open_tour();
            }
            Does::Measure => {
                state.measuring.is_on = !state.measuring.is_on;
                state.measuring.clear();
                self.cards.to_top = true;
            }
            Does::Play | Does::PlayBack | Does::NextStep | Does::StepBefore => {
                let Some(play) = &mut state.play else { return };
                match does {
                    Does::Play => play.clock.toggle(),
                    Does::PlayBack => play.clock.go_back(),
                    Does::NextStep => play.next_step(),
                    _ => play.step_before(),
                }
            }
        }
    }
}

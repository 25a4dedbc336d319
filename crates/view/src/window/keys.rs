//! What keys do: one table, from which the help page is written as well.

use eframe::egui::{self, Key, Modifiers};
use glam::{DVec2, dvec2};
use show::Group;

use super::App;
use crate::cut::Axis;
use crate::model::Model;
use crate::orbit::Side;

/// Keys that belong together, and what they do.
pub(super) struct Row {
    /// Keys, with what each does.
    pub(super) keys: &'static [(Modifiers, Key, Does)],
    /// What they do, in words.
    pub(super) words: &'static str,
}

/// What one key does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Does {
    Help,
    Dark,
    Escape,
    Look(Side),
    LookAtAll,
    Lens,
    /// Turns by so many times [`TURN_PX`].
    Turn(DVec2),
    /// Moves by as much.
    Move(DVec2),
    /// Goes nearer by a factor.
    Zoom(f64),
    Show(Flag),
    Toggle(Group),
    CutAxis,
    CutFlip,
    /// Moves the cut by a share.
    CutMove(f64),
    NextPart {
        is_backwards: bool,
    },
    TakeOut,
    OtherLeaf,
    BackToFile,
    Measure,
    Play,
    PlayBack,
    NextStep,
    StepBefore,
}

/// What is on or off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Flag {
    Water,
    Names,
    Levels,
    Lifted,
}

const PLAIN: Modifiers = Modifiers::NONE;
const SHIFT: Modifiers = Modifiers::SHIFT;
/// A key moves the cut by this share of the sump.
const CUT_STEP: f64 = 0.02;
/// A key turns as a drag of so many px does.
const TURN_PX: f64 = 30.0;
/// A key goes nearer by this factor.
const NEARER: f64 = 1.15;
const LEFT: DVec2 = dvec2(-1.0, 0.0);
const RIGHT: DVec2 = dvec2(1.0, 0.0);
const UP: DVec2 = dvec2(0.0, -1.0);
const DOWN: DVec2 = dvec2(0.0, 1.0);

/// Every key.
pub(super) const TABLE: &[Row] = &[
    Row {
        keys: &[
            (PLAIN, Key::Num1, Does::Look(Side::ALL[0])),
            (PLAIN, Key::Num2, Does::Look(Side::ALL[1])),
            (PLAIN, Key::Num3, Does::Look(Side::ALL[2])),
            (PLAIN, Key::Num4, Does::Look(Side::ALL[3])),
            (PLAIN, Key::Num5, Does::Look(Side::ALL[4])),
            (PLAIN, Key::Num6, Does::Look(Side::ALL[5])),
        ],
        words: "look from the corner, front, back, inlet end, far end, above",
    },
    Row { keys: &[(PLAIN, Key::Num0, Does::LookAtAll)], words: "bring everything into view" },
    // With Shift first: a key alone is meant by its name with any of them.
    Row {
        keys: &[
            (SHIFT, Key::ArrowLeft, Does::Move(LEFT)),
            (SHIFT, Key::ArrowRight, Does::Move(RIGHT)),
            (SHIFT, Key::ArrowUp, Does::Move(UP)),
            (SHIFT, Key::ArrowDown, Does::Move(DOWN)),
        ],
        words: "move",
    },
    Row {
        keys: &[
            (PLAIN, Key::ArrowLeft, Does::Turn(LEFT)),
            (PLAIN, Key::ArrowRight, Does::Turn(RIGHT)),
            (PLAIN, Key::ArrowUp, Does::Turn(UP)),
            (PLAIN, Key::ArrowDown, Does::Turn(DOWN)),
        ],
        words: "turn",
    },
    Row {
        keys: &[
            (PLAIN, Key::Plus, Does::Zoom(NEARER)),
            (PLAIN, Key::Equals, Does::Zoom(NEARER)),
            (PLAIN, Key::Minus, Does::Zoom(1.0 / NEARER)),
        ],
        words: "nearer, nearer, farther",
    },
    Row {
        keys: &[(PLAIN, Key::O, Does::Lens)],
        words: "lines of sight parallel, or through one point",
    },
    Row { keys: &[(PLAIN, Key::X, Does::CutAxis)], words: "cut: across, along, level, not at all" },
    Row {
        keys: &[
            (PLAIN, Key::Comma, Does::CutMove(-CUT_STEP)),
            (PLAIN, Key::Period, Does::CutMove(CUT_STEP)),
            (PLAIN, Key::F, Does::CutFlip),
        ],
        words: "move the cut back, on; keep its other side",
    },
    Row {
        keys: &[
            (PLAIN, Key::W, Does::Show(Flag::Water)),
            (PLAIN, Key::A, Does::Show(Flag::Names)),
            (PLAIN, Key::V, Does::Show(Flag::Levels)),
            (PLAIN, Key::L, Does::Show(Flag::Lifted)),
        ],
        words: "water, names, level marks, what lifts out above its place: on or off",
    },
    Row {
        keys: &[
            (PLAIN, Key::E, Does::Toggle(Group::Equipment)),
            (PLAIN, Key::U, Does::Toggle(Group::Plumbing)),
            (PLAIN, Key::C, Does::Toggle(Group::Cabinet)),
        ],
        words: "equipment, plumbing, cabinet: on or off",
    },
    Row {
        keys: &[
            (PLAIN, Key::N, Does::NextPart { is_backwards: false }),
            (PLAIN, Key::P, Does::NextPart { is_backwards: true }),
        ],
        words: "pick the next part, the part before",
    },
    Row {
        keys: &[(PLAIN, Key::Enter, Does::TakeOut), (PLAIN, Key::T, Does::TakeOut)],
        words: "take the picked part out, or put it back; while measuring Enter takes the middle of the picture",
    },
    Row {
        keys: &[(PLAIN, Key::G, Does::OtherLeaf)],
        words: "the other leaf into the slot of the picked one, or of the first",
    },
    Row { keys: &[(PLAIN, Key::Z, Does::BackToFile)], words: "leaves and doors back to the file" },
    Row { keys: &[(PLAIN, Key::D, Does::Measure)], words: "measure, or no more" },
    Row {
        keys: &[(PLAIN, Key::Space, Does::Play), (PLAIN, Key::B, Does::PlayBack)],
        words: "play or pause, play backwards",
    },
    Row {
        keys: &[(PLAIN, Key::PageDown, Does::NextStep), (PLAIN, Key::PageUp, Does::StepBefore)],
        words: "next step, step before",
    },
    Row { keys: &[(PLAIN, Key::I, Does::Dark)], words: "dark or light" },
    Row {
        keys: &[(PLAIN, Key::Escape, Does::Escape)],
        words: "close this page, end measuring, stop playing, let go of what is picked",
    },
    Row { keys: &[(PLAIN, Key::H, Does::Help), (PLAIN, Key::F1, Does::Help)], words: "this page" },
];

/// Keys that go through the cards, which the window's toolkit answers itself.
pub(super) const OF_CARDS: &[(&str, &str)] = &[
    ("Tab, Shift+Tab", "through all that can be pressed on the cards, and the model"),
    ("Space or Enter there", "press it"),
    ("← → there", "move a slider"),
];

impl Row {
    /// The keys as they are written on them.
    pub(super) fn label(&self) -> String {
        let mut names: Vec<String> = Vec::new();
        for (modifiers, key, _) in self.keys {
            let name = match key {
                Key::Minus => "−",
                Key::Comma => "comma",
                Key::Period => "full stop",
                Key::PageDown => "Page down",
                Key::PageUp => "Page up",
                key => key.symbol_or_name(),
            };
            names.push(if modifiers.shift { format!("Shift+{name}") } else { name.to_owned() });
        }
        names.join("  ")
    }
}

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
                        self.note_motion(ctx);
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
        } else if state.play.is_some() {
            state.play = None;
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_does_two_things() {
        let mut seen: Vec<(Modifiers, Key)> = Vec::new();
        for (modifiers, key, _) in TABLE.iter().flat_map(|row| row.keys) {
            assert!(!seen.contains(&(*modifiers, *key)), "{key:?}");
            // A plain key is taken with any Shift: what needs Shift must come before.
            let is_shadowed = modifiers.shift && seen.contains(&(PLAIN, *key));
            assert!(!is_shadowed, "{key:?} with Shift never comes through");
            seen.push((*modifiers, *key));
        }
    }

    #[test]
    fn keys_are_told_as_they_are_written() {
        let labels: Vec<String> = TABLE.iter().map(Row::label).collect();
        assert!(labels.iter().all(|label| !label.is_empty()), "{labels:?}");
        assert!(labels.contains(&"X".to_owned()) && labels.contains(&"N  P".to_owned()));
    }
}

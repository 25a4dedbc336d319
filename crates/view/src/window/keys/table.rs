//! Every key, and what it does.

use eframe::egui::{Key, Modifiers};
use glam::{DVec2, dvec2};
use show::Group;

use crate::orbit::Side;

/// Keys that belong together, and what they do.
pub(in crate::window) struct Row {
    /// Keys, with what each does.
    pub(in crate::window) keys: &'static [(Modifiers, Key, Does)],
    /// What they do, in words.
    pub(in crate::window) words: &'static str,
}

/// What one key does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::window) enum Does {
    Help,
    Dark,
    Escape,
    Look(Side),
    LookAtAll,
    Lens,
    /// Turns by so many times a key's turn.
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
    NextStop {
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
pub(in crate::window) enum Flag {
    Water,
    Names,
    Levels,
    Lifted,
    Bending,
}

const PLAIN: Modifiers = Modifiers::NONE;
const SHIFT: Modifiers = Modifiers::SHIFT;
/// A key moves the cut by this share of the sump.
const CUT_STEP: f64 = 0.02;
/// A key goes nearer by this factor.
const NEARER: f64 = 1.15;
const LEFT: DVec2 = dvec2(-1.0, 0.0);
const RIGHT: DVec2 = dvec2(1.0, 0.0);
const UP: DVec2 = dvec2(0.0, -1.0);
const DOWN: DVec2 = dvec2(0.0, 1.0);

/// Every key.
pub(in crate::window) const TABLE: &[Row] = &[
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
        keys: &[(PLAIN, Key::S, Does::Show(Flag::Bending))],
        words: "how the picked panel bends under water: on or off",
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
    Row {
        keys: &[
            (PLAIN, Key::K, Does::NextStop { is_backwards: false }),
            (PLAIN, Key::J, Does::NextStop { is_backwards: true }),
        ],
        words: "tour: the next stop, the stop before",
    },
    Row { keys: &[(PLAIN, Key::I, Does::Dark)], words: "dark or light" },
    Row {
        keys: &[(PLAIN, Key::Escape, Does::Escape)],
        words: "close this page, end measuring, stop playing, leave the tour, let go of what is picked",
    },
    Row { keys: &[(PLAIN, Key::H, Does::Help), (PLAIN, Key::F1, Does::Help)], words: "this page" },
];

/// Keys that go through the cards, which the window's toolkit answers itself.
pub(in crate::window) const OF_CARDS: &[(&str, &str)] = &[
    ("Tab, Shift+Tab", "through all that can be pressed on the cards, and the model"),
    ("Space or Enter there", "press it"),
    ("← → there", "move a slider"),
];

impl Row {
    /// The keys as they are written on them.
    pub(in crate::window) fn label(&self) -> String {
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

//! Whether a person can follow a way.

use units::{Length, System};

use crate::order::EASY_MOVES;
use crate::report::{HAND_MM, Step, Way};
use crate::way::MoveKind;

impl Way {
    /// Whether a hand can be expected to follow it: each step plain, and nothing passed closer than a hand carries.
    pub fn is_for_hands(&self) -> bool {
        self.steps.iter().all(Step::is_plain) && self.passes.is_none()
    }

    /// Why it holds on paper only: `9 moves, some turning while sliding`, `` it passes `rim` by 0.1 mm ``; `None` of a way
    /// that hands can follow.
    pub fn on_paper(&self, system: System) -> Option<String> {
        if self.is_for_hands() {
            return None;
        }
        let hard = self.steps.iter().filter(|step| !step.is_plain());
        let hard = hard.map(|step| match step.removable == self.removable {
            true => format!("it takes {}", step.effort()),
            false => format!("`{}` before it takes {}", step.name, step.effort()),
        });
        let close = self.passes.as_ref().map(|passed| {
            let gap = match passed.gap_mm < 0.05 {
                true => "just passes".to_owned(),
                false => format!("has {} beside", Length::mm(passed.gap_mm).show(system)),
            };
            let least = Length::mm(HAND_MM).show_fine(system);
            format!("it {gap} `{}`, and a hand wants {least}", passed.name)
        });
        Some(hard.chain(close).collect::<Vec<_>>().join("; "))
    }
}

impl Step {
    /// Whether it is plain enough to follow by hand: few moves, each a slide or a turn.
    pub fn is_plain(&self) -> bool {
        self.moves.len() <= EASY_MOVES && !self.turns_while_sliding()
    }

    /// How many moves, and whether any of them is hard to follow: `4 moves`, `9 moves, some turning while sliding`.
    pub fn effort(&self) -> String {
        let s = if self.moves.len() == 1 { "" } else { "s" };
        let turning = if self.turns_while_sliding() { ", some turning while sliding" } else { "" };
        format!("{} move{s}{turning}", self.moves.len())
    }

    fn turns_while_sliding(&self) -> bool {
        self.moves.iter().any(|plain| plain.kind == MoveKind::TurnWhileSliding)
    }
}

//! Whether a person can follow a way.

use crate::order::EASY_MOVES;
use crate::report::Step;
use crate::way::MoveKind;

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

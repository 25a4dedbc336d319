//! The look of all papers: one family of letters in three sizes, one colour, thin rules. Our own choice.

use crate::figure::{Colour, Lettering, Stroke};

/// Ink.
pub const INK: Colour = [28, 30, 33];
/// The one colour beside ink: heads, rules, what is new in a step.
pub const ACCENT: Colour = [16, 92, 112];
/// Of what stands back: notes at the edge, rules between rows.
pub const QUIET: Colour = [110, 116, 122];
/// Of thin rules and boxes.
pub const RULE: Colour = [198, 204, 208];
/// Behind words of caution.
pub const TINT: Colour = [238, 244, 245];

/// Heads, feet, captions, heads of tables.
pub const SMALL: Lettering = lettering(1.9, false, QUIET);
/// What is read.
pub const TEXT: Lettering = lettering(2.4, false, INK);
/// Titles and chapters.
pub const LARGE: Lettering = lettering(3.9, false, ACCENT);

const fn lettering(capital_mm: f64, is_bold: bool, colour: Colour) -> Lettering {
    Lettering { capital_mm, is_bold, colour }
}

/// From one base line to the next, as a share of the em (common practice: 1.4 to 1.5).
pub const LEADING: f64 = 1.42;

impl Lettering {
    /// The same in bold.
    pub const fn bold(self) -> Self {
        Self { is_bold: true, ..self }
    }

    /// The same in another colour.
    pub const fn in_colour(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }

    /// From one base line to the next, mm.
    pub fn leading_mm(self) -> f64 {
        LEADING * self.em_mm()
    }
}

impl Stroke {
    /// A whole line.
    pub const fn whole(width: f64, colour: Colour) -> Self {
        Self { width, colour, dashes: Vec::new() }
    }
}

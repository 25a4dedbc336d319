//! Measures written down in one line each.

use crate::error::Error;
use crate::kind::{Measure, Of};
use crate::stand::Follows;

impl Measure {
    /// A length: least, usual and most, mm.
    pub(crate) const fn mm(
        name: &'static str,
        words: &'static str,
        limits: [f64; 3],
        source: &'static str,
    ) -> Self {
        Self::new(name, words, Of::Mm, limits, source)
    }

    /// A number of pieces: least, usual and most.
    pub(crate) const fn count(
        name: &'static str,
        words: &'static str,
        limits: [f64; 3],
        source: &'static str,
    ) -> Self {
        Self::new(name, words, Of::Count, limits, source)
    }

    /// An angle: least, usual and most, degrees.
    pub(crate) const fn degrees(
        name: &'static str,
        words: &'static str,
        limits: [f64; 3],
        source: &'static str,
    ) -> Self {
        Self::new(name, words, Of::Degrees, limits, source)
    }

    /// Yes or no, and which of them is usual.
    pub(crate) const fn choice(
        name: &'static str,
        words: &'static str,
        is_usual: bool,
        source: &'static str,
    ) -> Self {
        let usual = if is_usual { 1.0 } else { 0.0 };
        Self::new(name, words, Of::Choice, [0.0, usual, 1.0], source)
    }

    /// A metric screw, M5 as usual.
    pub(crate) const fn screw(words: &'static str) -> Self {
        Self::new("screw", words, Of::Screw, [4.0, 5.0, 6.0], PRACTICE)
    }

    /// The measured thickness of the sheet that a fitting sits on.
    pub(crate) const fn sheet() -> Self {
        Self::mm(
            "sheet",
            "thickness of the sheet it sits on, by caliper, where it is thickest",
            [2.0, 8.0, 20.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::Sheet)
    }

    /// How uneven the sheet is that a clip grips.
    pub(crate) const fn spread() -> Self {
        Self::mm(
            "spread",
            "how much thinner that sheet is at its thinnest place, by caliper",
            [0.0, 0.3, 1.2],
            "by caliper on panels of 6 and 8 mm cast sheet",
        )
        .follows(Follows::Spread)
    }

    /// How uneven the sheet is that a channel is pressed on, which is made for its thinnest place.
    pub(crate) const fn spread_over_thinnest() -> Self {
        let words = "how much thicker that sheet is at its thickest place, by caliper";
        Self { words, ..Self::spread() }
    }

    /// Width of a clip along the sheet it sits on.
    pub(crate) const fn width(limits: [f64; 3]) -> Self {
        Self::mm("width", "width along the sheet", limits, PRACTICE)
    }

    const fn new(
        name: &'static str,
        words: &'static str,
        of: Of,
        [least, usual, most]: [f64; 3],
        source: &'static str,
    ) -> Self {
        Self { name, words, of, least, most, usual, source, only: None, follows: None }
    }

    /// Whether a value is within the limits, and whole where pieces, screws or choices are counted.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] if it is not.
    pub fn check(&self, value: f64) -> Result<(), Error> {
        let is_whole = matches!(self.of, Of::Mm | Of::Degrees) || value.fract().abs() < 1e-9;
        if self.least <= value && value <= self.most && is_whole {
            return Ok(());
        }
        let Self { name, of, least, most, .. } = *self;
        Err(Error::OutOfRange { name, of, value, least, most })
    }

    /// How far a cut opening or hole may be off its size.
    pub(crate) const fn cut() -> Self {
        Self::mm(
            "cut",
            "how much wider or narrower than its size the opening may have come out",
            [0.0, 0.2, 0.6],
            "common practice: 0.2 mm of a router or laser, 0.5 mm of a saw",
        )
    }

    /// The same, which follows from something of a sump where nothing else is given.
    pub(crate) const fn follows(self, what: Follows) -> Self {
        Self { follows: Some(what), ..self }
    }

    /// The same, which counts only where a choice is made, or is not.
    pub(crate) const fn only(self, choice: &'static str, is_made: bool) -> Self {
        Self { only: Some((choice, is_made)), ..self }
    }
}

/// Source of what many do and nobody has published.
pub(crate) const PRACTICE: &str = "common practice";

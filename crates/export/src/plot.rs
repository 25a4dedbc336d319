//! Diagrams to read and to print: the long section with its levels, and levels against time.
//!
//! Drawn directly rather than by a plotting library, because a section is no chart and because every
//! text must know what already stands beside it. One unit of a drawing is one millimetre on paper. No
//! font is embedded; widths of text are estimated by [`text_width`].

mod measure;
mod paper;
mod rehearsal;
mod section;
mod spread;
mod words;

pub use measure::text_width;
pub use rehearsal::rehearsal;
pub use section::long_section;

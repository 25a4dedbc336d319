//! Diagrams to read and to print: the long section with its levels, levels against time, plan and side view
//! with clearances, and panels with how they bend.
//!
//! Drawn directly rather than by a plotting library, because a section is no chart and because every
//! text must know what already stands beside it. One unit of a drawing is one millimetre on paper. No
//! font is embedded; widths of text are estimated by [`text_width`].

mod bending;
mod fit;
mod measure;
mod naming;
mod paper;
mod rehearsal;
mod scale;
mod section;
mod spread;
mod table;
mod words;

pub use bending::bending;
pub use fit::{fit_plan, fit_side};
pub use measure::text_width;
pub use rehearsal::rehearsal;
pub use section::long_section;

//! One result of one check: its grade, the parameter it is about, what was measured against what
//! limit, where the limit comes from, and what to do.
//!
//! Knows grades, numbers and words. Knows no file, no screen and no check: the crates that check make
//! findings, the command line draws them.
//!
//! ```
//! use findings::{Finding, Grade};
//! let finding = Finding::fails("hole-near-edge", "wall_fitting[0].hole", "the hole is 12 mm from the edge of the wall")
//!     .with_limit(12.0, 44.0, "mm")
//!     .with_source("common practice: at least one hole diameter")
//!     .with_hint("move the hole with `along` or `height`");
//! assert_eq!(finding.grade, Grade::Fails);
//! assert_eq!(finding.margin(), Some(-32.0));
//! ```

mod family;
mod finding;
mod sentence;

pub use family::Family;
pub use finding::{Finding, Grade, Limit};
pub use sentence::capital;

//! Any body of ours, as plain data.

use crate::plate::Plate;
use crate::turned::Turned;

/// A body described by what makes it, in its own frame (mm).
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Cut from flat sheet, or printed as if it were.
    Sheet(Plate),
    /// Turned about the `z` axis.
    Turned(Turned),
}

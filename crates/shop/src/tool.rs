//! Where the middle of a round tool runs so that it leaves the edges of a part.
//!
//! Contours are those of a [`plate::FlatPattern`]: the part lies on their left. The tool runs on their right, so its
//! path too has the part on its left; with a spindle that turns clockwise the cutter then turns against the feed, as is
//! advised for plastics (common practice). That is so seen from the tool: what is worked from the lower face is turned
//! about where the [operations](crate::work) are made.

mod beside;
mod capsules;
mod pline;
mod pocket;
mod reach;

pub(crate) use beside::beside;
pub(crate) use pocket::{Walls, clear};
pub(crate) use reach::{Left, left_standing};

/// How much thinner the tool is reckoned where it would not get in otherwise, mm: into slots and bites of just its own
/// width. Far below what any machine holds.
pub(crate) const EASE_MM: f64 = 0.002;

/// Why there is no path.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum NoPath {
    /// The edge crosses itself.
    Crosses,
    /// The room for the tool could not be worked out; the reason of the arrangement.
    NoRoom(String),
}

impl std::fmt::Display for NoPath {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Crosses => f.write_str("its edge crosses itself"),
            Self::NoRoom(reason) => {
                write!(f, "the room for the tool could not be worked out: {reason}")
            }
        }
    }
}

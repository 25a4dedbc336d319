//! Kinds of fits.

use serde::Serialize;

/// What kind of fit a stack is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StackCode {
    /// A loose leaf across its thickness in its channels.
    LeafSlides,
    /// A loose leaf between the ends of its channels.
    LeafFits,
    /// A loose leaf in one channel when it is pushed into the other.
    LeafHeld,
    /// A door over an edge of its opening.
    DoorCovers,
    /// A door on its screws.
    DoorSlides,
    /// A door beside the guides of its leaf.
    DoorClear,
    /// A sock's flange on its hole.
    SockSits,
    /// A printed ring in its hole.
    RingFits,
    /// A shelf between the walls that carry it.
    ShelfFits,
    /// A shelf on its ledges.
    ShelfRests,
    /// A lid on the rim.
    LidRests,
    /// A glued leaf in its grooves.
    GrooveTakes,
    /// The sump in its cabinet, or through an opening of it.
    SumpEnters,
}

impl StackCode {
    /// Its stable name: `leaf-slides`.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::LeafSlides => "leaf-slides",
            Self::LeafFits => "leaf-fits",
            Self::LeafHeld => "leaf-held",
            Self::DoorCovers => "door-covers",
            Self::DoorSlides => "door-slides",
            Self::DoorClear => "door-clear",
            Self::SockSits => "sock-sits",
            Self::RingFits => "ring-fits",
            Self::ShelfFits => "shelf-fits",
            Self::ShelfRests => "shelf-rests",
            Self::LidRests => "lid-rests",
            Self::GrooveTakes => "groove-takes",
            Self::SumpEnters => "sump-enters",
        }
    }
}

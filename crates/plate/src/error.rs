//! Every reason to refuse a plate, with the place and the number.

use std::fmt;

use glam::DVec2;

/// A contour of the input, for messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// `Plate::outline`.
    Outline,
    /// Index into `Plate::cuts`.
    Cut(usize),
}

impl Which {
    /// Contours are numbered through: the outline is 0, cut `i` is `i + 1`.
    pub(crate) fn new(contour: usize) -> Self {
        contour.checked_sub(1).map_or(Self::Outline, Self::Cut)
    }
}

impl fmt::Display for Which {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outline => write!(f, "outline"),
            Self::Cut(index) => write!(f, "cut {index}"),
        }
    }
}

/// Why no arrangement was made. Places are in the plate's own coordinates (mm).
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A coordinate is infinite or not a number.
    #[error("{which} has a coordinate that is not a finite number")]
    NotFinite {
        /// The contour it is in.
        which: Which,
    },
    /// A coordinate is too large to be told from its neighbours.
    #[error("{which} has a point at {at}; coordinates up to {farthest_mm:.0e} mm are possible")]
    TooFar {
        /// The contour it is in.
        which: Which,
        /// The point, which may be the centre of an arc.
        at: DVec2,
        /// The limit.
        farthest_mm: f64,
    },
    /// The sheet has no thickness, or one beyond all measure.
    #[error("thickness is {thickness_mm} mm; it must be positive and at most a kilometre")]
    Thickness {
        /// The thickness given.
        thickness_mm: f64,
    },
    /// A cut has no depth.
    #[error("{which} is {depth_mm} mm deep; a depth must be positive")]
    Depth {
        /// The cut.
        which: Which,
        /// The depth given.
        depth_mm: f64,
    },
    /// A contour does not close.
    #[error("{which} has a gap of {gap_mm:.3e} mm at {at}; a contour must be closed")]
    Open {
        /// The contour.
        which: Which,
        /// The end that nothing starts at.
        at: DVec2,
        /// How far away the next piece starts.
        gap_mm: f64,
    },
    /// An arc's ends do not lie on one circle about its centre.
    #[error(
        "{which} has an arc at {at} whose end is {by_mm:.3e} mm away from where its centre and sweep put it"
    )]
    ArcEnds {
        /// The contour.
        which: Which,
        /// The end of the arc.
        at: DVec2,
        /// By how much it is off.
        by_mm: f64,
    },
    /// An arc turns once around or more, or its ends are one point.
    #[error(
        "{which} has an arc at {at} that turns by {sweep_rad} rad, a whole turn; write a whole circle as two arcs"
    )]
    WholeTurn {
        /// The contour.
        which: Which,
        /// Where the arc starts.
        at: DVec2,
        /// The angle it turns.
        sweep_rad: f64,
    },
    /// A piece is too short to be told from a point.
    #[error(
        "{which} has a piece {length_mm:.3e} mm long at {at}; at least {least_mm:.0e} mm is needed"
    )]
    ShortPiece {
        /// The contour.
        which: Which,
        /// Where the piece starts.
        at: DVec2,
        /// Its length.
        length_mm: f64,
        /// The least length.
        least_mm: f64,
    },
    /// A contour encloses nothing.
    #[error("{which} encloses no area")]
    NoArea {
        /// The contour.
        which: Which,
    },
    /// A contour crosses, overlaps or runs around itself.
    #[error("{which} crosses or overlaps itself near {at}")]
    CrossesItself {
        /// The contour.
        which: Which,
        /// A place on the part that is wrong.
        at: DVec2,
    },
    /// Two features are neither one nor clearly apart.
    #[error(
        "two features are {gap_mm:.3e} mm apart near {at}; make them meet, or keep {least_mm:.0e} mm between them"
    )]
    NearMiss {
        /// The place.
        at: DVec2,
        /// The distance between them.
        gap_mm: f64,
        /// The least distance.
        least_mm: f64,
    },
    /// Two floors are neither level nor clearly apart.
    #[error("floors at {a_mm} mm and {b_mm} mm are neither equal nor {least_mm:.0e} mm apart")]
    CloseHeights {
        /// Height of the lower floor.
        a_mm: f64,
        /// Height of the upper floor.
        b_mm: f64,
        /// The least distance.
        least_mm: f64,
    },
    /// Edges about a place could not be put in order. No plate is known that is refused so.
    #[error(
        "edges near {at} could not be put in order; features there are too close to the tolerance"
    )]
    Tangled {
        /// The place.
        at: DVec2,
    },
}

//! A way for water over, under or through a leaf.

use super::BasinId;

/// What kind of way a leaf leaves for water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WayKind {
    /// Over a plain upper edge.
    Crest,
    /// Through the slots of a comb.
    Comb,
    /// Through the gap under the lower edge.
    Underflow,
    /// Through a letterbox.
    Letterbox,
    /// Through slots.
    Slots,
    /// Through round holes.
    Holes,
    /// Through finger holes.
    FingerHoles,
    /// Over a door.
    Door,
}

impl WayKind {
    /// What it is, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Crest => "the crest",
            Self::Comb => "the slots of the comb",
            Self::Underflow => "the gap under the lower edge",
            Self::Letterbox => "the letterbox",
            Self::Slots => "the slots",
            Self::Holes => "the holes",
            Self::FingerHoles => "the finger holes",
            Self::Door => "the door",
        }
    }
}

/// A way between two basins.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What it is.
    pub kind: WayKind,
    /// Its measures.
    pub shape: WayShape,
    /// Name of the leaf.
    pub leaf: String,
    /// Name of the leaf's divider.
    pub divider: String,
    /// Path of the divider's parameter.
    pub divider_parameter: String,
    /// Which leaf of the divider, counted in flow order.
    pub place: usize,
    /// `false` for a leaf that could take the place of the one that is in.
    pub is_in: bool,
    /// Whether the leaf stands in guides.
    pub lifts_out: bool,
    /// Where the water comes from.
    pub up: BasinId,
    /// Where it goes.
    pub down: BasinId,
    /// Share of the way that lies between these two basins: less than 1 where it opens into several.
    pub share: f64,
    /// Thickness of the leaf: how long a crest is in the direction of flow.
    pub sheet_mm: f64,
    /// Clear width of the row that the leaf divides.
    pub channel_mm: f64,
    /// Height of the leaf's upper edge.
    pub top_mm: f64,
    /// Of a leaf in guides that are lower than itself: where its ends stand free.
    pub free_ends: Option<FreeEnds>,
    /// Printed strainers in its openings.
    pub strainers: Vec<Strainer>,
}

/// A printed strainer that is pressed into an opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Strainer {
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Share of the way that its opening makes up: of many equal openings one, in whatever row.
    pub of_way: f64,
    /// Share of its opening that its slots leave free.
    pub free: f64,
    /// On which side of the leaf its flange lies, if that is in a basin.
    pub flange_in: Option<BasinId>,
}

/// The ends of a leaf above its guides: water passes between them and the walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeEnds {
    /// Height of the guides; of the lower, if they differ.
    pub from_mm: f64,
    /// Gap at either end, with the leaf in the middle. Pushed to one side it leaves as much in all.
    pub gap_mm: f64,
}

/// Measures of a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WayShape {
    /// A level edge, open above.
    Crest {
        /// Height of the edge.
        height_mm: f64,
        /// Its length.
        width_mm: f64,
    },
    /// Slots cut down from an edge.
    Comb {
        /// Height of the slots' lower ends.
        sill_mm: f64,
        /// Height of the tips between them.
        tip_mm: f64,
        /// Width of one slot.
        gap_mm: f64,
        /// How many slots.
        count: usize,
        /// Length of the whole edge, over which water runs above the tips.
        width_mm: f64,
    },
    /// A rectangle.
    Rectangle {
        /// Height of its lower edge.
        bottom_mm: f64,
        /// Height of its upper edge.
        top_mm: f64,
        /// Its width.
        width_mm: f64,
    },
    /// Upright slots with round ends.
    Slots {
        /// Height of their lower ends.
        bottom_mm: f64,
        /// Height of their upper ends.
        top_mm: f64,
        /// Width of one.
        width_mm: f64,
        /// How many.
        count: usize,
    },
    /// A field of round holes.
    Holes {
        /// Height of the middles of the lowest row.
        bottom_mm: f64,
        /// Diameter.
        diameter_mm: f64,
        /// Distance between rows.
        spacing_mm: f64,
        /// How many rows.
        rows: usize,
        /// How many holes in a row.
        columns: usize,
    },
    /// An opening behind a plate whose upper edge can be set.
    Door {
        /// Height of the opening's lower edge.
        bottom_mm: f64,
        /// Height of its upper edge.
        top_mm: f64,
        /// Width of the opening.
        width_mm: f64,
        /// Lowest height of the plate's upper edge.
        lowest_mm: f64,
        /// Height at which it is set.
        set_mm: f64,
        /// Highest height.
        highest_mm: f64,
        /// Gap between plate and leaf.
        leak_gap_mm: f64,
        /// How far the plate laps over the leaf.
        lap_mm: f64,
    },
}

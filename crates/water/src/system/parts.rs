use design::{BasinId, WayKind};
use serde::Serialize;

/// What an element is.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "part", rename_all = "kebab-case")]
pub enum Part {
    /// A way over or through a leaf: index into [`design::Waterworks::ways`].
    Way {
        /// The way.
        way: usize,
        /// What kind it is.
        #[serde(skip)]
        kind: WayKind,
        /// Whether it is what of the way lies behind strainers.
        #[serde(skip)]
        is_strained: bool,
    },
    /// What passes a lift-out leaf beside its guides, and its free ends above them.
    LeafLeak {
        /// Name of the divider.
        divider: String,
        /// Which leaf of the divider.
        place: usize,
    },
    /// The whole height of the divider, open while the leaf is out.
    LeafOut {
        /// Name of the divider.
        divider: String,
        /// Which leaf of the divider.
        place: usize,
    },
    /// What passes between a door and its leaf.
    DoorLeak {
        /// Name of the leaf.
        leaf: String,
    },
    /// The whole opening, while the door is off.
    DoorOff {
        /// Name of the leaf.
        leaf: String,
    },
    /// The opening with the door at its highest.
    DoorShut {
        /// Name of the leaf.
        leaf: String,
    },
    /// The walls of a shelf's socks.
    Socks {
        /// Index of the shelf.
        shelf: usize,
    },
    /// The bypass of a shelf.
    Bypass {
        /// Index of the shelf.
        shelf: usize,
    },
    /// The rim of the sump.
    Rim {
        /// The tank that runs over it.
        tank: usize,
    },
    /// The holes of a lid.
    LidHoles {
        /// Index of the lid.
        cover: usize,
    },
    /// The edge of a lid.
    LidEdge {
        /// Index of the lid.
        cover: usize,
    },
    /// The overflow of the display.
    Overflow,
    /// The rim of the display.
    DisplayRim,
    /// A drain that runs as a siphon.
    Siphon {
        /// Index of the drain.
        drain: usize,
    },
    /// A drain with air in it.
    OpenDrain {
        /// Index of the drain.
        drain: usize,
    },
    /// A pump with its line.
    Line {
        /// Index of the line.
        line: usize,
    },
    /// The way back through a pump's line while the pump is off.
    BackSiphon {
        /// Index of the line.
        line: usize,
    },
    /// The top-up's pump.
    TopUp,
    /// Evaporation from the display.
    DisplayEvaporation,
    /// Evaporation from the sump, all of it from the return chamber.
    SumpEvaporation,
    /// The lowest seam of a chamber, leaking.
    Seam {
        /// The chamber.
        basin: BasinId,
    },
    /// The cup of a skimmer, overflowing.
    Cup {
        /// Index of the skimmer.
        skimmer: usize,
    },
}

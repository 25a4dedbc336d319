//! The parameter file as the maker writes it. One Rust type per table; the doc comments are the
//! descriptions in the JSON Schema, so they speak to the maker.

mod access;
mod around;
mod cabinet;
mod display;
mod enclosure;
mod equipment;
mod fitting;
mod judging;
mod layout;
mod leaf;
mod line;
mod loose;
mod making;
mod papers;
mod sheet;
mod strength;
mod water;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use access::{Fit, Reach, Tool};
pub use around::{Room, TopUp};
pub use cabinet::{
    Cabinet, CabinetFixture, CabinetInside, CabinetOpening, CabinetPost, CabinetShelf, CabinetSide,
};
pub use display::{Display, DisplayInside, Overflow, OverflowCrest, WeirBox};
pub use enclosure::{Brace, CornerJoint, Enclosure, Outside, Rim};
pub use equipment::{
    CurvePoint, Cylinder, Equipment, EquipmentBody, EquipmentKind, Service, Stub, StubKind, Towards,
};
pub use fitting::{FittingAt, FittingMeasure, PrintedFitting};
pub use judging::{Limits, Rehearsals};
pub use layout::{DividerJoint, GuideKind, Item};
pub use leaf::{
    Crest, Door, DoorSide, Holes, Leaf, Letterbox, Mount, Opening, ScrewSize, Slots, Teeth,
};
pub use line::{DrainAbove, DrainDuty, DrainPipe, ReturnLine};
pub use loose::{
    Bypass, HoleField, Ledge, LevelMarks, Lid, MarkUnit, Reading, RingKind, SockHolder, SockSize,
    Wall, WallFitting,
};
pub use making::{Cutting, DrawnPath, Filament, Holding, Printing, Process, Relief};
pub use papers::{Background, Costs, M2_PER_FT2, PaperSize, Papers};
pub use sheet::{Material, Measured, Sheet, StockSize};
pub use strength::{BottomSupport, DataSheet, Strength, Tolerance};
pub use water::{Report, Water};

/// Names are engraved, drawn and made into names of files, so they keep to what all of these can show.
pub(crate) const NAME: &str = "^[A-Za-z0-9]+([ -][A-Za-z0-9]+)*$";
/// The same in words.
pub(crate) const NAME_IN_WORDS: &str =
    "a name of letters from A to Z, digits, and single spaces or hyphens between them";

/// The JSON Schema of a name that is a key.
fn names() -> serde_json::Value {
    serde_json::json!({ "pattern": NAME, "x-words": NAME_IN_WORDS, "minLength": 1, "maxLength": 40 })
}

/// A sump, from its inlet end to its return.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct File {
    /// Version of this format. This sumpwright reads 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// What the sump is called, on drawings and pages.
    #[schemars(length(min = 1, max = 80))]
    pub title: String,
    /// Units of reports: `"metric"` (mm, L, °C) or `"us"` (inches, US gallons, °F).
    #[serde(default)]
    pub report: Report,
    /// The water in the system.
    #[serde(default)]
    pub water: Water,
    /// Sheets that parts are cut from, by name.
    #[schemars(extend("propertyNames" = names(), "maxProperties" = 50))]
    pub sheet: BTreeMap<String, Sheet>,
    /// How the sheet is cut.
    #[serde(default)]
    pub cutting: Cutting,
    /// How small fittings are printed.
    #[serde(default)]
    pub printing: Printing,
    /// What things cost.
    #[serde(default)]
    pub costs: Costs,
    /// Coloured film behind the sump. Left out: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub background: Option<Background>,
    /// What stands on every paper.
    #[serde(default)]
    pub papers: Papers,
    /// The box: bottom, four walls, rim.
    #[serde(rename = "box")]
    pub enclosure: Enclosure,
    /// Leaves of the dividers, by name.
    #[serde(default)]
    #[schemars(extend("propertyNames" = names(), "maxProperties" = 200))]
    pub leaf: BTreeMap<String, Leaf>,
    /// Chambers and dividers in flow order, from the inlet end to the return.
    #[schemars(length(max = 100))]
    pub along: Vec<Item>,
    /// Removable shelves that hold filter socks.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub sock_holder: Vec<SockHolder>,
    /// Covers that lie on the rim over a chamber.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub lid: Vec<Lid>,
    /// Fittings through a wall of the box, such as a bulkhead.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub wall_fitting: Vec<WallFitting>,
    /// Small printed things: clips, holders, ledges, feet, jigs.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub fitting: Vec<PrintedFitting>,
    /// The display that the sump serves. Left out: levels in flow and failures are not computed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub display: Option<Display>,
    /// Pipes that bring water down from the display.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub drain: Vec<DrainPipe>,
    /// Lines through which pumps send water up to the display or round to a chamber.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub return_line: Vec<ReturnLine>,
    /// The automatic top-up. Left out: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub top_up: Option<TopUp>,
    /// The air around the system.
    #[serde(default)]
    pub room: Room,
    /// Pumps, skimmers, heaters, probes and whatever else stands or hangs in a chamber.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub equipment: Vec<Equipment>,
    /// The cabinet around the sump. Left out: the sump stands free, with nothing around or above it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cabinet: Option<Cabinet>,
    /// Level marks engraved on a wall.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub level_marks: Vec<LevelMarks>,
    /// Limits that levels, flows and failures are judged by.
    #[serde(default)]
    pub limits: Limits,
    /// How failures are rehearsed.
    #[serde(default)]
    pub rehearsals: Rehearsals,
    /// By what strength is judged.
    #[serde(default)]
    pub strength: Strength,
    /// How far parts differ from their drawing.
    #[serde(default)]
    pub tolerance: Tolerance,
    /// Gaps between parts, and how ways out are searched.
    #[serde(default)]
    pub fit: Fit,
    /// What reaches into the sump: a hand, a net, a brush.
    #[serde(default)]
    pub reach: Reach,
}

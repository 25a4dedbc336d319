//! All that water meets, resolved: what holds it, what it passes through, and the system around the
//! sump. Heights are mm above the inside of the sump's bottom, areas mm², lengths mm.

mod basins;
mod plumbing;
mod strainers;
mod way;
mod ways;

use glam::DVec2;
use params::DrainDuty;

use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::levels::Standing;
use crate::spaces::Layout;

pub use way::{FreeEnds, Strainer, Way, WayKind, WayShape};

/// Index into [`Waterworks::basins`].
pub type BasinId = usize;

/// Everything that decides where water stands and where it goes.
#[derive(Clone, Debug, Default)]
pub struct Waterworks {
    /// What holds water in the sump, in the order of the layout.
    pub basins: Vec<Basin>,
    /// Ways between basins, of the leaves that are in and of those that can take their place.
    pub ways: Vec<Way>,
    /// Shelves with socks.
    pub shelves: Vec<Shelf>,
    /// Lids.
    pub covers: Vec<Cover>,
    /// The display above, if the file tells of it.
    pub display: Option<Display>,
    /// Pipes down from the display.
    pub drains: Vec<Drain>,
    /// Pumps and the lines that they feed.
    pub lines: Vec<Line>,
    /// Skimmers.
    pub skimmers: Vec<Skimmer>,
    /// The reservoir that makes up for evaporation.
    pub top_up: Option<TopUp>,
    /// What the water is.
    pub water: params::Water,
    /// The air around.
    pub room: params::Room,
    /// What the keeper wants to have kept.
    pub limits: params::Limits,
    /// What is rehearsed.
    pub rehearsals: params::Rehearsals,
}

/// A chamber, or the space between two leaves of one divider.
#[derive(Clone, Debug, PartialEq)]
pub struct Basin {
    /// Name in the file, or of the space between leaves.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// `false` for the space between leaves.
    pub is_chamber: bool,
    /// Least corner of its clear floor in the sump's x, y.
    pub min: DVec2,
    /// Greatest corner.
    pub max: DVec2,
    /// The level that is kept in it, if any.
    pub kept_level_mm: Option<f64>,
    /// Where its water stands with nothing flowing.
    pub rest_mm: f64,
    /// Height at which water runs over the sump's rim.
    pub rim_mm: f64,
    /// How much of the box's wall runs along it: over so much rim it can spill.
    pub wall_run_mm: f64,
    /// Thickness of that wall.
    pub wall_mm: f64,
    /// What stands in it and takes room from the water.
    pub bodies: Vec<Body>,
}

impl Basin {
    /// Plan area of its clear floor.
    pub fn area_mm2(&self) -> f64 {
        let size = self.max - self.min;
        size.x * size.y
    }
}

/// A body that displaces water.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is called.
    pub name: String,
    /// Its lower and upper end.
    pub z_mm: [f64; 2],
    /// Plan area that no water enters.
    pub area_mm2: f64,
}

/// A shelf with socks in a chamber.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelf {
    /// Path of its parameter.
    pub parameter: String,
    /// The chamber it hangs in.
    pub basin: BasinId,
    /// Height of its upper face.
    pub top_mm: f64,
    /// How many socks.
    pub socks: u32,
    /// Middles of the socks in the sump's x, y.
    pub middles: Vec<DVec2>,
    /// Diameter of a sock.
    pub diameter_mm: f64,
    /// Height of its lower end.
    pub sock_end_mm: f64,
    /// What one clean sock passes with water 50 mm higher in it than around it, L/h, if the file says so.
    pub passes_l_h: Option<f64>,
    /// Width and depth of the bypass notch.
    pub bypass_mm: [f64; 2],
    /// Plan area of shelf and notch.
    pub area_mm2: f64,
}

/// A lid over a chamber.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// Path of its parameter.
    pub parameter: String,
    /// The chamber it covers.
    pub basin: BasinId,
    /// Its plan area.
    pub area_mm2: f64,
    /// Length of its outer edge.
    pub edge_mm: f64,
    /// Height of its upper face.
    pub top_mm: f64,
    /// Diameter and number of its holes, finger hole and drain holes.
    pub holes: Vec<(f64, usize)>,
}

/// The display above.
#[derive(Clone, Debug, PartialEq)]
pub struct Display {
    /// Plan area of its inside, without the overflow box.
    pub surface_mm2: f64,
    /// Volume taken by rock and sand, L.
    pub displaced_l: f64,
    /// Height of its inside bottom.
    pub floor_mm: f64,
    /// Height of its rim.
    pub rim_mm: f64,
    /// Length of its rim.
    pub rim_run_mm: f64,
    /// Height of the overflow's crest; of the tips of its teeth, if it has teeth.
    pub crest_mm: f64,
    /// Length of the crest.
    pub crest_width_mm: f64,
    /// Width of a tooth, width of a gap, depth of a gap.
    pub teeth_mm: Option<[f64; 3]>,
    /// Plan area of the overflow box.
    pub box_mm2: f64,
    /// Height of the overflow box's bottom.
    pub box_floor_mm: f64,
}

/// Where a pipe ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Into {
    /// In a chamber.
    Basin(BasinId),
    /// In a sock or above the shelf: index into [`Waterworks::shelves`].
    Shelf(usize),
}

/// A pipe down from the display.
#[derive(Clone, Debug, PartialEq)]
pub struct Drain {
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is for.
    pub duty: DrainDuty,
    /// Where it ends.
    pub into: Into,
    /// Height of its lower end.
    pub out_mm: f64,
    /// Height of its upper mouth, if the file says so.
    pub intake_mm: Option<f64>,
    /// Inner diameter.
    pub bore_mm: f64,
    /// Length of pipe.
    pub run_mm: f64,
    /// How many 90° bends.
    pub elbows: u32,
    /// Further loss coefficient on the pipe's velocity head.
    pub loss: f64,
    /// Share of the bore that its valve leaves open, if the file says so.
    pub valve: Option<f64>,
}

/// What is known of a pump.
#[derive(Clone, Debug, PartialEq)]
pub enum PumpData {
    /// Points of its curve: flow in L/h, head in m.
    Curve(Vec<[f64; 2]>),
    /// Flow at no head, L/h, and head at no flow, m.
    Extremes {
        /// Flow at no head, L/h.
        flow_l_h: f64,
        /// Head at no flow, m.
        head_m: f64,
    },
    /// Not enough to tell its flow against a head.
    Unknown,
}

/// A pump with the line that it feeds.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Name of the pump.
    pub pump: String,
    /// Path of the line's parameter.
    pub parameter: String,
    /// Path of the pump's parameter.
    pub pump_parameter: String,
    /// Where the pump stands.
    pub from: BasinId,
    /// Where the line ends; `None`: in the display.
    pub to: Option<BasinId>,
    /// What is known of the pump.
    pub data: PumpData,
    /// Height of the pump's intake.
    pub intake_mm: f64,
    /// Diameter of the intake, if the file says so.
    pub intake_diameter_mm: Option<f64>,
    /// Inner diameter of the line.
    pub bore_mm: f64,
    /// Its length.
    pub length_mm: f64,
    /// How many 90° bends.
    pub elbows: u32,
    /// Further loss coefficient on the line's velocity head.
    pub loss: f64,
    /// Height of the outlet's middle.
    pub outlet_mm: f64,
    /// Bore of the outlet.
    pub nozzle_mm: f64,
    /// Height of the outlet's lower edge: above it the line runs back unless a hole lets air in before.
    pub mouth_mm: f64,
    /// Height at which air enters when the pump has stopped: of the break hole or of the outlet's lower
    /// edge, whichever is higher.
    pub break_mm: f64,
    /// Whether there is a hole for that.
    pub has_break_hole: bool,
    /// Whether a check valve stands in the line.
    pub has_check_valve: bool,
}

/// A skimmer.
#[derive(Clone, Debug, PartialEq)]
pub struct Skimmer {
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Where it stands.
    pub basin: BasinId,
    /// Height of its underside.
    pub stand_mm: f64,
    /// Depth of water above its underside that it wants, least and greatest.
    pub depth_mm: Option<[f64; 2]>,
    /// What it throws out when it runs wild, L/h.
    pub cup_overflow_l_h: f64,
    /// Whether that is an assumption.
    pub is_assumed: bool,
}

/// A reservoir with a float in a chamber.
#[derive(Clone, Debug, PartialEq)]
pub struct TopUp {
    /// Path of its parameter.
    pub parameter: String,
    /// The chamber with the float.
    pub basin: BasinId,
    /// What the reservoir holds, L.
    pub reservoir_l: f64,
    /// How fast it fills, L/h.
    pub rate_l_h: f64,
    /// Heights at which the float switches on and off.
    pub float_mm: [f64; 2],
    /// Salinity of its water, g/kg.
    pub salinity_g_kg: f64,
}

/// Collects what the parts, the layout and the file say about water.
pub(crate) fn build(
    b: &Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    standing: &Standing,
) -> Waterworks {
    let file = b.file;
    let basins = basins::build(b, enclosure, layout, standing);
    let shelves = basins::shelves(b, enclosure, layout);
    Waterworks {
        ways: ways::build(b, enclosure, layout),
        covers: basins::covers(b, enclosure, layout),
        display: plumbing::display(file),
        drains: plumbing::drains(b, layout, &shelves),
        lines: plumbing::lines(b, layout),
        skimmers: plumbing::skimmers(b, layout),
        top_up: plumbing::top_up(b, layout, &basins),
        basins,
        shelves,
        water: file.water,
        room: file.room,
        limits: file.limits,
        rehearsals: file.rehearsals.clone(),
    }
}

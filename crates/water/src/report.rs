//! What is told of a sump that runs: levels, flows, what each can be set to, and what is kept in reserve.

mod basins;
mod build;
mod combinations;
mod doors;
mod plumbing;
mod reserve;
mod ways;

use design::WayKind;
use params::DrainDuty;
use serde::Serialize;

use crate::law::Validity;
use crate::rehearsal::Figure;

pub use build::report;
pub use doors::{Wish, set_door};

/// A sump that runs, in numbers. SI; heights above the inside of the sump's bottom.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// Flow up to the display, all pumps together, m³/s.
    pub return_flow_m3_s: Figure,
    /// Level of the display, m.
    pub display_m: Figure,
    /// Level of the overflow box, m.
    pub weir_box_m: Figure,
    /// Height of the display's rim, m.
    pub display_rim_m: f64,
    /// Water in the display, its overflow box and the sump while it runs, m³.
    pub volume_m3: f64,
    /// How often an hour the return flow turns over the display's water.
    pub turnover_per_h: f64,
    /// The water.
    pub water: WaterReport,
    /// Chambers and spaces between leaves, in the order of the layout.
    pub basins: Vec<BasinReport>,
    /// Ways that water passes or could pass, those of the leaves that are in.
    pub ways: Vec<WayReport>,
    /// Combs and slots while some of their slots are blocked.
    pub combs: Vec<CombReport>,
    /// Socks.
    pub socks: Vec<SockReport>,
    /// Pumps with their lines.
    pub lines: Vec<LineReport>,
    /// Drains.
    pub drains: Vec<DrainReport>,
    /// Every combination of interchangeable leaves, the one that is in first; empty without any.
    pub combinations: Vec<Combination>,
    /// How many more combinations there are that were not computed.
    pub combinations_left_out: usize,
    /// What each door can do.
    pub doors: Vec<DoorReport>,
    /// What the return chamber holds in reserve.
    pub reserve: Reserve,
    /// Whether a corner tried as a check lay outside the band that the signs had given.
    pub band_is_doubtful: bool,
    /// Whether levels could be computed at all ends of the coefficients' doubt. Where not, low and high of
    /// a figure are its best estimate.
    pub band_is_known: bool,
}

/// The water.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WaterReport {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Salinity, g/kg.
    pub salinity_g_kg: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Kinematic viscosity, m²/s.
    pub viscosity_m2_s: f64,
    /// Dry salt in a litre of it, g.
    pub salt_per_litre_g: f64,
    /// Dry salt in all of the system's water, kg.
    pub salt_kg: f64,
    /// What evaporates a day, L.
    pub evaporation_l_day: f64,
    /// The same by the upper of two estimates, where it is computed, L.
    pub evaporation_most_l_day: f64,
    /// Whether that is computed from the room's air rather than given.
    pub evaporation_is_computed: bool,
    /// What lies outside the range of the formula, in words, if anything does.
    pub evaporation_out_of_range: Option<String>,
    /// Dry salt for a litre of fresh water, g.
    pub salt_per_fresh_litre_g: f64,
}

/// A chamber, or the space between two leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BasinReport {
    /// Its name.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// `false` for the space between leaves.
    pub is_chamber: bool,
    /// Its tank in the network.
    pub tank: usize,
    /// Level in flow, m.
    pub level_m: Figure,
    /// Level with nothing flowing, m.
    pub rest_m: f64,
    /// Height of the rim, m.
    pub rim_m: f64,
    /// Water in it, m³; that in hanging socks is not counted.
    pub volume_m3: f64,
    /// What passes through it, m³/s.
    pub through_m3_s: f64,
    /// How long water stays in the mean, s; infinite where none passes.
    pub residence_s: f64,
    /// Where water must go down to leave under a leaf: whether bubbles come along.
    pub down_flow: Option<DownFlow>,
}

/// Water going down to a gap under a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DownFlow {
    /// Mean speed downwards, m/s, at the greater end of the flow's band.
    pub speed_m_s: f64,
    /// Diameter of the smallest bubble that still rises against it, m; `None` when none does.
    pub smallest_rising_m: Option<f64>,
}

/// A way over or through a leaf.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WayReport {
    /// What it is called: `the crest of weir`.
    pub name: String,
    /// Name of the leaf.
    pub leaf: String,
    /// What kind it is.
    #[serde(skip)]
    pub kind: WayKind,
    /// Tanks that it joins.
    pub between: [usize; 2],
    /// Height of its lower edge, m.
    pub sill_m: f64,
    /// Upstream level over the lower edge, m; negative when it stands dry.
    pub head_m: Figure,
    /// Whether the downstream level stands over the lower edge.
    pub is_drowned: bool,
    /// What passes, m³/s.
    pub flow_m3_s: f64,
    /// Area that the water passes, m².
    pub area_m2: f64,
    /// Mean speed in it, m/s.
    pub speed_m_s: f64,
    /// Mean speed just before it, m/s: of a comb over teeth and gaps together, as the intake screens of
    /// fisheries are judged; else that in it.
    pub approach_m_s: f64,
    /// How far its law may be trusted there.
    pub validity: Validity,
    /// Why, in words; empty when within.
    pub why: &'static str,
}

/// A comb or a row of slots, of which leaves and hair block a part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CombReport {
    /// What it is called.
    pub name: String,
    /// Name of the leaf; empty for the display's overflow.
    pub leaf: String,
    /// What stands before it: a chamber's name, or `display`.
    pub before: String,
    /// The tank before it.
    pub tank: usize,
    /// Share of the slots that is blocked, and the level before it then, m.
    pub levels_m: Vec<[f64; 2]>,
}

/// The socks of a shelf.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SockReport {
    /// Path of the shelf's parameter.
    pub parameter: String,
    /// Name of the chamber.
    pub chamber: String,
    /// The tank in and over the socks.
    pub tank: usize,
    /// Level in the socks, m, clean.
    pub clean_m: Figure,
    /// The same when they pass half.
    pub half_m: f64,
    /// The same when they pass nothing and all takes the bypass.
    pub clogged_m: f64,
    /// Height of the shelf, over which water takes the bypass, m.
    pub shelf_m: f64,
    /// What a clean sock passes is the default rather than given.
    pub is_assumed: bool,
}

/// A pump with its line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineReport {
    /// Name of the pump.
    pub pump: String,
    /// Path of the line's parameter.
    pub parameter: String,
    /// Path of the pump's parameter.
    pub pump_parameter: String,
    /// Where it ends: a chamber's name, or `display`.
    pub to: String,
    /// What it moves, m³/s.
    pub flow_m3_s: Figure,
    /// Height that it lifts, from level to level or outlet, m.
    pub lift_m: f64,
    /// Head that the pump makes at that flow, m.
    pub head_m: f64,
    /// Head that it makes at no flow, m.
    pub shut_off_m: f64,
    /// Mean speed in the line, m/s.
    pub speed_m_s: f64,
    /// Height of the intake's middle, m.
    pub intake_m: f64,
    /// Water over the intake's middle at the low end of the band, m.
    pub submergence_m: f64,
    /// What it should be, m.
    pub wanted_submergence_m: f64,
    /// Where that comes from.
    pub wanted_submergence_source: &'static str,
    /// Whether the pump's curve is guessed from its two extremes.
    pub curve_is_guessed: bool,
    /// How far its law may be trusted there.
    pub validity: Validity,
    /// Why, in words; empty when within.
    pub why: &'static str,
}

/// A drain.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrainReport {
    /// Its name.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is for.
    pub duty: DrainDuty,
    /// What it carries, m³/s.
    pub flow_m3_s: Figure,
    /// Share of the return flow.
    pub share: f64,
    /// Mean speed in its bore, m/s, if it runs full.
    pub speed_m_s: f64,
    /// Height of its mouth, m.
    pub intake_m: f64,
    /// Share of the bore that its valve leaves open, for a main drain.
    pub valve_open: Option<f64>,
    /// Whether that was found so that the secondary drain carries the trickle.
    pub valve_is_set: bool,
    /// What it can carry, m³/s, at levels of the overflow box from its mouth to the display's rim, m. Of
    /// a main drain: as a siphon with its valve fully open.
    pub capacity: Vec<[f64; 2]>,
    /// What it carries as quiet annular flow, a quarter of the bore filled, m³/s.
    pub quiet_m3_s: f64,
    /// How far its law may be trusted at what it carries.
    pub validity: Validity,
    /// Why, in words; empty when within.
    pub why: &'static str,
    /// Whether it ends in the return chamber, past all the others.
    pub ends_in_return: bool,
}

/// One combination of interchangeable leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Combination {
    /// The leaf in each divider that has a choice.
    pub leaves: Vec<(String, String)>,
    /// Whether it is the one that is in.
    pub is_in: bool,
    /// Flow up to the display, m³/s.
    pub return_flow_m3_s: f64,
    /// Level of every basin, m, as [`Report::basins`].
    pub levels_m: Vec<f64>,
    /// Why it could not be computed, if so; then the levels are empty.
    pub not_computed: Option<String>,
}

/// What a door can do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DoorReport {
    /// Name of its leaf.
    pub leaf: String,
    /// Path of the door's parameter.
    pub parameter: String,
    /// Name of the chamber whose level it sets.
    pub chamber: String,
    /// Index of that basin.
    pub basin: usize,
    /// Lowest setting, setting, highest setting, m.
    pub settings_m: [f64; 3],
    /// Level of the chamber at each of these, m.
    pub levels_m: [Figure; 3],
    /// A level that is wanted there, and what it takes.
    pub wish: Option<Wish>,
    /// Whether the chamber's level follows the door: it does not where the next water drowns it.
    pub has_effect: bool,
}

/// A limit of the level that may be kept in the return chamber.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SafeLimit {
    /// A failure that must leave the wanted freeboard, or a crest that must not drown.
    pub what: String,
    /// Whether water would reach the floor, or come too near to a rim, above it; else it only drowns a crest.
    pub is_flood: bool,
    /// The highest level, m; `None` when no level is low enough.
    pub level_m: Option<f64>,
}

/// What the return chamber holds in reserve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reserve {
    /// Name of the return chamber.
    pub chamber: String,
    /// Its basin.
    pub basin: usize,
    /// The level that is kept, m.
    pub kept_m: f64,
    /// Whether that is an assumption.
    pub kept_is_assumed: bool,
    /// Highest level that may be kept: the lowest of all limits, m; `None` when some failure leaves too
    /// little freeboard at any level.
    pub highest_safe_m: Option<f64>,
    /// What decides it.
    pub decided_by: String,
    /// All limits of the level that may be kept.
    pub limits: Vec<SafeLimit>,
    /// Level at which the pump begins to draw air, m.
    pub dry_m: f64,
    /// Water between the kept level and that, L.
    pub reserve_l: f64,
    /// How many days of evaporation that is, by the upper of two estimates where it is computed.
    pub days: f64,
    /// Levels at which the float of the top-up switches on and off, if it is in this chamber, m.
    pub float_m: Option<[f64; 2]>,
    /// What comes down after the pumps stop, L.
    pub drain_back_l: f64,
    /// Litres in the return chamber at the heights of its marks, m.
    pub marks: Vec<[f64; 2]>,
}

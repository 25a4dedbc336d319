//! What is told of weight.

use glam::DVec3;

/// Weight of a sump in three states, and what carries it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weight {
    /// Dry: what one carries in, loose parts taken out.
    pub carried: State,
    /// Dry with all loose parts and equipment in it.
    pub dry: State,
    /// Running; `None` where levels in flow are not known.
    pub running: Option<State>,
    /// All chambers full to the rim.
    pub full: State,
    /// Names of what has no known mass: it comes on top.
    pub unknown: Vec<String>,
}

/// Weight in one state.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// Mass of sheet and other parts with a known mass, kg.
    pub parts_kg: f64,
    /// Mass of water, kg.
    pub water_kg: f64,
    /// Centre of gravity in the sump's frame, mm.
    pub centre_mm: DVec3,
    /// Load at the corners, kg: front left, front right, back left, back right, seen from the front, on four feet.
    pub corners_kg: [f64; 4],
    /// Load per running metre of its length, greatest anywhere, kg/m.
    pub per_metre_kg: f64,
    /// Load over its footprint, kN/m².
    pub pressure_kn_m2: f64,
}

impl State {
    /// All of it, kg.
    pub fn total_kg(&self) -> f64 {
        self.parts_kg + self.water_kg
    }
}

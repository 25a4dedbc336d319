//! Tanks that hold water and the elements through which it passes between them.

use serde::Serialize;

use crate::law::{Flow, Law};

/// From a height upwards a tank has this plan area.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Height, m.
    pub z_m: f64,
    /// Plan area of the water from here up to the next step, m²; positive.
    pub area_m2: f64,
}

/// Something that holds water: a chamber, the display, a reservoir; or an accumulator such as the floor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Tank {
    /// What it is called.
    pub name: String,
    /// Plan area by height, lowest first; never empty; the last step is open above.
    pub steps: Vec<Step>,
}

impl Tank {
    /// A tank of the same area at every height.
    pub fn prism(name: impl Into<String>, floor_m: f64, area_m2: f64) -> Self {
        Self { name: name.into(), steps: vec![Step { z_m: floor_m, area_m2 }] }
    }
}

/// Elements whose coefficients err alike: the same formula, the same handbook, the same doubt. The band
/// of a result is found by leaning kind by kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Plain crests: of leaves, doors set as crests, the display's overflow, rims.
    Crest,
    /// Combs and rows of slots.
    Slots,
    /// Underflow gaps, letterboxes, holes, doors' openings, leaks.
    Opening,
    /// Pipes that run full.
    Pipe,
    /// Mouths of open pipes.
    Lip,
    /// Pumps with their lines.
    Pump,
    /// Filter socks.
    Sock,
    /// What is given and not in doubt: dosing, evaporation.
    Given,
}

impl Kind {
    /// All kinds, in order.
    pub const ALL: [Self; 8] = [
        Self::Crest,
        Self::Slots,
        Self::Opening,
        Self::Pipe,
        Self::Lip,
        Self::Pump,
        Self::Sock,
        Self::Given,
    ];
}

/// A way for water from one tank to another.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Element {
    /// What it is called, unique in its network.
    pub name: String,
    /// Which elements it errs alike with.
    pub kind: Kind,
    /// Index of the upstream tank.
    pub up: usize,
    /// Index of the downstream tank.
    pub down: usize,
    /// How it passes.
    pub law: Law,
    /// Share of the law's discharge that passes: 1 as made, 0 closed.
    pub scale: f64,
    /// Where in the band of the law's uncertainty it is taken, -1 to 1.
    pub lean: f64,
}

impl Element {
    /// Discharge at the levels of its two tanks, m.
    pub fn flow(&self, up_m: f64, down_m: f64) -> Flow {
        let flow = self.law.flow(up_m, down_m, self.lean);
        Flow { q: self.scale * flow.q, up: self.scale * flow.up, down: self.scale * flow.down }
    }
}

/// All tanks and elements of a system.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Network {
    /// What holds water.
    pub tanks: Vec<Tank>,
    /// What it passes through.
    pub elements: Vec<Element>,
}

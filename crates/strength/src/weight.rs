//! What is told of weight.

mod bodies;
mod feet;
mod water;

use design::{Design, RemovableKind};
use glam::DVec3;
use serde::Serialize;

use crate::waters::Waters;
use bodies::{Bodies, Lump};

pub use feet::on_four_feet;

/// Weight of a sump in four states, and what carries it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct State {
    /// Mass of sheet and other parts with a known mass, kg.
    pub parts_kg: f64,
    /// Mass of water, kg. What stands in it without a known mass counts as heavy as the water in its place.
    pub water_kg: f64,
    /// Centre of gravity in the sump's frame, mm.
    pub centre_mm: DVec3,
    /// Load at the corners, kg: front left, front right, back left, back right, seen from the front, on four feet.
    pub corners_kg: [f64; 4],
    /// Load per running metre of its length, kg/m: the greatest mean over any [`STRETCH_MM`], or over all of a shorter
    /// sump.
    pub per_metre_kg: f64,
    /// Load over its footprint, kN/m².
    pub pressure_kn_m2: f64,
}

/// Over this length a board under the sump spreads what stands on it, mm; our judgement. Over less, an end wall alone
/// would count as a heavy load.
pub const STRETCH_MM: f64 = 300.0;

/// Standard acceleration of gravity, m/s² (ISO 80000-3).
const GRAVITY: f64 = 9.806_65;

impl State {
    /// All of it, kg.
    pub fn total_kg(&self) -> f64 {
        self.parts_kg + self.water_kg
    }

    /// Of lumps of parts and of water, on the footprint of this design.
    fn of(design: &Design, parts: &[Lump], water: &[Lump]) -> Self {
        let all = || parts.iter().chain(water);
        let total: f64 = all().map(|lump| lump.kg).sum();
        let outside = design.outside;
        if total <= 0.0 {
            return Self::default();
        }
        let centre_mm = all().map(|lump| lump.kg * lump.centre).sum::<DVec3>() / total;
        Self {
            // An empty sum is minus zero.
            parts_kg: parts.iter().map(|lump| lump.kg).sum::<f64>() + 0.0,
            water_kg: water.iter().map(|lump| lump.kg).sum::<f64>() + 0.0,
            centre_mm,
            corners_kg: on_four_feet(total, centre_mm.truncate(), outside.truncate()),
            per_metre_kg: per_metre_kg(all(), outside.x),
            pressure_kn_m2: total * GRAVITY * 1e-3 / (outside.x * outside.y * 1e-6),
        }
    }
}

/// Weighs a design with water as high as it is told.
///
/// Sheet weighs its volume by its density, equipment what the file says; printed parts, screws, socks and pipes have no
/// known mass.
pub(crate) fn weigh(design: &Design, waters: &Waters) -> Weight {
    let bodies = Bodies::of(design);
    let sump = design.removables.iter().find(|r| r.kind == RemovableKind::Sump);
    let fixed: &[usize] = sump.map_or(&[], |sump| &sump.parts);
    let carried = bodies.lumps(|placed| fixed.contains(&placed));
    let dry = bodies.lumps(|_| true);
    Weight {
        carried: State::of(design, &carried, &[]),
        running: water::running(design, waters, &bodies)
            .map(|water| State::of(design, &dry, &water)),
        full: State::of(design, &dry, &water::full(design, waters, &bodies)),
        dry: State::of(design, &dry, &[]),
        unknown: bodies.unknown(),
    }
}

/// The greatest mean load over any stretch of the length, kg/m.
///
/// Every lump counts as spread evenly over its own length. The mean over a window of fixed length is linear in between,
/// so that it is greatest where one of the window's ends meets an end of a lump.
fn per_metre_kg<'a>(lumps: impl Iterator<Item = &'a Lump>, length_mm: f64) -> f64 {
    let lumps: Vec<&Lump> = lumps.collect();
    let stretch = STRETCH_MM.min(length_mm);
    let within = |from: f64| -> f64 {
        let to = from + stretch;
        let share = |[a, b]: [f64; 2]| {
            if b > a { ((b.min(to) - a.max(from)) / (b - a)).max(0.0) } else { 0.0 }
        };
        lumps.iter().map(|lump| lump.kg * share(lump.along_mm)).sum()
    };
    let ends = lumps.iter().flat_map(|lump| lump.along_mm);
    let starts = ends.flat_map(|x| [x, x - stretch]);
    let starts = starts.map(|x| x.clamp(0.0, length_mm - stretch));
    starts.map(within).fold(0.0, f64::max) / (stretch * 1e-3)
}

#[cfg(test)]
mod tests;

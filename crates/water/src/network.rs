//! Tanks that hold water and the elements through which it passes between them.

mod check;

use serde::Serialize;

pub use check::NetworkError;

use crate::band::Leans;
use crate::law::{Flow, Law};

/// From a height upwards a tank has this plan area.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Height, m.
    pub z_m: f64,
    /// Plan area of the water from here up to the next step, m²; positive.
    pub area_m2: f64,
}

/// Bottom of tanks that only collect, m.
const SINK_M: f64 = -100.0;

/// Something that holds water: a chamber, the display, a reservoir; or an accumulator such as the floor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Tank {
    /// What it is called.
    pub name: String,
    /// Plan area by height, lowest first; never empty; the last step is open above.
    pub steps: Vec<Step>,
    /// It only collects, as the floor and the air do: no discharge depends on its level. Its volume is
    /// kept exactly like any other, but its level is nobody's result, so it does not hold up time steps.
    pub is_sink: bool,
}

impl Tank {
    /// A tank of the same area at every height.
    pub fn prism(name: impl Into<String>, floor_m: f64, area_m2: f64) -> Self {
        Self { name: name.into(), steps: vec![Step { z_m: floor_m, area_m2 }], is_sink: false }
    }

    /// What only collects: the floor, the air. It lies so deep that no outlet into it is ever drowned.
    pub fn sink(name: impl Into<String>) -> Self {
        Self { is_sink: true, ..Self::prism(name, SINK_M, 1.0) }
    }

    /// Height of its bottom, m.
    pub fn floor_m(&self) -> f64 {
        self.steps.first().map_or(0.0, |step| step.z_m)
    }

    /// Level (m) at a volume (m³), and the area (m²) there: the exact inverse of [`Tank::volume`]. Below
    /// the bottom the first area is continued, for a level may be a rounding under it.
    pub fn level(&self, volume_m3: f64) -> (f64, f64) {
        let mut left = volume_m3;
        let mut steps = self.steps.iter();
        let Some(mut here) = steps.next() else { return (0.0, 1.0) };
        for above in steps {
            let held = here.area_m2 * (above.z_m - here.z_m);
            if left < held {
                break;
            }
            left -= held;
            here = above;
        }
        (here.z_m + left / here.area_m2, here.area_m2)
    }

    /// Volume (m³) up to a level (m), and the area (m²) there.
    pub fn volume(&self, level_m: f64) -> (f64, f64) {
        let mut below = 0.0;
        let mut steps = self.steps.iter();
        let Some(mut here) = steps.next() else { return (0.0, 1.0) };
        for above in steps {
            if level_m < above.z_m {
                break;
            }
            below += here.area_m2 * (above.z_m - here.z_m);
            here = above;
        }
        (below + here.area_m2 * (level_m - here.z_m), here.area_m2)
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
    /// Whether anything of its discharge passes.
    pub fn is_open(&self) -> bool {
        self.scale.abs() > 0.0
    }

    /// Discharge alone, m³/s: that of [`Element::flow`]. The law is compiled into it, so that what only
    /// derivatives need is left out.
    #[inline(never)]
    pub(crate) fn discharge(&self, up_m: f64, down_m: f64) -> f64 {
        self.scale * self.law.flow(up_m, down_m, self.lean).q
    }

    /// Discharge at the levels of its two tanks, m.
    #[inline]
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

impl Network {
    /// Net inflow of every tank, m³/s, at these levels, as many as there are tanks. What leaves one tank enters another, the same
    /// number with the other sign, so the sum over all tanks is zero.
    pub fn inflow(&self, levels_m: &[f64]) -> Vec<f64> {
        let mut inflow = vec![0.0; self.tanks.len()];
        for element in self.elements.iter().filter(|e| e.is_open()) {
            let q = element.flow(levels_m[element.up], levels_m[element.down]).q;
            inflow[element.up] -= q;
            inflow[element.down] += q;
        }
        inflow
    }

    /// Volume of every tank at these levels, m³.
    pub fn volumes(&self, levels_m: &[f64]) -> Vec<f64> {
        self.tanks.iter().zip(levels_m).map(|(tank, &z)| tank.volume(z).0).collect()
    }

    /// Level of every tank with these volumes, m.
    pub fn levels(&self, volumes_m3: &[f64]) -> Vec<f64> {
        self.tanks.iter().zip(volumes_m3).map(|(tank, &v)| tank.level(v).0).collect()
    }

    /// Takes every element where its kind leans.
    pub fn lean(&mut self, leans: &Leans) {
        for element in &mut self.elements {
            element.lean = leans.of(element.kind);
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn stepped() -> Tank {
        let step = |z_m, area_m2| Step { z_m, area_m2 };
        let steps = vec![step(0.8, 0.5), step(1.05, 0.6), step(1.2, 0.03)];
        Tank { name: "display".into(), steps, is_sink: false }
    }

    proptest! {
        #[test]
        fn level_is_the_inverse_of_volume(z in 0.7..1.5) {
            let (v, area) = stepped().volume(z);
            let (back, area_back) = stepped().level(v);
            prop_assert!((back - z).abs() < 1e-14, "{z} came back as {back}");
            // On a step itself a rounding decides on which side the level lies.
            if stepped().steps.iter().all(|s| 1e-12 < (s.z_m - z).abs()) {
                prop_assert!((area - area_back).abs() < 1e-15);
            }
        }
    }

    #[test]
    fn volume_of_a_stepped_tank_is_the_sum_of_its_slices() {
        let (v, area) = stepped().volume(1.3);
        assert!((v - (0.25 * 0.5 + 0.15 * 0.6 + 0.1 * 0.03)).abs() < 1e-15);
        assert!((area - 0.03).abs() < 1e-15);
    }

    #[test]
    fn below_the_bottom_the_first_area_goes_on() {
        let (z, area) = stepped().level(-1e-9);
        assert!((z - (0.8 - 2e-9)).abs() < 1e-15 && (area - 0.5).abs() < 1e-15);
    }
}

//! Flow laws. Each is a smooth discharge between two levels that never falls as the upper level rises
//! and never rises as the lower level rises.
//!
//! That sign contract is what everything rests on: the steady state is unique, elimination needs no
//! pivoting, and more water anywhere never lowers a level anywhere.

mod crest;
pub mod doubt;
mod fabric;
mod gate;
mod lip;
mod mouth;
mod pipe;
mod pump;
mod range;
mod rate;
mod strips;

use std::sync::Arc;

use serde::Serialize;

pub use crest::Crest;
pub use fabric::Fabric;
pub use gate::Gate;
pub use lip::{FullPipe, Lip};
pub use mouth::Mouth;
pub use pipe::Pipe;
pub use pump::Pump;
pub use range::{Range, Validity};
pub use rate::Rate;
pub use strips::{SHARP, Strip, Strips};

use crate::pump_curve::PumpTable;
use crate::table::Table;

/// Discharge between two levels and how it answers to each.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Flow {
    /// Discharge from the upstream side to the downstream side, m³/s; negative when it runs back.
    pub q: f64,
    /// Its derivative by the upstream level, m²/s; never negative.
    pub up: f64,
    /// Its derivative by the downstream level, m²/s; never positive.
    pub down: f64,
}

impl Flow {
    /// The same flow seen from the other side.
    #[inline]
    fn back(self) -> Self {
        Self { q: -self.q, up: -self.down, down: -self.up }
    }
}

/// How water passes from one tank to another.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "law", rename_all = "kebab-case")]
pub enum Law {
    /// A plain crest.
    Crest(Crest),
    /// An opening in an upright wall.
    Strips(Strips),
    /// The open mouth of an upright pipe.
    Lip(Lip),
    /// A hole in a level plate.
    Mouth(Mouth),
    /// A pipe that runs full.
    Pipe(Pipe),
    /// A pump with its return line.
    Pump(Pump),
    /// A filter sock.
    Fabric(Fabric),
    /// A given rate.
    Rate(Rate),
}

impl Law {
    /// A plain crest; see [`Crest::new`].
    pub fn crest(
        crest_m: f64,
        width_m: f64,
        thickness_m: f64,
        height_over_floor_m: f64,
        channel_width_m: f64,
    ) -> Self {
        Self::Crest(Crest::new(crest_m, width_m, thickness_m, height_over_floor_m, channel_width_m))
    }

    /// A rectangular opening with a sharp edge; see [`Strips::rectangle`].
    pub fn rectangle(z0_m: f64, z1_m: f64, width_m: f64) -> Self {
        Self::Strips(Strips::rectangle(SHARP, z0_m, z1_m, width_m))
    }

    /// The open mouth of an upright pipe; see [`Lip::new`].
    pub fn lip(lip_m: f64, bore_m: f64, full: Option<FullPipe>) -> Self {
        Self::Lip(Lip::new(lip_m, bore_m, full))
    }

    /// A hole in a level plate; see [`Mouth::new`].
    pub fn mouth(lip_m: f64, perimeter_m: f64, area_m2: f64) -> Self {
        Self::Mouth(Mouth::new(lip_m, perimeter_m, area_m2))
    }

    /// A pipe that runs full; see [`Pipe::new`].
    pub fn pipe(out_m: f64, gate: Option<Gate>, table: Arc<Table>) -> Self {
        Self::Pipe(Pipe::new(out_m, gate, table))
    }

    /// A pump with its return line; see [`Pump::new`].
    pub fn pump(out_m: f64, gate: Option<Gate>, table: Arc<PumpTable>) -> Self {
        Self::Pump(Pump::new(out_m, gate, table))
    }

    /// A filter sock; see [`Fabric::new`].
    pub fn fabric(
        z0_m: f64,
        z1_m: f64,
        perimeter_m: f64,
        bottom_area_m2: f64,
        conductance: f64,
    ) -> Self {
        Self::Fabric(Fabric::new(z0_m, z1_m, perimeter_m, bottom_area_m2, conductance))
    }

    /// A given rate; see [`Rate::new`].
    pub fn rate(q_m3_s: f64, gate: Option<Gate>) -> Self {
        Self::Rate(Rate::new(q_m3_s, gate))
    }

    /// Discharge at these levels (m). `lean` from -1 to 1 says where in its band of uncertainty the
    /// law is taken: -1 passes least, 0 is the best estimate, 1 passes most.
    #[inline(always)]
    pub fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        match self {
            Self::Crest(law) => either_way(up_m, down_m, |up, down| law.flow(up, down, lean)),
            Self::Strips(law) => either_way(up_m, down_m, |up, down| law.flow(up, down, lean)),
            Self::Mouth(law) => either_way(up_m, down_m, |up, down| law.flow(up, down, lean)),
            Self::Fabric(law) => either_way(up_m, down_m, |up, down| law.flow(up, down, lean)),
            Self::Lip(law) => law.flow(up_m, down_m, lean),
            Self::Pipe(law) => law.flow(up_m, down_m, lean),
            Self::Pump(law) => law.flow(up_m, down_m, lean),
            Self::Rate(law) => law.flow(up_m),
        }
    }

    /// How far the law may be trusted at these levels, m.
    pub fn range(&self, up_m: f64, down_m: f64) -> Range {
        match self {
            Self::Crest(law) => law.range(up_m, down_m),
            Self::Strips(law) => law.range(up_m, down_m),
            Self::Lip(law) => law.range(up_m, down_m),
            Self::Mouth(law) => law.range(up_m, down_m),
            Self::Pipe(law) => law.range(up_m, down_m),
            Self::Pump(law) => law.range(up_m, down_m),
            Self::Fabric(law) => law.range(up_m, down_m),
            Self::Rate(_) => Range::WITHIN,
        }
    }

    /// Upstream level at and below which nothing passes forwards, m; none where there is no such level.
    pub fn sill_m(&self) -> Option<f64> {
        match self {
            Self::Crest(law) => Some(law.crest_m()),
            Self::Strips(law) => law.sill_m(),
            Self::Lip(law) => Some(law.lip_m),
            Self::Mouth(law) => Some(law.lip_m),
            Self::Fabric(law) => Some(law.z0_m),
            Self::Pipe(law) => law.gate.as_ref().map(|gate| gate.z_m),
            Self::Pump(law) => law.gate.as_ref().map(|gate| gate.z_m),
            Self::Rate(law) => law.gate.as_ref().map(|gate| gate.z_m),
        }
    }

    /// Whether it lets water run back when the downstream level is the higher.
    pub fn runs_back(&self) -> bool {
        matches!(self, Self::Crest(_) | Self::Strips(_) | Self::Mouth(_) | Self::Fabric(_))
    }

    /// The same law with another relative doubt, 0 to 0.9; a rate has none.
    #[must_use]
    pub fn with_doubt(mut self, relative: f64) -> Self {
        let relative = relative.clamp(0.0, 0.9);
        match &mut self {
            Self::Crest(law) => law.doubt = relative,
            Self::Strips(law) => law.doubt = relative,
            Self::Lip(law) => law.doubt = relative,
            Self::Mouth(law) => law.doubt = relative,
            Self::Pipe(law) => law.doubt = relative,
            Self::Pump(law) => law.doubt = relative,
            Self::Fabric(law) => law.doubt = relative,
            Self::Rate(_) => {}
        }
        self
    }
}

/// Runs a law from the higher level to the lower.
#[inline(always)]
fn either_way(up_m: f64, down_m: f64, law: impl Fn(f64, f64) -> Flow) -> Flow {
    let is_forward = up_m >= down_m;
    let (high_m, low_m) = if is_forward { (up_m, down_m) } else { (down_m, up_m) };
    let flow = law(high_m, low_m);
    if is_forward { flow } else { flow.back() }
}

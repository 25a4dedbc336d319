//! Flow laws. Each is a smooth discharge between two levels that never falls as the upper level rises
//! and never rises as the lower level rises.
//!
//! That sign contract is what everything rests on: the steady state is unique, elimination needs no
//! pivoting, and more water anywhere never lowers a level anywhere.

use serde::Serialize;

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

/// How water passes from one tank to another.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "law", rename_all = "kebab-case")]
pub enum Law {}

impl Law {
    /// Discharge at these levels (m). `lean` from -1 to 1 says where in its band of uncertainty the
    /// law is taken: -1 passes least, 0 is the best estimate, 1 passes most.
    pub fn flow(&self, _up_m: f64, _down_m: f64, _lean: f64) -> Flow {
        match *self {}
    }
}

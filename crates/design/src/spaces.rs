//! Spaces that hold water, and the ways between them.

use glam::DVec2;

use crate::frame::{Axis, Host};

/// Where water stands: a chamber, or the space between two leaves.
#[derive(Clone, Debug)]
pub(crate) struct Space {
    pub(crate) name: String,
    pub(crate) parameter: String,
    pub(crate) min: DVec2,
    pub(crate) max: DVec2,
    /// `false` for the space between leaves of one divider.
    pub(crate) is_chamber: bool,
    /// Level that the file asks for, mm above the bottom.
    pub(crate) kept_level_mm: Option<f64>,
    /// Part whose face bounds the space at its least and greatest x.
    pub(crate) x_hosts: [Host; 2],
    /// The same for y.
    pub(crate) y_hosts: [Host; 2],
    /// How far guides stand into the space along x from its least and greatest x, mm.
    pub(crate) x_guides_mm: [f64; 2],
}

/// A way for water through or over a leaf.
#[derive(Clone, Debug)]
pub(crate) struct Pass {
    /// Axis along which the water goes.
    pub(crate) axis: Axis,
    /// Where the leaf begins and ends along it.
    pub(crate) through: [f64; 2],
    /// Where the way lies across it.
    pub(crate) across: [f64; 2],
    /// Height of its lower edge above the bottom, mm.
    pub(crate) sill_mm: f64,
    /// What it is, in words.
    pub(crate) what: String,
}

/// All spaces and the ways between them.
#[derive(Debug, Default)]
pub(crate) struct Layout {
    pub(crate) spaces: Vec<Space>,
    pub(crate) passes: Vec<Pass>,
}

impl Layout {
    /// The chamber of this name; names were checked when the file was read, but a row that did not
    /// fit has left its chambers out.
    pub(crate) fn chamber(&self, name: &str) -> Option<&Space> {
        self.spaces.iter().find(|s| s.is_chamber && s.name == name)
    }
}

//! Spaces that hold water, and the ways between them.

use glam::DVec2;

use crate::frame::{Axis, Host};
use crate::waterworks::{WayKind, WayShape};

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
    /// The same along y.
    pub(crate) y_guides_mm: [f64; 2],
}

/// A way for water through or over a leaf.
#[derive(Clone, Debug)]
pub(crate) struct Pass {
    pub(crate) kind: WayKind,
    /// Name of the leaf.
    pub(crate) leaf: String,
    /// Whether that leaf stands in guides, past which it leaks.
    pub(crate) lifts_out: bool,
    /// Axis along which the water goes.
    pub(crate) axis: Axis,
    /// Where the leaf begins and ends along it.
    pub(crate) through: [f64; 2],
    /// Where the way lies across it.
    pub(crate) across: [f64; 2],
    /// Height of its lower edge above the bottom, mm.
    pub(crate) sill_mm: f64,
    /// Its measures.
    pub(crate) shape: WayShape,
    /// Name of the leaf's divider, and the path of its parameter.
    pub(crate) divider: (String, String),
    /// Which leaf of the divider, counted in flow order.
    pub(crate) place: usize,
    /// Thickness of the leaf, mm.
    pub(crate) sheet_mm: f64,
    /// Clear width of the row that the leaf divides, mm.
    pub(crate) channel_mm: f64,
    /// Height of the leaf's upper edge, mm.
    pub(crate) top_mm: f64,
}

/// Either side of a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Upstream,
    Downstream,
}

/// Faces that are this close belong together, mm.
const SAME_FACE_MM: f64 = 1e-6;
/// A way opens into a space if it shares this much with it, mm.
const LEAST_OVERLAP_MM: f64 = 1.0;

impl Pass {
    /// Whether the space is the one on that side, or one of them.
    pub(crate) fn opens_into(&self, space: &Space, side: Side) -> bool {
        let (face, plane) = match side {
            Side::Upstream => (self.axis.of(space.max), self.through[0]),
            Side::Downstream => (self.axis.of(space.min), self.through[1]),
        };
        let across = self.axis.across();
        let shared =
            self.across[1].min(across.of(space.max)) - self.across[0].max(across.of(space.min));
        (face - plane).abs() <= SAME_FACE_MM && shared >= LEAST_OVERLAP_MM
    }

    /// What it is, in words.
    pub(crate) fn words(&self) -> String {
        let (kind, leaf) = (self.kind.words(), &self.leaf);
        if self.lifts_out {
            format!("{kind} of the lift-out leaf `{leaf}`, which leaks when the flow stops")
        } else {
            format!("{kind} of leaf `{leaf}`")
        }
    }
}

/// All spaces and the ways between them.
#[derive(Debug, Default)]
pub(crate) struct Layout {
    pub(crate) spaces: Vec<Space>,
    /// Ways of the leaves that are in.
    pub(crate) passes: Vec<Pass>,
    /// Ways of leaves that can take another's place.
    pub(crate) spare_passes: Vec<Pass>,
}

impl Layout {
    /// The chamber of this name; names were checked when the file was read, but a row that did not
    /// fit has left its chambers out.
    pub(crate) fn chamber(&self, name: &str) -> Option<&Space> {
        self.spaces.iter().find(|s| s.is_chamber && s.name == name)
    }
}

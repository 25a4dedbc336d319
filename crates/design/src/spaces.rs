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
    /// The same along y.
    pub(crate) y_guides_mm: [f64; 2],
}

/// Which edge or opening of a leaf water passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PassKind {
    Crest,
    Comb,
    Underflow,
    Letterbox,
    Slots,
    Holes,
    FingerHoles,
    Door,
}

impl PassKind {
    /// What it is, in words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Crest => "the crest",
            Self::Comb => "the slots of the comb",
            Self::Underflow => "the gap under the lower edge",
            Self::Letterbox => "the letterbox",
            Self::Slots => "the slots",
            Self::Holes => "the holes",
            Self::FingerHoles => "the finger holes",
            Self::Door => "the door",
        }
    }
}

/// A way for water through or over a leaf.
#[derive(Clone, Debug)]
pub(crate) struct Pass {
    pub(crate) kind: PassKind,
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
    pub(crate) passes: Vec<Pass>,
}

impl Layout {
    /// The chamber of this name; names were checked when the file was read, but a row that did not
    /// fit has left its chambers out.
    pub(crate) fn chamber(&self, name: &str) -> Option<&Space> {
        self.spaces.iter().find(|s| s.is_chamber && s.name == name)
    }
}

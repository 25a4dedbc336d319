//! From the sump's frame to the paper, from above and from the front.

use glam::{DVec2, DVec3, dvec2};

/// From where a sump is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum View {
    /// From above, the front below.
    Plan,
    /// From the front, without what stands before it.
    Side,
}

impl View {
    pub(super) fn title(self) -> &'static str {
        match self {
            Self::Plan => "plan with clearances",
            Self::Side => "side view with clearances",
        }
    }

    pub(super) fn id(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Side => "side",
        }
    }

    pub(super) fn about(self) -> &'static str {
        match self {
            Self::Plan => {
                "From above, the front below; ceiling and lids are not drawn. Each thing with its least gap on every side, as far as it shows in this view; the number in brackets is its row in the table."
            }
            Self::Side => {
                "From the front, without the front walls. Each thing with its least gap on every side, as far as it shows in this view; the number in brackets is its row in the table."
            }
        }
    }

    /// Right and up, mm.
    pub(super) fn flat(self, p: DVec3) -> DVec2 {
        match self {
            Self::Plan => dvec2(p.x, p.y),
            Self::Side => dvec2(p.x, p.z),
        }
    }

    /// Unit vector towards the eye.
    pub(super) fn towards(self) -> DVec3 {
        match self {
            Self::Plan => DVec3::Z,
            Self::Side => -DVec3::Y,
        }
    }
}

/// From what a view shows to the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// Where the sump's outer lower front corner of the inlet end is.
    pub(super) origin: [f64; 2],
    pub(super) scale: f64,
}

impl Frame {
    pub(super) fn x(&self, mm: f64) -> f64 {
        self.origin[0] + mm / self.scale
    }

    pub(super) fn y(&self, mm: f64) -> f64 {
        self.origin[1] - mm / self.scale
    }

    pub(super) fn at(&self, p: DVec2) -> [f64; 2] {
        [self.x(p.x), self.y(p.y)]
    }
}

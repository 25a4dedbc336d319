//! Any body of ours, as plain data.

use glam::{DVec2, DVec3};

use crate::plate::Plate;
use crate::turned::Turned;

/// A body described by what makes it, in its own frame (mm).
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Cut from flat sheet, or printed as if it were.
    Sheet(Plate),
    /// Turned about the `z` axis.
    Turned(Turned),
}

impl Shape {
    /// Least and greatest corner around it, in its own frame; zeros of an outline without pieces.
    pub fn bounds(&self) -> [DVec3; 2] {
        match self {
            Self::Sheet(plate) => {
                let [lo, hi] = plate.outline.bounds().unwrap_or([DVec2::ZERO; 2]);
                [lo.extend(0.0), hi.extend(plate.thickness)]
            }
            Self::Turned(turned) => {
                let (r, [z0, z1]) = turned.extent();
                [DVec3::new(-r, -r, z0), DVec3::new(r, r, z1)]
            }
        }
    }
}

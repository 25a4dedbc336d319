//! Lines: how wide, how dark, of which colour.

use glam::{Vec3, vec3};

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    /// In units of a fine line.
    pub(super) width: f64,
    pub(super) colour: Vec3,
    /// How much of what is behind it is hidden, 0 to 1.
    pub(super) strength: f32,
}

/// Where water meets sheet.
pub(super) const WATERLINE: Pen = Pen { width: 1.5, colour: vec3(0.02, 0.20, 0.42), strength: 0.75 };

/// From a place to the part lifted out of it.
pub(super) const GUIDE: Pen = Pen { width: 1.1, colour: vec3(0.42, 0.13, 0.02), strength: 0.85 };

/// The edge of a body.
pub(super) fn edge(colour: Vec3, is_clear: bool) -> Pen {
    if is_clear {
        let hue = colour / colour.max_element().max(1e-3);
        Pen { width: 1.15, colour: hue * vec3(0.022, 0.085, 0.105), strength: 0.72 }
    } else {
        Pen { width: 1.15, colour: colour * 0.12 + Vec3::splat(0.012), strength: 0.72 }
    }
}

/// A line engraved into a body.
pub(super) fn engraving(colour: Vec3, is_clear: bool) -> Pen {
    let dark = if is_clear { vec3(0.03, 0.07, 0.09) } else { colour * 0.1 };
    Pen { width: 0.9, colour: dark, strength: 0.8 }
}

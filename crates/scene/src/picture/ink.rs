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
    /// The share of that which is left behind many sheets.
    pub(super) least: f32,
}

impl Pen {
    /// Shorter lines than this grow fainter, in units of a fine line's width: the many small edges of
    /// teeth and threads would run together into a dark patch.
    const SHORT: f64 = 16.0;

    /// The pen for a line of a length.
    pub(super) fn faded(self, length: f64) -> Self {
        let share = (length / Self::SHORT).clamp(0.3, 1.0);
        Self { strength: self.strength * super::pixel::single(share), ..self }
    }
}

/// Where water meets sheet.
pub(super) const WATERLINE: Pen =
    Pen { width: 1.5, colour: vec3(0.02, 0.20, 0.42), strength: 0.75, least: 0.4 };

/// From a place to the part lifted out of it.
pub(super) const GUIDE: Pen =
    Pen { width: 1.35, colour: vec3(0.62, 0.16, 0.02), strength: 0.9, least: 0.85 };

/// The edge of a body.
pub(super) fn edge(colour: Vec3, is_clear: bool) -> Pen {
    if is_clear {
        let hue = colour / colour.max_element().max(1e-3);
        Pen { width: 1.15, colour: hue * vec3(0.022, 0.085, 0.105), strength: 0.72, least: 0.16 }
    } else {
        Pen { width: 1.15, colour: colour * 0.12 + Vec3::splat(0.012), strength: 0.72, least: 0.16 }
    }
}

/// A line engraved into a body.
pub(super) fn engraving(colour: Vec3, is_clear: bool) -> Pen {
    let dark = if is_clear { vec3(0.03, 0.07, 0.09) } else { colour * 0.1 };
    Pen { width: 0.9, colour: dark, strength: 0.8, least: 0.3 }
}

/// The light beside a line engraved into clear sheet, which scatters light: it shows the line before
/// something dark.
pub(super) const FROST: Pen =
    Pen { width: 2.2, colour: vec3(0.80, 0.90, 0.92), strength: 0.55, least: 0.3 };

//! What is told of a panel that bends.

use design::{PieceId, PlacedId};
use glam::DVec2;

/// A panel under its loads. Lengths in mm, in the panel's own frame (`plate`'s x and y) unless said otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Which placed piece.
    pub placed: PlacedId,
    /// Its piece.
    pub piece: PieceId,
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Name of its sheet.
    pub sheet: String,
    /// Thickness that it is reckoned with: the least of the sheet's band.
    pub thickness_mm: f64,
    /// Corners of the rectangle that bends, `[lo, hi]`.
    pub rectangle_mm: [DVec2; 2],
    /// How its edges are held: left, right, lower, upper.
    pub edges: [Held; 4],
    /// Supports between its edges: glued dividers, braces, ledges, in words.
    pub supports: Vec<String>,
    /// What bears on it, the one that decides first.
    pub loads: Vec<Load>,
    /// Greatest tensile stress of any load and any way that its seams can be held.
    pub stress: Peak,
    /// Greatest deflection under lasting load, mm.
    pub deflection: Peak,
    /// Greatest deflection while the load is new, mm.
    pub deflection_at_first_mm: f64,
    /// Greatest tensile stress that its sheet may carry for years, MPa.
    pub allowable_mpa: f64,
    /// Bulge of its upper edge under lasting load, where that is no glued edge, mm.
    pub bulge_mm: Option<f64>,
    /// How far the linear theory of plates holds.
    pub theory: Theory,
    /// Corners of openings, notches and slots.
    pub corners: Vec<Corner>,
    /// Stress in the rim or brace along its upper edge, MPa, against its own allowable.
    pub rim: Option<RimStress>,
    /// Lines of equal deflection under the load that bends it most, lasting.
    pub contours: Vec<Contour>,
    /// What would make it hold, or hold better.
    pub remedies: Remedies,
}

impl Panel {
    /// How many times the greatest stress fits into what is allowed, corners and rim included where they were assessed.
    pub fn factor(&self) -> f64 {
        let corner = self.corners.iter().filter_map(|corner| corner.stress_mpa);
        let panel = corner.fold(self.stress.value, f64::max);
        let rim = self.rim.map_or(f64::INFINITY, |rim| rim.allowable_mpa / rim.stress_mpa);
        (self.allowable_mpa / panel).min(rim)
    }
}

/// How an edge is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Held {
    /// Not at all.
    Free,
    /// Glued to another sheet: neither hinged nor clamped, so both are run.
    Glued,
    /// Glued to a rim or brace that bends with it.
    Rim,
    /// In a channel or behind strips that hold it against being pushed through.
    Guided,
    /// Lies on something.
    Rests,
    /// By screws.
    Screwed,
}

/// What bears on a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// What it is, in words: `water to the rim, nothing behind`.
    pub words: String,
    /// Height of the water on the panel's upper face (`z` of its frame), mm above the inside of the bottom.
    pub before_mm: f64,
    /// The same on its lower face.
    pub behind_mm: f64,
    /// Greatest tensile stress under it, MPa, of all ways that the seams can be held.
    pub stress_mpa: f64,
    /// Greatest deflection under it, lasting, mm.
    pub deflection_mm: f64,
    /// How the seams are held when the stress is greatest.
    pub run: Run,
}

/// How glued seams are held in a run: no box lies outside these three.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Run {
    /// All turn freely.
    Hinged,
    /// Those at the sides are clamped alone.
    SidesClamped,
    /// Those at bottom and top are clamped alone.
    EndsClamped,
}

/// A greatest value and where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Peak {
    /// The value: MPa or mm.
    pub value: f64,
    /// Where, in the panel's frame, mm.
    pub at_mm: DVec2,
    /// Where, in words: `middle of the upper edge`.
    pub place: String,
    /// Index into [`Panel::loads`].
    pub load: usize,
}

/// How far the linear theory of plates holds, by deflection over thickness at first and lasting, whichever is more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Theory {
    /// Deflection up to half the thickness.
    Holds,
    /// More: true deflection is this share of what is told (1 = as told), and stress no more than 3 % higher.
    Overstates {
        /// Estimated true deflection by deflection told.
        share: f64,
    },
    /// Deflection over twice the thickness: refused.
    Refused,
}

/// A corner of an opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// Which: `opening 1, lower left`.
    pub words: String,
    /// Where, mm.
    pub at_mm: DVec2,
    /// Radius it has, mm.
    pub radius_mm: f64,
    /// Stress by the rule, MPa; `None` when it is not assessed.
    pub stress_mpa: Option<f64>,
    /// Why it is not assessed; empty when it is.
    pub why_not: String,
}

/// Bending of the rim along a panel's upper edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RimStress {
    /// Greatest tensile stress, MPa.
    pub stress_mpa: f64,
    /// What its sheet may carry for years, MPa.
    pub allowable_mpa: f64,
    /// Greatest pull in a brace, N; 0 without braces.
    pub brace_n: f64,
}

/// A line of equal deflection.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Deflection, mm; positive out of the panel's lower face.
    pub mm: f64,
    /// Points in the panel's frame, mm. A closed line ends where it begins.
    pub line: Vec<DVec2>,
}

/// What would make a panel hold, or hold better.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Remedies {
    /// Thinnest sheet, as ordered, of its material's usual thicknesses that would hold; `None` when none does.
    pub thinnest_mm: Option<f64>,
    /// With the rim half as wide again: factor and bulge, mm.
    pub wider_rim: Option<[f64; 2]>,
    /// With one more brace in the middle of the longest span: factor and bulge, mm.
    pub one_more_brace: Option<[f64; 2]>,
}

/// A sheet part of which no strength is computed.
#[derive(Clone, Debug, PartialEq)]
pub struct NotAssessed {
    /// Which placed piece.
    pub placed: PlacedId,
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Why.
    pub why: String,
}

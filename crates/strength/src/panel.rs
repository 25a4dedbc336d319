//! What is told of a panel that bends.

use design::{PieceId, PlacedId};
use glam::DVec2;
use serde::Serialize;

use crate::screws::Screws;

/// Share of its shorter side that a panel may bend under lasting load, unless the file says otherwise; our judgement.
pub const BEND_SHARE: f64 = 0.01;

/// Width of the rim that is tried on a box without one, mm; common practice: 40 to 60 mm.
pub const TRIED_RIM_MM: f64 = 50.0;

/// A panel under its loads. Lengths in mm, in the panel's own frame (`plate`'s x and y) unless said otherwise.
#[derive(Clone, Debug, PartialEq, Serialize)]
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
    /// Lines along which it is held, those at its edges included.
    pub lines: Vec<Line>,
    /// Where braces meet its upper edge, along x.
    pub braces_mm: Vec<f64>,
    /// What bears on it, the one that decides first.
    pub loads: Vec<Load>,
    /// Greatest tensile stress of any load and any way that its seams can be held.
    pub stress: Peak,
    /// Greatest deflection, mm: of loads of hours as at first, of the others as after years.
    pub deflection: Peak,
    /// Most that it may bend, mm.
    pub deflection_limit_mm: f64,
    /// Greatest tensile stress that its sheet may carry for years, MPa.
    pub allowable_mpa: f64,
    /// What a load of hours may stress it, MPa, where [`Panel::stress`] is.
    pub brief_mpa: f64,
    /// Greatest tensile stress that a face in water may carry for years, MPa: corners of openings are held to it, for water
    /// comes to them.
    pub wet_mpa: f64,
    /// Strength of its sheet in a short test, MPa.
    pub strength_mpa: f64,
    /// What is doubtful of it as a thin plate.
    pub doubts: Vec<Doubt>,
    /// Bulge of its upper edge, where that is no glued edge, mm: after years with the level in flow, and the greatest of all.
    pub bulge_mm: Option<[f64; 2]>,
    /// Corners of openings, notches and slots.
    pub corners: Vec<Corner>,
    /// Stress in the rim or brace along its upper edge, MPa, against its own allowable.
    pub rim: Option<RimStress>,
    /// Of a door, how it is set where it is strained most, which is how it is told of.
    pub set: Option<DoorSet>,
    /// Of a door that water pushes off its leaf, what its screws carry.
    pub screws: Option<Screws>,
    /// Lines of equal deflection under the load that bends it most.
    pub contours: Vec<Contour>,
    /// The same deflection on a grid.
    pub shape: Shape,
    /// What would make it hold, or hold better.
    pub remedies: Remedies,
}

impl Panel {
    /// How many times the greatest stress of any load fits into what may be carried for years; corners and rim are
    /// included where they were assessed.
    pub fn factor(&self) -> f64 {
        let loads = self.loads.iter().map(|load| load.stress_mpa / load.allowable_mpa);
        let corners = self.corners.iter().filter_map(|corner| corner.stress_mpa);
        let rim = self.rim.as_ref().map(|rim| rim.stress_mpa / rim.allowable_mpa);
        self.factor_of(loads, corners, rim)
    }

    /// The same of the loads that bear for years alone; infinite where none does.
    pub fn lasting_factor(&self) -> f64 {
        let lasting = self.loads.iter().filter(|load| load.is_lasting);
        let loads = lasting.map(|load| load.stress_mpa / load.allowable_mpa);
        let corners = self.corners.iter().filter_map(|corner| corner.lasting_mpa);
        let rim = self.rim.as_ref().map(|rim| rim.lasting_mpa / rim.allowable_mpa);
        self.factor_of(loads, corners, rim)
    }

    fn factor_of(
        &self,
        loads: impl Iterator<Item = f64>,
        corners_mpa: impl Iterator<Item = f64>,
        rim: Option<f64>,
    ) -> f64 {
        let corners = corners_mpa.map(|mpa| mpa / self.wet_mpa);
        1.0 / loads.chain(corners).chain(rim).fold(0.0, f64::max)
    }

    /// The worst of all loads.
    pub fn theory(&self) -> Theory {
        let depth = |theory: &Theory| match theory {
            Theory::Holds => 0,
            Theory::Overstates { .. } => 1,
            Theory::Refused => 2,
        };
        let all = self.loads.iter().map(|load| load.theory);
        all.max_by_key(depth).unwrap_or(Theory::Holds)
    }
}

/// How a door is set.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DoorSet {
    /// At which place of its range.
    pub at: DoorAt,
    /// How far it is raised above where the design has it, mm; negative where it is lowered.
    pub raised_mm: f64,
}

/// A place of a door's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DoorAt {
    /// As low as it goes.
    Lowest,
    /// As the file sets it.
    AsSet,
    /// As high as it goes.
    Highest,
}

impl DoorAt {
    /// `the door as low as it goes`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Lowest => "the door as low as it goes",
            Self::AsSet => "the door as it is set",
            Self::Highest => "the door as high as it goes",
        }
    }
}

/// How an edge is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
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
}

/// A line along which a panel is held.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// How.
    pub held: Held,
    /// Name of the part that holds it; of a frame under it, its own.
    pub by: String,
    /// Whether it runs along an edge.
    pub is_edge: bool,
    /// Its ends, mm.
    pub ends_mm: [DVec2; 2],
}

/// How long a load bears.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Duration {
    /// While somebody fills, drains or works at it.
    Hours,
    /// Until somebody comes and mends what failed.
    Days,
    /// In flow.
    Years,
}

/// What bears on a panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Load {
    /// What it is, in words: `water to the rim, nothing behind`.
    pub words: String,
    /// Height of the water on the panel's upper face (`z` of its frame), mm above the inside of the bottom.
    pub before_mm: f64,
    /// The same on its lower face.
    pub behind_mm: f64,
    /// Whether it bears for years; the others bear for hours or days.
    pub is_lasting: bool,
    /// How long it bears.
    pub duration: Duration,
    /// Greatest tensile stress under it, MPa, of all ways that the seams can be held.
    pub stress_mpa: f64,
    /// What may be carried for years where that stress is, MPa.
    pub allowable_mpa: f64,
    /// What may be carried there for as long as it bears, MPa.
    pub limit_mpa: f64,
    /// Where that stress is, in words.
    pub stress_place: String,
    /// Greatest deflection under it, mm: of hours as at first, of days and years as after years.
    pub deflection_mm: f64,
    /// Where that deflection is, in words.
    pub deflection_place: String,
    /// How far the theory holds for that deflection.
    pub theory: Theory,
    /// How the seams are held when the stress is greatest.
    pub run: Run,
}

/// How glued seams are held in a run: no box lies outside these three.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Run {
    /// All turn freely.
    Hinged,
    /// Those at the sides are clamped alone.
    SidesClamped,
    /// Those at bottom and top are clamped alone.
    EndsClamped,
}

/// A greatest value and where it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
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

/// How far the linear theory of plates holds, by deflection over thickness.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "theory")]
pub enum Theory {
    /// Deflection up to half the thickness.
    Holds,
    /// More: the true deflection is about this share of what is told, and the stress at most 3 % higher.
    Overstates {
        /// Estimated true deflection by deflection told.
        share: f64,
    },
    /// Deflection over twice the thickness: refused.
    Refused,
}

/// What is doubtful of a panel as a thin plate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Doubt {
    /// What it is about.
    pub of: DoubtOf,
    /// The doubt, in words.
    pub words: String,
}

/// What a doubt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DoubtOf {
    /// Whether the theory of thin plates fits: thick for its span, or a narrow bar.
    Plate,
    /// A field of small holes, reckoned as whole sheet.
    Field,
}

/// What a corner belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CornerOf {
    /// A single opening, or a hole.
    Opening,
    /// A field of openings, reckoned as one.
    Field,
    /// What is open at an edge: slots, notches, teeth.
    Edge,
}

/// A corner of an opening.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Corner {
    /// What it belongs to.
    pub of: CornerOf,
    /// Which: `opening 1, lower left`.
    pub words: String,
    /// Where, mm.
    pub at_mm: DVec2,
    /// Radius it has, mm.
    pub radius_mm: f64,
    /// Greatest stress by the rule, MPa; `None` when it is not assessed.
    pub stress_mpa: Option<f64>,
    /// The same of loads that bear for years.
    pub lasting_mpa: Option<f64>,
    /// The stress under each of [`Panel::loads`], MPa; empty when it is not assessed.
    pub loads_mpa: Vec<f64>,
    /// Why it is not assessed; empty when it is.
    pub why_not: String,
}

/// Bending of the rim along a panel's upper edge.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RimStress {
    /// Greatest tensile stress, MPa.
    pub stress_mpa: f64,
    /// The same of loads that bear for years, MPa.
    pub lasting_mpa: f64,
    /// The stress under each of [`Panel::loads`], MPa.
    pub loads_mpa: Vec<f64>,
    /// What its sheet may carry for years, MPa.
    pub allowable_mpa: f64,
    /// Strength of its sheet in a short test, MPa.
    pub strength_mpa: f64,
    /// Greatest pull in a brace, N; 0 without braces.
    pub brace_n: f64,
}

/// A line of equal deflection.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Contour {
    /// Deflection, mm; positive out of the panel's lower face.
    pub mm: f64,
    /// Points in the panel's frame, mm. A closed line ends where it begins.
    pub line: Vec<DVec2>,
}

/// Deflection on a grid of places under the load that bends the panel most.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Shape {
    /// Places along x, mm, ascending.
    pub xs_mm: Vec<f64>,
    /// Places along y.
    pub ys_mm: Vec<f64>,
    /// Deflection, mm, out of the lower face, row by row from the lowest; `None` in openings.
    pub mm: Vec<Option<f64>>,
}

/// What would make a panel hold, or hold better.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Remedies {
    /// Thinnest sheet, as ordered, of the file's own and its material's usual thicknesses that would hold; `None` when none does.
    pub thinnest_mm: Option<f64>,
    /// Thickness that such a sheet was reckoned with, mm: its least.
    pub thinnest_least_mm: Option<f64>,
    /// The thickest that was tried, as ordered, mm.
    pub tried_to_mm: f64,
    /// Whether the rim was tried of the same new sheet, as it is of the panel's own.
    pub with_its_rim: bool,
    /// Whether it hangs on screws, which another sheet leaves as they are: they were left out.
    pub without_screws: bool,
    /// Of a leaf whose guides are shorter than it: whether guides over its full height would do alone.
    pub longer_guides: Option<bool>,
    /// Of a wall without a rim, with one as wide as [`TRIED_RIM_MM`]: factor and greatest bulge, mm.
    pub with_rim: Option<[f64; 2]>,
    /// With the rim half as wide again: factor and greatest bulge, mm.
    pub wider_rim: Option<[f64; 2]>,
    /// With one more brace in the middle of the longest span: factor and greatest bulge, mm.
    pub one_more_brace: Option<[f64; 2]>,
}

/// A sheet part of which no strength is computed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotAssessed {
    /// What it is called.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Why.
    pub why: String,
    /// Whether water may run on to the floor if it gives way.
    pub keeps_water_in: bool,
}

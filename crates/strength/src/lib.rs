//! Whether it holds: sheet, rim and seams under the water they carry; what the sump weighs; and what thickness bands,
//! cuts, water and warmth make of its fits.
//!
//! Knows a design and how high water comes in it. Knows no file format, no screen and no clock. Forces in N, stresses
//! in MPa (N/mm²), lengths in mm, masses in kg; inside, the plates are solved in SI (crate `bending`).

mod material;
mod panel;
mod seam;
mod stack;
mod waters;
mod weight;

use design::Design;
use findings::Finding;
use params::File;

pub use material::Facts;
pub use panel::{
    Contour, Corner, Held, Load, NotAssessed, Panel, Peak, Remedies, RimStress, Run, Theory,
};
pub use seam::Seam;
pub use stack::{Part, Stack};
pub use waters::{Levels, Waters};
pub use weight::{State, Weight};

/// All that is told of the strength of a sump.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strength {
    /// Panels that bend, in the order of the design.
    pub panels: Vec<Panel>,
    /// Sheet parts that were not assessed, with the reason.
    pub not_assessed: Vec<NotAssessed>,
    /// Glued seams, the weakest first.
    pub seams: Vec<Seam>,
    /// What it weighs.
    pub weight: Weight,
    /// Fits under their tolerances.
    pub stacks: Vec<Stack>,
}

impl Strength {
    /// Works it out.
    pub fn of(_file: &File, _design: &Design, _waters: &Waters) -> Self {
        Self::default()
    }
}

/// What was found, in the words of the keeper.
pub fn grade(_strength: &Strength, _file: &File, _design: &Design) -> Vec<Finding> {
    Vec::new()
}

//! Whether it holds: sheet, rim and seams under the water they carry; what the sump weighs; and what thickness bands,
//! cuts, water and warmth make of its fits.
//!
//! Knows a design and how high water comes in it. Knows no file format, no screen and no clock. Forces in N, stresses
//! in MPa (N/mm²), lengths in mm, masses in kg; inside, the plates are solved in SI (crate `bending`).

mod alone;
mod checks;
mod keeps;
mod ladder;
pub mod material;
mod panel;
mod panels;
mod place;
#[cfg(test)]
mod sample;
mod screws;
mod seam;
mod seams;
mod stack;
mod waters;
mod weight;

use design::Design;
use findings::Finding;
use params::File;
use serde::Serialize;

pub use alone::not_alone;
pub use checks::verdict::{Verdict, verdict};
pub use material::{Facts, facts};
pub use panel::{
    BEND_SHARE, Contour, Corner, CornerOf, DoorAt, DoorSet, Doubt, DoubtOf, Duration, Held, Line,
    Load, NotAssessed, Panel, Peak, Remedies, RimStress, Run, Shape, TRIED_RIM_MM, Theory,
};
pub use panels::{AsBeam, AsLine, AsPlate, AsScrews, Task, tasks};
pub use screws::{ScrewLoad, Screws};
pub use seam::{FAR, Seam, SeamStanding, SeamStress};
pub use stack::{Briefly, Cause, Part, Stack, StackCode};
pub use waters::{Head, Levels, Waters};
pub use weight::{STRETCH_MM, State, Weight, on_four_feet};

/// All that is told of the strength of a sump.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Strength {
    /// Panels that bend, in the order of the design.
    pub panels: Vec<Panel>,
    /// The bottom as if it lay on a frame under its edges, where the file does not say that it does.
    pub bottom_on_frame: Option<Panel>,
    /// The panels as the plates that were computed, in the same order.
    pub plates: Vec<AsPlate>,
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
    pub fn of(file: &File, design: &Design, waters: &Waters) -> Self {
        let panels::Told { panels, bottom_on_frame, not_assessed, seams } =
            panels::panels(file, design, waters);
        let seams = seams::seams(file, design, &seams);
        let stacks = stack::stacks(file, design, &panels);
        let weight = weight::weigh(design, waters);
        let plate = |panel: &Panel| panels::as_plate(file, design, waters, panel);
        let plates = panels.iter().filter_map(plate).collect();
        Self { panels, bottom_on_frame, plates, not_assessed, seams, weight, stacks }
    }
}

impl Strength {
    /// Parts with a glued joint of which nothing is reckoned.
    pub fn joints_left_out<'a>(&self, design: &'a Design) -> Vec<&'a str> {
        let parts = seams::left_out(&self.seams, design);
        parts.into_iter().map(|part| part.name.as_str()).collect()
    }
}

/// What was found, in the words of the keeper.
pub fn grade(strength: &Strength, file: &File, design: &Design) -> Vec<Finding> {
    let mut findings = checks::material::check(file, design);
    findings.extend(checks::panels::check(strength, file, design));
    findings.extend(checks::doors::check(strength, file, design));
    findings.extend(checks::seams::check(&strength.seams, file, design));
    findings.extend(checks::weight::check(&strength.weight, file, design));
    findings.extend(checks::tolerance::check(&strength.stacks, file));
    findings
}

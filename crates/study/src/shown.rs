//! All that is shown live and played, built from what is known of a file.

mod bodies;
mod found;
mod leaves;
mod list;
mod motions;
mod tour;
mod water;

use design::Design;
use fit::Fit;
use scene::Scene;
use show::Show;
use units::System;

use crate::in_flow::Known;
use crate::parts::Part;
use crate::reading::Reading;
use crate::report::Report;
use bodies::Bodies;

pub use found::one as finding;
pub(crate) use water::level_shown_mm;

/// What is known of a file so far. Later stages may be missing: what they would tell is then left out.
#[derive(Clone, Copy, Debug)]
pub struct Studied<'a> {
    /// The file.
    pub reading: &'a Reading,
    /// Its design, with the levels that are known.
    pub design: &'a Design,
    /// The solids of its pieces.
    pub parts: &'a [Part<'a>],
    /// What is drawn, with the cabinet if there is one.
    pub scene: &'a Scene,
    /// What was found.
    pub report: &'a Report<'a>,
    /// Its water.
    pub known: Option<&'a Known<'a>>,
    /// How everything fits and comes out.
    pub fit: Option<&'a Fit>,
}

/// All of it.
pub fn show(of: &Studied<'_>) -> Show {
    let Studied { reading, design, parts, known, fit, .. } = *of;
    let bodies = Bodies { design };
    let report = fit.map(|fit| &fit.report);
    let mut things = bodies.all(of);
    let findings = found::all(of, &mut things);
    let basins = water::basins(design, known);
    Show {
        title: design.title.clone(),
        is_us: design.report == System::UsCustomary,
        outside_mm: design.outside,
        floor_z_mm: design.floor_z,
        is_in_flow: known.is_some_and(|known| known.in_flow.is_some()),
        stops: tour::stops(of, &findings),
        slots: leaves::slots(&bodies),
        doors: leaves::doors(&bodies, reading.file.as_ref()),
        ways: report.map_or_else(Vec::new, |report| motions::ways(&bodies, report)),
        before_hands: format!("{}: {}", fit::BEFORE_HANDS_HEAD, fit::BEFORE_HANDS.join("; ")),
        emptying: report.map_or_else(Vec::new, |report| motions::emptying(&bodies, report)),
        rescue: report.and_then(|report| motions::rescue(&bodies, report)),
        rehearsals: known.map_or_else(Vec::new, water::rehearsals),
        parts: list::rows(design, parts),
        basins,
        things,
        findings,
    }
}

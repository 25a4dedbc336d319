//! What the shop does and the maker glues: work on every panel, sheets, the order of cutting and of gluing.

use design::{Design, PieceId};
use findings::Finding;
use params::File;
use shop::glue_up::{GlueUp, glue_up};
use shop::{Estimate, Route, StockPlan, Work, estimate, route};
use shop::{Film, film};
use shop::{HardwareItem, hardware};

/// A design on its way through the shop.
#[derive(Clone, Debug)]
pub struct Shopped {
    /// What the machine does to each panel.
    pub works: Vec<Work>,
    /// What lies where on which sheet.
    pub plans: Vec<StockPlan>,
    /// In which order each sheet of each plan is cut.
    pub routes: Vec<Vec<Route>>,
    /// In which order it is glued.
    pub glue_up: GlueUp,
    /// Film for a background, if there is to be any.
    pub film: Option<Film>,
    /// What is bought and printed.
    pub hardware: Vec<HardwareItem>,
    /// What it costs, and how long the machine takes.
    pub estimate: Estimate,
    /// What was found.
    pub findings: Vec<Finding>,
}

impl Shopped {
    /// What is done to a piece, if it is cut from sheet.
    pub fn work(&self, piece: PieceId) -> Option<&Work> {
        self.works.iter().find(|work| work.piece == piece)
    }

    /// Works it out. `design` is the one that things are made from, with everything engraved.
    pub fn of(file: &File, design: &Design) -> Self {
        let (works, mut findings) = shop::works(file, design);
        findings.extend(shop::check_process(file, design, &works));
        let (plans, found) = shop::sheets::lay(file, design, &works);
        findings.extend(found);
        let routes = plans
            .iter()
            .map(|plan| plan.sheets.iter().map(|sheet| route(sheet, &works)).collect())
            .collect();
        let (glue_up, found) = glue_up(design);
        findings.extend(found);
        let film = film(file, design);
        let hardware = hardware(design);
        findings.extend(shop::unknown_prices(file, &hardware));
        let estimate = estimate(file, design, &works, &plans, film.as_ref(), &hardware);
        Self { works, plans, routes, glue_up, film, hardware, estimate, findings }
    }
}

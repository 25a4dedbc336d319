//! What fit and access say of the design: findings, each with its limit and what to do.
//!
//! A way that was found and checked again holds; a part that is proved to have none fails; of a part of which none
//! was found it is said that this is no proof.

mod clearances;
mod mains;
mod reach;
mod service;
mod ways;
mod weight;

#[cfg(test)]
mod tests;

use design::{Design, RemovableId};
use findings::Finding;
use glam::{DVec2, DVec3};
use units::Length;

pub use reach::{REACH_LIMITS, hindrance};
pub use ways::{fits_no_opening, in_its_place};

use crate::report::Fit;
use crate::words::{inside_corner, listed};

/// All findings about fit and access, in the units that the maker wants reports in.
pub fn grade(fit: &Fit, design: &Design) -> Vec<Finding> {
    let checks = Checks { fit, design };
    let mut findings = clearances::all(&checks);
    findings.extend(ways::all(&checks));
    findings.extend(reach::all(&checks));
    findings.extend(mains::all(&checks));
    findings.extend(weight::all(&checks));
    findings
}

/// What the checks work with.
struct Checks<'a> {
    fit: &'a Fit,
    design: &'a Design,
}

impl Checks<'_> {
    fn length(&self, mm: f64) -> String {
        Length::mm(mm).show(self.design.report)
    }

    /// Where something is, counted as the file counts.
    fn place(&self, at: DVec3) -> String {
        let [along, across, up] =
            (at - inside_corner(self.design)).to_array().map(|mm| self.length(mm.round()));
        format!(
            "at {along} from the inner face of the inlet end wall, {across} from that of the front wall, {up} above the inside of the bottom"
        )
    }

    /// The same of a place on the floor.
    fn place_on_floor(&self, at: DVec2) -> String {
        let [along, across] = (at - inside_corner(self.design).truncate())
            .to_array()
            .map(|mm| self.length(mm.round()));
        format!(
            "{along} from the inner face of the inlet end wall, {across} from that of the front wall"
        )
    }

    fn name(&self, which: RemovableId) -> String {
        format!("`{}`", self.design.removables[which].name)
    }

    /// Several names: `a`, `b` and `c`.
    fn names(&self, which: &[RemovableId]) -> String {
        listed(&which.iter().map(|k| self.name(*k)).collect::<Vec<_>>())
    }

    /// Several names of what is taken out one after the other.
    fn in_order(&self, which: &[RemovableId]) -> String {
        let order = if which.len() < 2 { "" } else { ", in this order" };
        format!("{}{order}", self.names(which))
    }
}

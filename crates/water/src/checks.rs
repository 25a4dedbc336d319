//! What levels and rehearsals say of the design: findings, each with its limit and what to do.
//!
//! A check takes the unfavourable end of a band.

mod chambers;
mod drains;
mod pumps;
mod rehearsals;
mod reserve;
mod strainers;
mod words;

use findings::Finding;

use crate::rehearsal::Outcome;
use crate::report::Report;
use crate::running::Running;
pub use rehearsals::grade;
use words::Words;

/// All findings of a running sump and its rehearsals, in the units that the maker wants reports in.
pub fn findings(
    running: &Running<'_>,
    report: &Report,
    outcomes: &[Outcome],
    system: units::System,
) -> Vec<Finding> {
    let checks = Checks { running, report, words: Words { system } };
    let mut findings = chambers::all(&checks);
    findings.extend(strainers::all(&checks));
    findings.extend(pumps::all(&checks));
    findings.extend(drains::all(&checks));
    findings.extend(reserve::all(&checks));
    findings.extend(rehearsals::all(&checks, outcomes));
    findings
}

/// What the checks work with.
struct Checks<'a> {
    running: &'a Running<'a>,
    report: &'a Report,
    words: Words,
}

impl Checks<'_> {
    fn works(&self) -> &design::Waterworks {
        self.running.system.works
    }

    fn limits(&self) -> &params::Limits {
        &self.works().limits
    }

    /// Path of the level that is kept in the return chamber.
    fn kept_parameter(&self) -> String {
        let basin = &self.works().basins[self.report.reserve.basin];
        if basin.kept_level_mm.is_some() {
            format!("{}.level", basin.parameter)
        } else {
            basin.parameter.clone()
        }
    }

    /// What a tank is called in a sentence.
    fn tank(&self, tank: usize) -> String {
        let name = &self.running.system.network.tanks[tank].name;
        if tank < self.running.system.tanks.basins {
            let is_chamber = self.works().basins[tank].is_chamber;
            return if is_chamber { format!("chamber `{name}`") } else { format!("`{name}`") };
        }
        match self.running.system.tanks.shelves.iter().position(|&s| s == tank) {
            Some(k) => {
                let basin = self.works().shelves[k].basin;
                format!("chamber `{}`, above its shelf,", self.works().basins[basin].name)
            }
            None => format!("the {name}"),
        }
    }
}

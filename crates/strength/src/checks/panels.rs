//! Whether panels, their openings and the rim hold.

mod bends;
mod stress;

use design::Design;
use findings::Finding;
use params::{BottomSupport, File};
use units::{Length, System};

use super::remedies;
use crate::Strength;
use crate::panel::Panel;

const SOURCE: &str = "thin plates by finite elements of Bogner, Fox and Schmit (1965); all seams hinged, those at the sides clamped, those below and above clamped: the worst of each";

/// All that is found of panels.
pub(crate) fn check(strength: &Strength, file: &File, design: &Design) -> Vec<Finding> {
    let teller = Teller::new(file, design);
    let mut findings: Vec<Finding> =
        strength.panels.iter().flat_map(|panel| teller.of_panel(panel)).collect();
    findings.extend(teller.bottom(strength.bottom_on_frame.as_ref()));
    findings.extend(strength.not_assessed.iter().map(|not| {
        let message = format!("{} is not assessed: {}", not.name, not.why);
        Finding::not_checked("panel-not-assessed", &not.parameter, message)
    }));
    findings
}

pub(super) struct Teller<'a> {
    file: &'a File,
    design: &'a Design,
    system: System,
}

impl<'a> Teller<'a> {
    pub(super) fn new(file: &'a File, design: &'a Design) -> Self {
        Self { file, design, system: file.report.system() }
    }

    fn of_panel(&self, panel: &Panel) -> Vec<Finding> {
        let mut findings = vec![self.stress(panel), self.deflection(panel)];
        findings.extend(self.corners(panel));
        if !panel.doubts.is_empty() {
            let doubts: Vec<&str> = panel.doubts.iter().map(|doubt| doubt.words.as_str()).collect();
            let message = format!("{}: {}", panel.name, doubts.join("; "));
            findings.push(Finding::not_checked("panel-not-thin", &panel.parameter, message));
        }
        findings
    }

    fn mm(&self, mm: f64) -> String {
        Length::mm(mm).show(self.system)
    }

    /// Corners of which nothing is said, in one finding.
    fn corners(&self, panel: &Panel) -> Option<Finding> {
        let not: Vec<String> = panel
            .corners
            .iter()
            .filter(|corner| corner.stress_mpa.is_none())
            .map(|corner| format!("{} ({})", corner.words, corner.why_not))
            .collect();
        if not.is_empty() {
            return None;
        }
        let message = format!(
            "{}: the stress at the corners is not assessed of {}",
            panel.name,
            not.join("; ")
        );
        Some(
            Finding::not_checked("corner-stress", &panel.parameter, message)
                .with_hint("round corners by the sheet's thickness or more, smooth them, and keep them away from edges and seams"),
        )
    }

    /// What would make it hold, from what was tried.
    fn remedies(&self, panel: &Panel) -> String {
        remedies::words(panel, self.design, self.system)
    }

    /// What is not said of the bottom, and what it would do on a frame.
    fn bottom(&self, on_frame: Option<&Panel>) -> Option<Finding> {
        let on_frame = on_frame?;
        let show = |mpa: f64| self.system.show_stress(mpa);
        let otherwise = format!(
            "on a frame under its edges alone it would be stressed {} of {} and bend {} after years",
            show(on_frame.stress.value),
            show(on_frame.allowable_mpa),
            self.mm(on_frame.deflection.value)
        );
        let parameter = "strength.bottom";
        Some(match self.file.strength.bottom {
            Some(BottomSupport::Flat) => {
                let message = format!(
                    "the bottom lies on a flat board all over and does not bend; {otherwise}"
                );
                Finding::holds("bottom-support", parameter, message).with_hint(
                    "keep the board level and clean, with the mat that the sheet's maker wants",
                )
            }
            _ => {
                let message = format!(
                    "the file does not say what the bottom lies on: it is taken to lie on a flat board all over; {otherwise}"
                );
                Finding::not_checked("bottom-support", parameter, message).with_hint(
                    "write `bottom = \"flat\"` under `[strength]`, or `bottom = \"frame\"`",
                )
            }
        })
    }
}

/// To what is told.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests;

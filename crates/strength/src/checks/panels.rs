//! Whether panels, their openings and the rim hold.

use design::{Design, Role};
use findings::Finding;
use params::{BottomSupport, File};
use units::{Length, System};

use super::guides::ShortGuides;
use super::remedies;
use super::strain::{Strain, keeps_water_in};
use crate::Strength;
use crate::panel::{Duration, Load, Panel, Theory};

/// Least factor, of loads that bear for years, without a word of warning; our judgement.
pub(crate) const AMPLE: f64 = 1.25;

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

    pub(super) fn stress(&self, panel: &Panel) -> Finding {
        let show = |mpa: f64| self.system.show_stress(mpa);
        let peak = &panel.stress;
        let load = &panel.loads[peak.load];
        let material = &self.design.pieces[panel.piece].material;
        let mut message = format!(
            "{}: {} at most, {} ({}), with {}; for years {material} may carry {} there",
            panel.name,
            show(peak.value),
            peak.place,
            self.faces(panel),
            load.words,
            show(panel.allowable_mpa),
        );
        let hardest = Hardest::of(panel);
        if let Some(what) = hardest.elsewhere(panel) {
            let mpa = show(hardest.mpa);
            message.push_str(&format!("; {what} {mpa} of {}", show(hardest.allowable_mpa)));
        }
        if panel.theory() == Theory::Refused {
            let message = format!(
                "{message}. It bends more than twice its thickness: what is told of its stress is only a bound"
            );
            return Finding::not_checked("panel-strength", &panel.parameter, message)
                .with_source(SOURCE)
                .with_hint(self.remedies(panel));
        }
        let strain = Strain::of(panel);
        let years = || {
            let lasting = panel.lasting_factor();
            format!(
                "{message}. The loads that bear for years fit {lasting:.2} times into what it may carry"
            )
        };
        let code = "panel-strength";
        let finding = match strain {
            Strain::TooMuchForYears => Finding::fails(code, &panel.parameter, years()),
            Strain::TooMuchForHours => {
                let message = format!(
                    "{message}. That is too much even for hours: it may crack, or come out of what holds it"
                );
                if keeps_water_in(panel, self.design) {
                    Finding::fails(code, &panel.parameter, message)
                } else {
                    Finding::tight(code, &panel.parameter, message)
                }
            }
            Strain::ScantForYears => Finding::tight(code, &panel.parameter, years()),
            Strain::HoursOnly => {
                let message = format!(
                    "{message}. It bears this for hours, a day at most, never for longer: do not leave it so"
                );
                Finding::tight(code, &panel.parameter, message)
            }
            Strain::Ample => Finding::holds(code, &panel.parameter, message.clone()),
        };
        let finding = finding
            .with_limit(round(hardest.mpa), round(hardest.allowable_mpa), "MPa")
            .with_source(SOURCE);
        if strain == Strain::Ample { finding } else { finding.with_hint(self.remedies(panel)) }
    }

    fn faces(&self, panel: &Panel) -> &'static str {
        match self.design.pieces[panel.piece].role {
            Role::Bottom => "seen from above",
            Role::Wall => "seen from inside",
            _ => "as on its drawing",
        }
    }

    pub(super) fn deflection(&self, panel: &Panel) -> Finding {
        let peak = &panel.deflection;
        let load = &panel.loads[peak.load];
        let after = match load.duration {
            Duration::Years => "after years",
            Duration::Days => "within days",
            Duration::Hours => "for hours",
        };
        let mut message = format!(
            "{} bends {} {after}, {}, with {}",
            panel.name,
            self.mm(peak.value),
            peak.place,
            load.words
        );
        if let Some([lasting, most]) = panel.bulge_mm
            && most > 0.05
        {
            message.push_str(&format!(
                "; its upper edge bulges {} in flow after years, {} at most",
                self.mm(lasting),
                self.mm(most)
            ));
        }
        let limit = panel.deflection_limit_mm;
        if peak.value > limit || panel.theory() == Theory::Refused {
            message.push_str(&self.cause(panel));
        }
        let is_refused = |load: &Load| load.theory == Theory::Refused;
        let is_refused_for_years =
            panel.loads.iter().any(|load| load.is_lasting && is_refused(load));
        let finding = match panel.theory() {
            Theory::Refused => {
                let message = format!(
                    "{message}. That is over twice its thickness of {}: the theory of thin plates does not reach so far, and what is told of its stress is only a bound",
                    self.mm(panel.thickness_mm)
                );
                if is_refused_for_years || keeps_water_in(panel, self.design) {
                    Finding::fails("panel-bends", &panel.parameter, message)
                } else {
                    Finding::tight("panel-bends", &panel.parameter, message)
                }
            }
            _ if peak.value > limit && load.is_lasting && self.file.strength.bulge.is_some() => {
                Finding::fails("panel-bends", &panel.parameter, message)
            }
            _ if peak.value > limit => Finding::tight("panel-bends", &panel.parameter, message),
            Theory::Overstates { share } => {
                let message = format!(
                    "{message}. That is more than half its thickness: the true deflection is about {:.0} % of it, the stress at most 3 % more than told",
                    100.0 * share
                );
                Finding::holds("panel-bends", &panel.parameter, message)
            }
            Theory::Holds => Finding::holds("panel-bends", &panel.parameter, message),
        };
        let is_bad = finding.grade != findings::Grade::Holds;
        let finding = finding
            .with_limit(round(peak.value), round(limit), "mm")
            .with_source("our judgement: a hundredth of the shorter side, or `strength.bulge`");
        if is_bad { finding.with_hint(self.remedies(panel)) } else { finding }
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

    /// Why it bends too much, where that is known: `; its guides hold it over no more than …`.
    fn cause(&self, panel: &Panel) -> String {
        let guides = ShortGuides::of(panel, self.design);
        guides.map_or(String::new(), |guides| format!("; {}", guides.cause(self.system)))
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

/// What of a panel is stressed most by what it may carry for years.
pub(super) struct Hardest {
    what: What,
    pub(super) mpa: f64,
    pub(super) allowable_mpa: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Panel,
    Rim,
    /// Index into [`Panel::corners`].
    Corner(usize),
}

impl Hardest {
    pub(super) fn of(panel: &Panel) -> Self {
        let allowable_mpa = panel.allowable_mpa;
        let own = Self { what: What::Panel, mpa: panel.stress.value, allowable_mpa };
        let rim = panel.rim.map(|rim| Self {
            what: What::Rim,
            mpa: rim.stress_mpa,
            allowable_mpa: rim.allowable_mpa,
        });
        let corners = panel.corners.iter().enumerate().filter_map(|(index, corner)| {
            Some(Self { what: What::Corner(index), mpa: corner.stress_mpa?, allowable_mpa })
        });
        let share = |h: &Self| h.mpa / h.allowable_mpa;
        let all = corners.chain(rim);
        all.fold(own, |most, next| if share(&next) > share(&most) { next } else { most })
    }

    /// What it is, where it is not the panel away from its openings.
    pub(super) fn elsewhere(&self, panel: &Panel) -> Option<String> {
        (self.what != What::Panel).then(|| self.words(panel))
    }

    fn words(&self, panel: &Panel) -> String {
        match self.what {
            What::Panel => "the panel".to_owned(),
            What::Rim => "the rim along it".to_owned(),
            What::Corner(index) => format!("at the edge of {}", panel.corners[index].words),
        }
    }
}

/// To what is told.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests;

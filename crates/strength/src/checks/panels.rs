//! Whether panels, their openings and the rim hold.

use design::{Design, Role};
use findings::Finding;
use params::{BottomSupport, File};
use units::{Length, System};

use crate::panel::{Load, NotAssessed, Panel, Theory};

/// Least factor, of loads that bear for years, without a word of warning; our judgement.
pub(crate) const AMPLE: f64 = 1.25;
/// A load of hours may stress a panel so many times what it may carry for years. For cast acrylic that is 9 MPa, below the
/// 10.3 MPa (1500 psi) that makers' data sheets give as the most for years in air; our judgement.
pub(crate) const FOR_HOURS: f64 = 3.0;

const SOURCE: &str = "thin plates by finite elements of Bogner, Fox and Schmit (1965); all seams hinged, those at the sides clamped, those below and above clamped: the worst of each";

/// All that is found of panels.
pub(crate) fn check(
    panels: &[Panel],
    not_assessed: &[NotAssessed],
    file: &File,
    design: &Design,
) -> Vec<Finding> {
    let teller = Teller { file, design, system: file.report.system() };
    let mut findings: Vec<Finding> =
        panels.iter().flat_map(|panel| teller.of_panel(panel)).collect();
    findings.extend(teller.bottom());
    findings.extend(not_assessed.iter().map(|not| {
        let message = format!("{} is not assessed: {}", not.name, not.why);
        Finding::not_checked("panel-not-assessed", &not.parameter, message)
    }));
    findings
}

struct Teller<'a> {
    file: &'a File,
    design: &'a Design,
    system: System,
}

impl Teller<'_> {
    fn of_panel(&self, panel: &Panel) -> Vec<Finding> {
        let mut findings = vec![self.stress(panel), self.deflection(panel)];
        findings.extend(self.corners(panel));
        findings
    }

    /// Whether water runs on to the floor if it gives way.
    fn keeps_water_in(&self, panel: &Panel) -> bool {
        matches!(self.design.pieces[panel.piece].role, Role::Wall | Role::Bottom)
    }

    fn mm(&self, mm: f64) -> String {
        Length::mm(mm).show(self.system)
    }

    fn stress(&self, panel: &Panel) -> Finding {
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
        if let Some(rim) = &panel.rim
            && rim.stress_mpa / rim.allowable_mpa > peak.value / panel.allowable_mpa
        {
            message.push_str(&format!(
                "; the rim along it, {} of {}",
                show(rim.stress_mpa),
                show(rim.allowable_mpa)
            ));
        }
        if let Some(corner) = panel.corners.iter().max_by(|a, b| {
            a.stress_mpa.partial_cmp(&b.stress_mpa).unwrap_or(std::cmp::Ordering::Equal)
        }) && let Some(mpa) = corner.stress_mpa.filter(|mpa| *mpa > peak.value)
        {
            message.push_str(&format!("; at the edge of {}, {}", corner.words, show(mpa)));
        }
        let (all, lasting) = (panel.factor(), panel.lasting_factor());
        let years = |message: &str| {
            format!(
                "{message}. The loads that bear for years fit {lasting:.2} times into what it may carry"
            )
        };
        let finding = match () {
            () if lasting < 1.0 => {
                Finding::fails("panel-strength", &panel.parameter, years(&message))
            }
            // A leaf that gives way floods nobody's floor.
            () if all < 1.0 / FOR_HOURS && self.keeps_water_in(panel) => {
                let message = format!(
                    "{message}. That is more than {FOR_HOURS} times as much, too much even for hours"
                );
                Finding::fails("panel-strength", &panel.parameter, message)
            }
            () if lasting < AMPLE => {
                Finding::tight("panel-strength", &panel.parameter, years(&message))
            }
            () if all < 1.0 / FOR_HOURS => {
                let message = format!(
                    "{message}. That is more than {FOR_HOURS} times as much: it would break or come out, so never let it come to this"
                );
                Finding::tight("panel-strength", &panel.parameter, message)
            }
            () if all < 1.0 => {
                let message = format!(
                    "{message}. It bears this for hours, never for longer: do not leave it so"
                );
                Finding::tight("panel-strength", &panel.parameter, message)
            }
            () => Finding::holds("panel-strength", &panel.parameter, message),
        };
        let finding = finding
            .with_limit(round(peak.value), round(panel.allowable_mpa), "MPa")
            .with_source(SOURCE);
        if all < 1.0 || lasting < AMPLE { finding.with_hint(self.remedies(panel)) } else { finding }
    }

    fn faces(&self, panel: &Panel) -> &'static str {
        match self.design.pieces[panel.piece].role {
            Role::Bottom => "seen from above",
            Role::Wall => "seen from inside",
            _ => "as on its drawing",
        }
    }

    fn deflection(&self, panel: &Panel) -> Finding {
        let peak = &panel.deflection;
        let load = &panel.loads[peak.load];
        let after = if load.is_lasting { "after years" } else { "for hours" };
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
        let is_refused = |load: &Load| load.theory == Theory::Refused;
        let is_refused_for_years =
            panel.loads.iter().any(|load| load.is_lasting && is_refused(load));
        let finding = match panel.theory() {
            Theory::Refused => {
                let message = format!(
                    "{message}. That is over twice its thickness of {}: the theory of thin plates does not reach so far, and what is told of its stress is only a bound",
                    self.mm(panel.thickness_mm)
                );
                if is_refused_for_years || self.keeps_water_in(panel) {
                    Finding::fails("panel-bends", &panel.parameter, message)
                } else {
                    Finding::tight("panel-bends", &panel.parameter, message)
                }
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
        let remedies = &panel.remedies;
        let mut told = vec![match remedies.thinnest_mm {
            Some(mm) => format!("sheet of {} would hold", self.mm(mm)),
            None => "no sheet up to 30 mm would hold".to_owned(),
        }];
        let tried = |[factor, bulge]: [f64; 2]| {
            format!("factor {factor:.2} and {} of bulge", self.mm(bulge))
        };
        if let Some(with) = remedies.wider_rim {
            told.push(format!("a rim half as wide again gives {}", tried(with)));
        }
        if let Some(with) = remedies.one_more_brace {
            told.push(format!("one more brace in the longest stretch gives {}", tried(with)));
        }
        if self.design.pieces[panel.piece].role == Role::Leaf {
            told.push("or never drain one side of it alone".to_owned());
        }
        told.join("; ")
    }

    fn bottom(&self) -> Option<Finding> {
        (self.file.strength.bottom == BottomSupport::Flat).then(|| {
            let message = "the bottom is taken to lie on a flat board all over, so it does not bend; on a frame it would";
            Finding::holds("bottom-support", "strength.bottom", message)
                .with_hint("lay it on a level board with the mat its maker wants, or write `bottom = \"frame\"` to have it reckoned on its edges alone")
        })
    }
}

/// To what is told.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

//! Whether doors hold that water pushes off their leaf.

use design::Design;
use findings::Finding;
use params::File;
use units::System;

use super::panels::AMPLE;
use crate::Strength;
use crate::panel::Panel;
use crate::screws::{ScrewLoad, Screws};

const SOURCE: &str = "a plate held at its screws and pushed back by the leaf, both rigid; what screws of nylon break at by a dealer's table for PA 6.6, a twentieth of it allowed for years and three times that for hours (our judgement)";
/// Newtons in a pound-force (NIST SP 811, B.8).
const N_PER_LBF: f64 = 4.448_222;

/// All that is found of doors.
pub(crate) fn check(strength: &Strength, file: &File, design: &Design) -> Vec<Finding> {
    let system = file.report.system();
    let hung = strength.panels.iter().filter_map(|panel| Some((panel, panel.screws.as_ref()?)));
    let doors = hung.map(|(panel, screws)| Door { panel, screws, design, system });
    doors.flat_map(|door| [door.screws(), door.not_assessed()]).collect()
}

struct Door<'a> {
    panel: &'a Panel,
    screws: &'a Screws,
    design: &'a Design,
    system: System,
}

impl Door<'_> {
    fn screws(&self) -> Finding {
        let screws = self.screws;
        let (all, lasting) = (screws.factor(), screws.lasting_factor());
        let most = |chosen: &dyn Fn(&ScrewLoad) -> bool| {
            let loads = screws.loads.iter().enumerate().filter(|(_, load)| chosen(load));
            loads.max_by(|a, b| a.1.most_n().total_cmp(&b.1.most_n()))
        };
        // Of years where these decide, else of all.
        let years = most(&|load| load.is_lasting).filter(|_| lasting < AMPLE || lasting <= all);
        let Some((index, load)) = years.or(most(&|_| true)) else {
            return self.unloaded();
        };
        let message = self.words(index, load);
        let (code, parameter) = ("door-pushed-off", &self.panel.parameter);
        let brief = screws.brief_n / screws.lasting_n;
        let (finding, is_bad) = match () {
            () if lasting < 1.0 => {
                let message =
                    format!("{message}. That is too much for years: plastic creeps until it gives");
                (Finding::fails(code, parameter, message), true)
            }
            () if all * brief < 1.0 => {
                let message =
                    format!("{message}. That is too much even for hours: it may come off");
                (Finding::fails(code, parameter, message), true)
            }
            () if lasting < AMPLE => (Finding::tight(code, parameter, message), true),
            () if all < 1.0 => {
                let message = format!(
                    "{message}. The screws bear this for hours, a day at most: do not leave it so"
                );
                (Finding::tight(code, parameter, message), true)
            }
            () => (Finding::holds(code, parameter, message), false),
        };
        let allowed = if load.is_lasting { screws.lasting_n } else { screws.brief_n };
        let finding =
            finding.with_limit(tenth(load.most_n()), tenth(allowed), "N").with_source(SOURCE);
        if is_bad {
            finding.with_hint(
                "lay the door on the leaf's other face with `side`, where water pushes it on; or take a thicker `screw`; or keep the water higher on the door's own side, also while filling and draining",
            )
        } else {
            finding
        }
    }

    fn unloaded(&self) -> Finding {
        let message = format!("{}: no load of it is known", self.panel.name);
        Finding::not_checked("door-pushed-off", &self.panel.parameter, message)
    }

    fn words(&self, index: usize, load: &ScrewLoad) -> String {
        let screws = self.screws;
        let force = |n: f64| force(self.system, n);
        let words = self.panel.loads.get(index).map_or("", |load| load.words.as_str());
        let [head, knob] = screws.pressures_mpa(load.most_n());
        let stress = |mpa: f64| self.system.show_stress(mpa);
        let n = load.pulls_n.len();
        let which =
            if n == 1 { "its screw".to_owned() } else { format!("the hardest of {n} screws") };
        let push = force(load.thrust_n);
        let most = force(load.most_n());
        // Told alike, they are alike.
        let pull = if force(load.soft_n) == most {
            format!("{most} by a push of {push} in all")
        } else {
            format!(
                "at most {most} by a push of {push} in all, as the door levers on its edges: so much only if its screws do not stretch, and {} if it turns about them freely",
                force(load.soft_n)
            )
        };
        format!(
            "{}: with {words} {which} {} is pulled with {pull}; one of nylon may carry {} for years and {} for hours, and breaks at {}. Its head presses {} on the leaf, its knob {} on the door, which may carry {} for years",
            self.panel.name,
            screws.size,
            force(screws.lasting_n),
            force(screws.brief_n),
            force(screws.breaking_n),
            stress(head),
            stress(knob),
            stress(screws.leaf_mpa.min(screws.door_mpa)),
        )
    }

    fn not_assessed(&self) -> Finding {
        let door = &self.design.placed[self.panel.placed].name;
        let message = format!(
            "{}: not assessed are how hard the nut may pull in its printed knob, the stress right under heads and knobs and at the ends of the slots, and from when on a gap opens between door and leaf: as soon as the water pushes harder than the knobs press, and what a hand presses with, and what is left of it when plastic has crept, is not known",
            self.panel.name
        );
        Finding::not_checked("door-not-assessed", &self.panel.parameter, message).with_hint(
            format!("keep the water higher on the own side of {door}, also while filling and draining; turn the knobs tight again after a day"),
        )
    }
}

/// `7.3 N`, `1.6 lbf`.
fn force(system: System, n: f64) -> String {
    match system {
        System::Metric if n < 10.0 => format!("{n:.1} N"),
        System::Metric => format!("{n:.0} N"),
        System::UsCustomary => format!("{:.1} lbf", n / N_PER_LBF),
    }
}

/// To what is told.
fn tenth(n: f64) -> f64 {
    (n * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests;

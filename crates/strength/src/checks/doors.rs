//! Whether doors hold that water pushes off their leaf.

use std::cmp::Reverse;

use design::Design;
use findings::Finding;
use params::File;
use units::{N_PER_LBF, System};

use super::strain::{Rung, never_longer};
use crate::panel::{Duration, Panel};
use crate::screws::{ScrewLoad, Screws};
use crate::{Strength, ladder};

const SOURCE: &str = "a plate held at its screws and pushed back by the leaf, both rigid; what screws of nylon break at by a dealer's table for PA 6.6, a twentieth of it allowed for years, twice that for days and three times for hours (our judgement)";

/// All that is found of doors.
pub(crate) fn check(strength: &Strength, file: &File, design: &Design) -> Vec<Finding> {
    let doors = Door::all(strength, file, design);
    doors.flat_map(|door| [door.screws(), door.not_assessed()]).collect()
}

/// What is found of the screws alone.
pub(crate) fn screws(strength: &Strength, file: &File, design: &Design) -> Vec<Finding> {
    Door::all(strength, file, design).map(|door| door.screws()).collect()
}

struct Door<'a> {
    panel: &'a Panel,
    screws: &'a Screws,
    design: &'a Design,
    system: System,
}

/// What the screws carry under one load, and how that stands to what they may.
struct Pulled<'a> {
    index: usize,
    load: &'a ScrewLoad,
    rung: Rung,
    /// Share of what may be carried for as long as it bears.
    share: f64,
}

impl<'a> Door<'a> {
    fn all(strength: &'a Strength, file: &File, design: &'a Design) -> impl Iterator<Item = Self> {
        let system = file.report.system();
        let hung = strength.panels.iter().filter_map(|panel| Some((panel, panel.screws.as_ref()?)));
        hung.map(move |(panel, screws)| Self { panel, screws, design, system })
    }

    /// What one screw may carry for so long, N.
    fn limit_n(&self, duration: Duration) -> f64 {
        ladder::limit(self.screws.lasting_n, self.screws.breaking_n, duration)
    }

    /// The load that decides: the worse rung, then the longer one, then the greater share.
    fn worst(&self) -> Option<Pulled<'a>> {
        let screws = self.screws;
        let pulled = |(index, load): (usize, &'a ScrewLoad)| {
            let much = screws.share_of(load);
            let limit = self.limit_n(load.duration) / screws.lasting_n;
            let rung = Rung::of(much, 1.0, limit, load.duration);
            let share = if rung == Rung::Ample { much } else { much / limit };
            Pulled { index, load, rung, share }
        };
        let key =
            |p: &Pulled<'_>| (p.rung, (p.rung != Rung::Ample).then_some(Reverse(p.load.duration)));
        let all = screws.loads.iter().enumerate().map(pulled);
        all.min_by(|a, b| key(a).cmp(&key(b)).then_with(|| b.share.total_cmp(&a.share)))
    }

    fn screws(&self) -> Finding {
        let Some(worst) = self.worst() else { return self.unloaded() };
        let load = worst.load;
        let (code, parameter) = ("door-pushed-off", &self.panel.parameter);
        let message = self.words(worst.index, load) + &after(worst.rung, load.duration);
        let finding = match worst.rung {
            Rung::TooMuch => Finding::fails(code, parameter, message),
            Rung::Scant | Rung::Brief => Finding::tight(code, parameter, message),
            Rung::Unknown | Rung::Ample => Finding::holds(code, parameter, message),
        };
        let allowed = self.limit_n(load.duration);
        let finding =
            finding.with_limit(tenth(load.most_n()), tenth(allowed), "N").with_source(SOURCE);
        if worst.rung == Rung::Ample {
            return finding;
        }
        finding.with_hint(
            "lay the door on the leaf's other face with `side`, where water pushes it on; or take a thicker `screw`; or keep the water higher on the door's own side, also while filling and draining",
        )
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
            "{}: with {words} {which} {} is pulled with {pull}; one of nylon may carry {} for years, {} for days and {} for hours, and breaks at {}. Its head presses {} on the leaf, its knob {} on the door, which may carry {} for years",
            self.panel.name,
            screws.size,
            force(screws.lasting_n),
            force(self.limit_n(Duration::Days)),
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

/// What follows from it.
fn after(rung: Rung, duration: Duration) -> String {
    match (rung, duration) {
        (Rung::TooMuch, Duration::Years) => {
            ". That is too much for years: plastic creeps until it gives".to_owned()
        }
        (Rung::TooMuch, Duration::Days) => {
            ". That is too much even for some days: it may come off".to_owned()
        }
        (Rung::TooMuch, Duration::Hours) => {
            ". That is too much even for hours: it may come off".to_owned()
        }
        (Rung::Brief, duration) => {
            format!(". The screws bear this {}: do not leave it so", never_longer(duration))
        }
        _ => String::new(),
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

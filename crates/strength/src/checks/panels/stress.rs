//! What is found of the stress of a panel.

use design::Role;
use findings::{Finding, Grade};

use super::{SOURCE, Teller, round};
use crate::checks::strain::{AMPLE, LOOSE, Rung, Strained, What, for_how_long, never_longer};
use crate::keeps;
use crate::panel::{Duration, Panel};

const CODE: &str = "panel-strength";
/// Above this share of what is allowed a stress is told as just too much.
const JUST: f64 = 0.98;
/// Stresses that differ by less are told once, as from either side of a leaf.
const SAME: f64 = 1.005;

impl Teller<'_> {
    pub(in crate::checks) fn stress(&self, panel: &Panel) -> Finding {
        let Some(worst) = Strained::worst(panel) else {
            let message = format!("{}: no load of it is known", panel.name);
            return Finding::not_checked(CODE, &panel.parameter, message);
        };
        let keeps = keeps::water_in(self.design, panel.placed);
        let message = self.stress_words(panel, &worst) + &self.after(panel, &worst, keeps);
        let parameter = &panel.parameter;
        let grade = worst.grade(keeps);
        let finding = match grade {
            Grade::Fails => Finding::fails(CODE, parameter, message),
            Grade::Tight => Finding::tight(CODE, parameter, message),
            Grade::NotChecked => Finding::not_checked(CODE, parameter, message),
            _ => Finding::holds(CODE, parameter, message),
        };
        let finding = match grade {
            Grade::NotChecked => finding,
            _ => finding.with_limit(round(worst.mpa), round(worst.limit_mpa), "MPa"),
        };
        let finding = finding.with_source(SOURCE);
        if grade == Grade::Holds { finding } else { finding.with_hint(self.remedies(panel)) }
    }

    /// What decides, and the greatest stress of all where that is another.
    fn stress_words(&self, panel: &Panel, worst: &Strained) -> String {
        let show = |mpa: f64| self.system.show_stress(mpa);
        let material = &self.design.pieces[panel.piece].material;
        let of = |strained: &Strained| {
            let load = &panel.loads[strained.load];
            format!(
                "{} {}, with {} ({})",
                show(strained.mpa),
                self.place(panel, strained),
                load.words,
                for_how_long(load.duration)
            )
        };
        let for_less = |strained: &Strained| match strained.duration {
            Duration::Years => String::new(),
            Duration::Days => format!(", for days {}", show(strained.limit_mpa)),
            Duration::Hours => format!(", for hours {}", show(strained.limit_mpa)),
        };
        let what = if worst.what == What::Rim { "its sheet" } else { material.as_str() };
        let mut told = format!(
            "{}: {}; for years {what} may carry {} there{}",
            panel.name,
            of(worst),
            show(worst.lasting_mpa),
            for_less(worst),
        );
        let share = |strained: &Strained| strained.mpa / strained.lasting_mpa;
        let greatest = Strained::greatest(panel);
        if let Some(most) = greatest.filter(|most| share(most) > SAME * share(worst)) {
            told.push_str(&format!("; most is {}{}", of(&most), for_less(&most)));
        }
        told
    }

    /// Where it is, in words.
    pub(in crate::checks) fn place(&self, panel: &Panel, strained: &Strained) -> String {
        match strained.what {
            What::Panel => {
                format!("{} ({})", panel.loads[strained.load].stress_place, self.faces(panel))
            }
            What::Rim => "in the rim along it".to_owned(),
            What::Corner(index) => format!("at the edge of {}", panel.corners[index].words),
        }
    }

    fn faces(&self, panel: &Panel) -> &'static str {
        match self.design.pieces[panel.piece].role {
            Role::Bottom => "seen from above",
            Role::Wall => "seen from inside",
            _ => "as on its drawing",
        }
    }

    /// What follows from it.
    fn after(&self, panel: &Panel, worst: &Strained, keeps: bool) -> String {
        let fits = worst.limit_mpa / worst.mpa;
        let mut told = match (worst.rung(), worst.duration) {
            (Rung::TooMuch, Duration::Years) => format!(
                ". The loads that bear for years fit {fits:.2} times into what it may carry: it creeps until it cracks"
            ),
            (Rung::TooMuch, duration) => {
                let even = if duration == Duration::Days { "some days" } else { "hours" };
                let then = if keeps {
                    "and what it keeps in runs out".to_owned()
                } else {
                    format!("or come out of what holds it. {LOOSE}")
                };
                // Told to two digits, both numbers may read alike.
                let just = if fits > JUST { "just " } else { "" };
                format!(". That is {just}too much even for {even}: it may crack, {then}")
            }
            (Rung::Scant, _) => format!(
                ". The loads that bear for years fit {fits:.2} times into what it may carry, less than the {AMPLE} that is wanted"
            ),
            (Rung::Brief, duration) => {
                format!(". It bears this {}: do not leave it so", never_longer(duration))
            }
            (Rung::Unknown | Rung::Ample, _) => String::new(),
        };
        let bound = panel.loads.iter().zip(0..).find(|(load, index)| {
            load.theory == crate::panel::Theory::Refused
                && (worst.is_bound == (worst.load == *index))
        });
        if let Some((load, _)) = bound {
            told.push_str(&format!(
                ". With {} it bends more than twice its thickness, where the theory ends: the stress told of that is only a bound, above the true one",
                load.words
            ));
        }
        told
    }
}

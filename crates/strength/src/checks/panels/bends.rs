//! What is found of how far a panel bends.

use findings::{Finding, Grade};

use super::{Teller, round};
use crate::checks::guides::ShortGuides;
use crate::checks::strain::{Bent, LOOSE, Reach};
use crate::keeps;
use crate::panel::{Duration, Panel, Theory};

const CODE: &str = "panel-bends";

impl Teller<'_> {
    pub(in crate::checks) fn deflection(&self, panel: &Panel) -> Finding {
        let Some(worst) = Bent::worst(panel) else {
            let message = format!("{}: no load of it is known", panel.name);
            return Finding::not_checked(CODE, &panel.parameter, message);
        };
        let grade = self.bend_grade(panel, &worst);
        let message = self.bend_words(panel, &worst) + &self.reach_words(panel, &worst, grade);
        let parameter = &panel.parameter;
        let finding = match grade {
            Grade::Fails => Finding::fails(CODE, parameter, message),
            Grade::Tight => Finding::tight(CODE, parameter, message),
            _ => Finding::holds(CODE, parameter, message),
        };
        let finding = finding
            .with_limit(round(worst.mm), round(panel.deflection_limit_mm), "mm")
            .with_source("our judgement: a hundredth of the shorter side, or `strength.bulge`");
        if grade == Grade::Holds { finding } else { finding.with_hint(self.remedies(panel)) }
    }

    pub(in crate::checks) fn bend_grade(&self, panel: &Panel, bent: &Bent) -> Grade {
        let keeps = keeps::water_in(self.design, panel.placed);
        bent.grade(keeps, self.file.strength.bulge.is_some())
    }

    /// How far, where and with what; how far at most where another load bends it further; and its upper edge.
    fn bend_words(&self, panel: &Panel, worst: &Bent) -> String {
        let load = &panel.loads[worst.load];
        let mut told = format!(
            "{} bends {} {}, {}, with {}",
            panel.name,
            self.mm(worst.mm),
            after(worst.duration),
            load.deflection_place,
            load.words
        );
        if worst.reach != Reach::Within {
            told.push_str(&format!(", where {} is wanted", self.mm(panel.deflection_limit_mm)));
        }
        let further = Bent::all(panel).filter(|bent| bent.mm > worst.mm);
        if let Some(most) = further.max_by(|a, b| a.mm.total_cmp(&b.mm)) {
            told.push_str(&format!(
                "; {} at most, {}, with {}",
                self.mm(most.mm),
                after(most.duration),
                panel.loads[most.load].words
            ));
        }
        if let Some([lasting, most]) = panel.bulge_mm
            && most > 0.05
        {
            told.push_str(&format!(
                "; its upper edge bulges {} in flow after years, {} at most",
                self.mm(lasting),
                self.mm(most)
            ));
        }
        if worst.reach != Reach::Within {
            told.push_str(&self.cause(panel));
        }
        told
    }

    /// How far the theory reaches, and why a loose part is judged otherwise.
    fn reach_words(&self, panel: &Panel, worst: &Bent, grade: Grade) -> String {
        match (worst.reach, panel.loads[worst.load].theory) {
            (Reach::Refused, _) => {
                let loose =
                    if grade == Grade::Tight { format!(". {LOOSE}") } else { String::new() };
                format!(
                    ". That is over twice its thickness, {} at the thinnest that its sheet may be: the theory of thin plates does not reach so far, and what is told of its stress is only a bound{loose}",
                    self.mm(panel.thickness_mm)
                )
            }
            (_, Theory::Overstates { share }) => format!(
                ". That is more than half its thickness: the true deflection is about {:.0} % of it, the stress at most 3 % more than told",
                100.0 * share
            ),
            _ => String::new(),
        }
    }

    /// Why it bends too much, where that is known: `; its guides hold it over no more than …`.
    fn cause(&self, panel: &Panel) -> String {
        let guides = ShortGuides::of(panel, self.design);
        guides.map_or(String::new(), |guides| format!("; {}", guides.cause(self.system)))
    }
}

fn after(duration: Duration) -> &'static str {
    match duration {
        Duration::Years => "after years",
        Duration::Days => "within days",
        Duration::Hours => "for hours",
    }
}

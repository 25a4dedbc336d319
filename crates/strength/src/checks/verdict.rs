//! Whether it holds, in three sentences: the answer, what decides, what to change first.

use std::cmp::Reverse;

use design::{Design, Role};
use findings::{Finding, Grade};
use params::File;
use serde::Serialize;
use units::{Length, System};

use super::guides::ShortGuides;
use super::panels::{AMPLE, Hardest, Teller};
use super::strain::Strain;
use super::{doors, material, remedies};
use crate::Strength;
use crate::panel::{Duration, Load, Panel, Theory};
use crate::seam::Seam;

/// The findings about panels, seams and sheet in short.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Verdict {
    /// The worst grade of panels and seams; a sheet that is not vouched for fails.
    pub grade: Grade,
    /// Does it hold?
    pub answer: String,
    /// Which panel or seam decides, where, and under which load.
    pub decides: String,
    /// What to change first.
    pub first: String,
}

/// The verdict on what was worked out.
pub fn verdict(strength: &Strength, file: &File, design: &Design) -> Verdict {
    let system = file.report.system();
    let teller = Teller::new(file, design);
    let panels: Vec<Judged<'_>> =
        strength.panels.iter().map(|panel| Judged::of(panel, &teller)).collect();
    let fails = |found: Vec<Finding>| found.into_iter().find(|f| f.grade == Grade::Fails);
    let sheet = fails(material::check(file, design));
    let door = fails(doors::check(strength, file, design));
    let Some(worst) = panels.iter().min_by(|a, b| a.order(b)) else {
        return Verdict {
            grade: Grade::NotChecked,
            answer: "Not known: no panel could be assessed.".to_owned(),
            decides: "What is not assessed, and why, stands below.".to_owned(),
            first: "What the findings of the file say.".to_owned(),
        };
    };
    let seams = Seams::of(&strength.seams);
    let grade = match () {
        () if sheet.is_some() || door.is_some() || seams.fail > 0 => Grade::Fails,
        () if worst.case == Case::Fails => Grade::Fails,
        () if worst.case < Case::Holds || seams.open > 0 => Grade::Tight,
        () => Grade::Holds,
    };
    let told = Told { worst, panels: &panels, seams, design, system };
    let is_panel = worst.case == Case::Fails;
    let (answer, decides, first) = match (sheet, door) {
        // Nothing that follows from a sheet's values counts where these do not.
        (Some(finding), _) => {
            told.finding("Not vouched for: the values of a sheet do not count here.", finding)
        }
        (None, Some(finding)) if !is_panel => {
            told.finding("No: a door does not hold on its leaf.", finding)
        }
        _ if told.seams.fail > 0 && !is_panel => told.seam_fails(),
        _ => told.panel(),
    };
    Verdict { grade, answer, decides, first }
}

/// How bad it is with a panel, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Case {
    /// One of its findings fails.
    Fails,
    /// It bears what is on it for years, with less than wanted to spare.
    Scant,
    /// A loose leaf that may crack, or come out, within hours.
    NotForHours,
    /// It bears its hardest load for hours only, or bends more than wanted.
    HoursOnly,
    Holds,
}

/// A panel with what was found of it.
struct Judged<'a> {
    panel: &'a Panel,
    case: Case,
    strain: Strain,
    /// Whether it bends too much.
    bends: bool,
}

impl<'a> Judged<'a> {
    fn of(panel: &'a Panel, teller: &Teller<'_>) -> Self {
        let [stress, bend] = [teller.stress(panel), teller.deflection(panel)].map(|f| f.grade);
        let strain = Strain::of(panel);
        let bends = matches!(bend, Grade::Fails | Grade::Tight);
        let case = match strain {
            _ if stress == Grade::Fails || bend == Grade::Fails => Case::Fails,
            Strain::ScantForYears => Case::Scant,
            Strain::TooMuchForHours => Case::NotForHours,
            Strain::Ample if !bends => Case::Holds,
            _ => Case::HoursOnly,
        };
        Self { panel, case, strain, bends }
    }

    /// How many times the hardest of its loads fits into what is allowed.
    fn margin(&self) -> f64 {
        let bend = self.panel.deflection_limit_mm / self.panel.deflection.value;
        if self.bends { self.panel.factor().min(bend) } else { self.panel.factor() }
    }

    /// Whether it is how far it bends that decides, more than its stress.
    fn is_by_bend(&self) -> bool {
        let is_by_stress = self.strain < Strain::HoursOnly;
        self.panel.theory() == Theory::Refused
            || !is_by_stress && self.bends && self.margin() < self.panel.factor()
    }

    fn order(&self, other: &Self) -> std::cmp::Ordering {
        let years = |judged: &Self| match judged.case {
            Case::Fails | Case::Scant => judged.panel.lasting_factor().min(judged.margin()),
            _ => judged.margin(),
        };
        self.case.cmp(&other.case).then_with(|| years(self).total_cmp(&years(other)))
    }
}

/// Seams by number, and the weakest.
struct Seams<'a> {
    weakest: Option<&'a Seam>,
    all: usize,
    /// Those that fail for certain.
    fail: usize,
    /// Those that cannot be shown to hold.
    open: usize,
}

impl<'a> Seams<'a> {
    fn of(seams: &'a [Seam]) -> Self {
        let fails = |seam: &&Seam| seam.certain_mpa > seam.allowable_mpa;
        let fail = seams.iter().filter(fails).count();
        let weak = seams.iter().filter(|seam| seam.factor() < 1.0).count();
        let weakest = match fail {
            0 => seams.first(),
            _ => seams.iter().find(fails),
        };
        Self { weakest, all: seams.len(), fail, open: weak.saturating_sub(fail) }
    }
}

/// What to do about weak seams.
const BOND_MORE: &str =
    "bond more width: a fillet strip along the inside of the weak seams, or thicker sheet";

/// Puts it into words.
struct Told<'a> {
    worst: &'a Judged<'a>,
    panels: &'a [Judged<'a>],
    seams: Seams<'a>,
    design: &'a Design,
    system: System,
}

type Three = (String, String, String);

impl Told<'_> {
    /// What another check found to fail.
    fn finding(&self, answer: &str, finding: Finding) -> Three {
        let first = finding.hint.unwrap_or_else(|| "what the finding says".to_owned());
        (answer.to_owned(), sentence(&finding.message), sentence(&first))
    }

    fn seam_fails(&self) -> Three {
        let n = self.seams.fail;
        (
            format!(
                "No: pull and shear alone are too much for {n} of {} glued seams.",
                self.seams.all
            ),
            sentence(&self.seam_words()),
            sentence(BOND_MORE),
        )
    }

    fn panel(&self) -> Three {
        let decides = if self.worst.case == Case::Holds && self.seams.open > 0 {
            sentence(&self.seam_words())
        } else {
            self.panel_decides() + &self.and_seams()
        };
        (self.answer(), decides, sentence(&self.first()))
    }

    fn answer(&self) -> String {
        let (worst, panel) = (self.worst, self.worst.panel);
        let name = &panel.name;
        let count = |case: Case| self.panels.iter().filter(|p| p.case == case).count();
        let all = self.panels.len();
        let mut told = match worst.case {
            Case::Fails => {
                let why = match worst.strain {
                    _ if panel.theory() == Theory::Refused => "bends more than twice its thickness",
                    Strain::TooMuchForYears => "carries more than it may for years",
                    Strain::TooMuchForHours => "may give way within hours under its hardest load",
                    _ => "bends more than the file allows",
                };
                let others = match count(Case::Fails) - 1 {
                    0 => String::new(),
                    n => format!(", and {n} more of {all} panels fail"),
                };
                format!("No: {name} {why}{others}.")
            }
            Case::Scant => format!(
                "Just so: {name} bears for years what presses on it for years only {:.2} times over, less than the {AMPLE} that is wanted.",
                panel.lasting_factor()
            ),
            Case::NotForHours | Case::HoursOnly => {
                let who = match count(Case::NotForHours) + count(Case::HoursOnly) {
                    1 => format!(
                        "{name} bears a failure, filling or draining for hours only, or bends"
                    ),
                    n => format!(
                        "{n} of {all} bear a failure, filling or draining for hours only, or bend"
                    ),
                };
                let not_even = if worst.case == Case::NotForHours {
                    format!("; {name} bears it not even for hours")
                } else {
                    String::new()
                };
                format!(
                    "Yes in daily use: every panel bears for years what stands against it in flow. But {who} more than wanted{not_even}."
                )
            }
            Case::Holds => {
                format!(
                    "Yes, by these estimates: all {all} panels bear each of their loads for years."
                )
            }
        };
        if self.seams.fail > 0 {
            told.push_str(&format!(" {} glued seams fail as well.", self.seams.fail));
        } else if self.seams.open > 0 {
            told.push_str(&format!(
                " Of {} glued seams, {} cannot be shown to hold; none is shown to fail.",
                self.seams.all, self.seams.open
            ));
        }
        told
    }

    /// The panel, where, how much of what is allowed, and the load.
    fn panel_decides(&self) -> String {
        let (worst, panel) = (self.worst, self.worst.panel);
        let stress = |mpa: f64| self.system.show_stress(mpa);
        let mm = |mm: f64| Length::mm(mm).show_fine(self.system);
        let peak = if worst.is_by_bend() { &panel.deflection } else { &panel.stress };
        let load = &panel.loads[peak.load];
        let much = if worst.is_by_bend() {
            format!("bends {} where {} is wanted", mm(peak.value), mm(panel.deflection_limit_mm))
        } else {
            let hardest = Hardest::of(panel);
            let at = hardest.elsewhere(panel).map_or(String::new(), |at| format!("{at}, "));
            let [mpa, may] = [hardest.mpa, hardest.allowable_mpa].map(stress);
            format!("{at}{mpa} of the {may} that it may carry for years")
        };
        let cause = ShortGuides::of(panel, self.design)
            .filter(|_| worst.case != Case::Holds)
            .map_or(String::new(), |guides| format!("; {}", guides.cause(self.system)));
        let (place, words) = (&peak.place, &load.words);
        format!("{}, {place}: {much}, with {words} ({}){cause}.", panel.name, for_how_long(load))
    }

    fn and_seams(&self) -> String {
        if self.seams.fail + self.seams.open == 0 {
            return String::new();
        }
        format!(" Of the seams: {}.", self.seam_words())
    }

    fn seam_words(&self) -> String {
        let Some(seam) = self.seams.weakest else { return String::new() };
        let stress = |mpa: f64| self.system.show_stress(mpa);
        let (how, mpa) = if self.seams.fail > 0 {
            ("", seam.certain_mpa)
        } else {
            ("at most ", seam.peel_mpa.max(seam.shear_mpa))
        };
        format!(
            "{}, {how}{} of its limit of {}, with {}",
            seam.words,
            stress(mpa),
            stress(seam.allowable_mpa),
            seam.load
        )
    }

    /// What to change first.
    fn first(&self) -> String {
        let (worst, panel) = (self.worst, self.worst.panel);
        let is_leaf = self.design.pieces[panel.piece].role == Role::Leaf;
        let sheet = || remedies::sheet(panel, self.design, self.system);
        let change = || {
            ShortGuides::of(panel, self.design)
                .map_or_else(|| self.stiffer().unwrap_or_else(sheet), |guides| guides.remedy())
        };
        match worst.case {
            Case::Holds if self.seams.open > 0 => BOND_MORE.to_owned(),
            Case::Holds => "nothing".to_owned(),
            Case::NotForHours | Case::HoursOnly => {
                let name = &panel.name;
                let lives = if is_leaf && self.is_one_sided() {
                    format!(
                        "nothing, while both sides of {name} are filled and drained together; else"
                    )
                } else if worst.strain == Strain::Ample {
                    format!(
                        "nothing for its strength: {name} only bends more than wanted; to stiffen it"
                    )
                } else {
                    "nothing, while such a load is taken off within hours, a day at most; else"
                        .to_owned()
                };
                format!("{lives} {}", change())
            }
            Case::Fails | Case::Scant => change(),
        }
    }

    /// Whether the load that decides is that of one side full and the other empty.
    fn is_one_sided(&self) -> bool {
        let panel = self.worst.panel;
        let peak = if self.worst.is_by_bend() { &panel.deflection } else { &panel.stress };
        crate::alone::is_one_sided(&panel.loads[peak.load])
    }

    /// The least change of rim and braces that was tried and does.
    fn stiffer(&self) -> Option<String> {
        let remedies = &self.worst.panel.remedies;
        let wanted = if self.worst.case == Case::Scant { AMPLE } else { 1.0 };
        let tried = [
            (remedies.one_more_brace, "one more brace in the longest stretch of the rim"),
            (remedies.wider_rim, "a rim half as wide again"),
            (remedies.with_rim, "a rim of 50 mm"),
        ];
        let mut does: Vec<(f64, &str)> = tried
            .into_iter()
            .filter_map(|(with, words)| Some((with?[0], words)))
            .filter(|(factor, _)| *factor >= wanted)
            .collect();
        does.sort_by(|a, b| {
            Reverse(a.0).partial_cmp(&Reverse(b.0)).unwrap_or(std::cmp::Ordering::Equal)
        });
        let (factor, words) = does.first()?;
        Some(format!("{words} (factor {factor:.2} of this load)"))
    }
}

fn for_how_long(load: &Load) -> &'static str {
    match load.duration {
        Duration::Hours => "for hours",
        Duration::Days => "for days, until somebody comes",
        Duration::Years => "for years",
    }
}

/// With a capital and a full stop.
fn sentence(words: &str) -> String {
    let words = words.trim_end_matches('.');
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}

#[cfg(test)]
mod tests;

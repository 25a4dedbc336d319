//! The answer, and what decides, in words.

use design::Design;
use params::File;
use units::{Length, System};

use super::Seams;
use super::ranks::{By, Case, Matter};
use crate::Strength;
use crate::checks::doors;
use crate::checks::guides::ShortGuides;
use crate::checks::panels::Teller;
use crate::checks::strain::{AMPLE, Bent, Strained, for_how_long};
use crate::panel::{Duration, Panel};

/// So many are named; more are counted.
const NAMED: usize = 3;

/// Puts it into words.
pub(super) struct Told<'a> {
    /// The first of `matters`.
    pub(super) worst: &'a Matter<'a>,
    pub(super) matters: &'a [Matter<'a>],
    pub(super) strength: &'a Strength,
    pub(super) file: &'a File,
    pub(super) design: &'a Design,
    pub(super) seams: Seams<'a>,
}

impl Told<'_> {
    pub(super) fn system(&self) -> System {
        self.file.report.system()
    }

    fn mm(&self, mm: f64) -> String {
        Length::mm(mm).show_fine(self.system())
    }

    pub(super) fn seam_fails(&self) -> [String; 3] {
        [
            self.seams.answer(),
            sentence(&self.seams.words(self.system())),
            sentence(super::BOND_MORE),
        ]
    }

    /// How many panels fail beside the worst.
    fn others_fail(&self) -> usize {
        let fails = |panel: &&Panel| {
            let mut own = self.matters.iter().filter(|m| m.panel.name == panel.name);
            own.any(|m| m.case == Case::Fails)
        };
        self.strength.panels.iter().filter(fails).count().saturating_sub(1)
    }

    pub(super) fn answer(&self) -> String {
        let name = &self.worst.panel.name;
        let all = self.strength.panels.len();
        let mut told = match self.worst.case {
            Case::Fails => {
                let others = match self.others_fail() {
                    0 => String::new(),
                    n => format!(", and {n} more of {all} panels fail"),
                };
                format!("No: {name} {}{others}.", self.why_it_fails())
            }
            Case::Scant => format!(
                "Just so: {name} bears for years what presses on it for years only {:.2} times over, less than the {AMPLE} that is wanted.",
                self.worst.panel.lasting_factor()
            ),
            Case::MayBreak | Case::Brief | Case::Bends => self.daily(),
            Case::Holds if self.strength.not_assessed.iter().any(|not| not.keeps_water_in) => {
                format!(
                    "As far as it could be worked out, yes: all {all} panels that were assessed bear each of their loads for years."
                )
            }
            Case::Holds => format!(
                "Yes, by these estimates: all {all} panels bear each of their loads for years."
            ),
        };
        if self.worst.case > Case::Fails {
            told.push_str(&self.bends_for_years());
        }
        told.push_str(&self.doors());
        told.push_str(&self.seams.count_words());
        told.push_str(&self.left_out().unwrap_or_default());
        if self.worst.case > Case::Fails && self.is_bottom_unsaid() {
            told.push_str(" All this if the bottom lies flat all over.");
        }
        told
    }

    fn why_it_fails(&self) -> &'static str {
        match (self.worst.by, self.worst.duration()) {
            (By::Stress(_), Duration::Years) => "carries more than it may for years",
            (By::Stress(_), Duration::Days) => "may give way within days after a failure",
            (By::Stress(_), Duration::Hours) => "may give way within hours under its hardest load",
            (By::Bend(_), _) if self.worst.is_refused() => "bends more than twice its thickness",
            (By::Bend(_), _) => "bends more than the file allows",
        }
    }

    /// All is well in flow; what may break, is borne for days or for hours, or bends then: each panel by its worst.
    fn daily(&self) -> String {
        let mut left: Vec<&Matter<'_>> = Vec::new();
        for matter in self.matters.iter().filter(|m| m.case < Case::Holds) {
            if left.iter().all(|other| other.panel.name != matter.panel.name) {
                left.push(matter);
            }
        }
        let of = |is: &dyn Fn(&Matter<'_>) -> bool| -> Vec<&str> {
            left.iter().filter(|m| is(m)).map(|m| m.panel.name.as_str()).collect()
        };
        let named = |names: &[&str], one: &str, many: &str| match names.len() {
            0 => None,
            1 => Some(format!("{} {one}", names[0])),
            n if n <= NAMED => Some(format!("{} {many}", listed(names))),
            n => Some(format!("{n} of {} panels {many}", self.strength.panels.len())),
        };
        let is_brief =
            |m: &Matter<'_>, duration: Duration| m.case == Case::Brief && m.duration() == duration;
        let breaks = format!(
            "may break with {}; it is loose, so that no water leaves the box",
            self.worst.load().words
        );
        let all = [
            named(
                &of(&|m| m.case == Case::MayBreak),
                &breaks,
                "may break under loads of hours or days; they are loose, so that no water leaves the box",
            ),
            named(
                &of(&|m| is_brief(m, Duration::Days)),
                "bears a failure for some days only",
                "bear a failure for some days only",
            ),
            named(
                &of(&|m| is_brief(m, Duration::Hours)),
                "bears filling, draining or water to the rim for hours only",
                "bear filling, draining or water to the rim for hours only",
            ),
            named(
                &of(&|m| m.case == Case::Bends && m.duration() != Duration::Years),
                "bends more than wanted meanwhile",
                "bend more than wanted meanwhile",
            ),
        ];
        let all: Vec<String> = all.into_iter().flatten().collect();
        let but = if all.is_empty() { String::new() } else { format!(" But {}.", all.join("; ")) };
        format!(
            "Yes in daily use: every panel bears for years what stands against it in flow.{but}"
        )
    }

    /// What bends in flow further than wanted, each panel: ` In flow leaf comb bends 5.7 mm after years, where 2.35 mm is wanted.`
    fn bends_for_years(&self) -> String {
        let far = |panel: &Panel| {
            let bent = Bent::too_far_for_years(panel)?;
            let [mm, wanted] = [bent.mm, panel.deflection_limit_mm].map(|mm| self.mm(mm));
            Some(format!("{} bends {mm} where {wanted} is wanted", panel.name))
        };
        let all: Vec<String> = self.strength.panels.iter().filter_map(far).collect();
        if all.is_empty() {
            return String::new();
        }
        format!(" In flow, after years, {}.", all.join("; "))
    }

    /// Doors that hold on their screws just so.
    fn doors(&self) -> String {
        let found = doors::screws(self.strength, self.file, self.design);
        let tight = found.iter().filter(|f| f.grade == findings::Grade::Tight).count();
        match tight {
            0 => String::new(),
            1 => " One door holds just so on its screws, or for a while only.".to_owned(),
            n => format!(" {n} doors hold just so on their screws, or for a while only."),
        }
    }

    /// Parts that keep the water in and were not assessed; `None` where all were.
    pub(super) fn left_out(&self) -> Option<String> {
        let not = self.strength.not_assessed.iter().filter(|not| not.keeps_water_in);
        let names: Vec<&str> = not.map(|not| not.name.as_str()).collect();
        let (are, keep) = match names.len() {
            0 => return None,
            1 => ("is", "keeps"),
            _ => ("are", "keep"),
        };
        Some(format!(" Not assessed {are} {}, which {keep} the water in.", listed(&names)))
    }

    /// Whether it is taken to lie flat because the file says nothing.
    fn is_bottom_unsaid(&self) -> bool {
        self.strength.bottom_on_frame.is_some() && self.file.strength.bottom.is_none()
    }

    pub(super) fn decides(&self) -> String {
        if self.worst.case == Case::Holds && self.seams.open > 0 {
            return sentence(&self.seams.words(self.system()));
        }
        let mut told = self.matter(self.worst);
        // What would flood is named too where what is loose decides.
        let outer = self
            .matters
            .iter()
            .find(|m| m.keeps_water_in && m.case < Case::Holds && !self.worst.keeps_water_in);
        if let Some(outer) = outer {
            told.push_str(&format!(" Of what keeps the water in: {}", self.matter(outer)));
        }
        if self.seams.fail + self.seams.open > 0 {
            told.push_str(&format!(" Of the seams: {}.", self.seams.words(self.system())));
        }
        told
    }

    /// The panel, where, how much of what is allowed, and the load.
    fn matter(&self, matter: &Matter<'_>) -> String {
        let (panel, load) = (matter.panel, matter.load());
        let much = match matter.by {
            By::Bend(bent) => format!(
                "{}: bends {} where {} is wanted",
                load.deflection_place,
                self.mm(bent.mm),
                self.mm(panel.deflection_limit_mm)
            ),
            By::Stress(strained) => self.stress(panel, &strained),
        };
        let cause = ShortGuides::of(panel, self.design)
            .filter(|_| matter.case != Case::Holds)
            .map_or(String::new(), |guides| format!("; {}", guides.cause(self.system())));
        let long = for_how_long(load.duration);
        format!("{}, {much}, with {} ({long}){cause}.", panel.name, load.words)
    }

    /// `middle of the upper edge: 4.6 MPa of the 2.7 MPa that it may carry for years, and 8.1 MPa for hours`.
    fn stress(&self, panel: &Panel, strained: &Strained) -> String {
        let show = |mpa: f64| self.system().show_stress(mpa);
        let place = Teller::new(self.file, self.design).place(panel, strained);
        let [mpa, lasting, limit] =
            [strained.mpa, strained.lasting_mpa, strained.limit_mpa].map(show);
        let brief = match strained.duration {
            Duration::Years => String::new(),
            Duration::Days => format!(", and {limit} for days"),
            Duration::Hours => format!(", and {limit} for hours"),
        };
        format!("{place}: {mpa} of the {lasting} that it may carry for years{brief}")
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [some @ .., last] => format!("{} and {last}", some.join(", ")),
    }
}

/// With a capital and a full stop.
pub(super) fn sentence(words: &str) -> String {
    let words = words.trim_end_matches('.');
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}

//! Whether it holds, in three sentences: the answer, what decides, what to change first.

mod change;
mod ranks;
mod seams;
mod words;

use design::Design;
use findings::{Finding, Grade};
use params::File;
use serde::Serialize;

use super::panels::Teller;
use super::{doors, material};
use crate::Strength;
use ranks::Case;
use seams::{BOND_MORE, Seams};
use words::{Told, sentence};

/// The findings about panels, seams and sheet in short.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Verdict {
    /// The worst grade of panels, doors and seams; a sheet that is not vouched for fails. `NotChecked` where all that was
    /// assessed holds and a part that keeps the water in was not.
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
    let teller = Teller::new(file, design);
    let matters = ranks::ranked(&strength.panels, design, &teller);
    let Some(worst) = matters.first() else { return unknown() };
    let of_grade =
        |found: &[Finding], grade: Grade| found.iter().find(|f| f.grade == grade).cloned();
    let sheet = of_grade(&material::check(file, design), Grade::Fails);
    let doors = doors::screws(strength, file, design);
    let [door_fails, door_tight] =
        [Grade::Fails, Grade::Tight].map(|grade| of_grade(&doors, grade));
    let seams = Seams::of(&strength.seams);
    let told = Told { worst, matters: &matters, strength, file, design, seams };
    let is_panel = worst.case == Case::Fails;
    let grade = match () {
        () if sheet.is_some() || door_fails.is_some() || told.seams.fail > 0 => Grade::Fails,
        () if is_panel => Grade::Fails,
        () if worst.case < Case::Holds || told.seams.open > 0 || door_tight.is_some() => {
            Grade::Tight
        }
        () if told.left_out().is_some() => Grade::NotChecked,
        () => Grade::Holds,
    };
    let [answer, decides, first] = match (sheet, door_fails) {
        // Nothing that follows from a sheet's values counts where these do not.
        (Some(finding), _) => {
            of_finding("Not vouched for: the values of a sheet do not count here.", finding)
        }
        (None, Some(finding)) if !is_panel => {
            of_finding("No: a door does not hold on its leaf.", finding)
        }
        _ if told.seams.fail > 0 && !is_panel => told.seam_fails(),
        _ => match door_tight {
            Some(finding) if worst.case == Case::Holds => of_finding(&told.answer(), finding),
            _ => [told.answer(), told.decides(), sentence(&told.first())],
        },
    };
    Verdict { grade, answer, decides, first }
}

fn unknown() -> Verdict {
    Verdict {
        grade: Grade::NotChecked,
        answer: "Not known: no panel could be assessed.".to_owned(),
        decides: "What is not assessed, and why, stands below.".to_owned(),
        first: "What the findings of the file say.".to_owned(),
    }
}

/// What another check found.
fn of_finding(answer: &str, finding: Finding) -> [String; 3] {
    let first = finding.hint.unwrap_or_else(|| "what the finding says".to_owned());
    [answer.to_owned(), sentence(&finding.message), sentence(&first)]
}

#[cfg(test)]
mod tests;

//! Findings that came, went, or changed their words.

use findings::{Finding, Grade};

use crate::told::table::Table;

use super::{NONE, Side, note_same};

/// What is found on one side only. Where a check is made of the same parameter on both, both stand in a row.
pub(super) fn table(sides: [&Side<'_>; 2]) -> Table {
    let mut table = Table::new("Findings", ["about", "before", "after"]);
    let [before, after] = sides.map(told);
    let is_same = |one: &Finding, other: &Finding| {
        one.code == other.code
            && one.parameter == other.parameter
            && one.grade == other.grade
            && one.message == other.message
    };
    let alone = |all: &[Finding], others: &[Finding]| -> Vec<Finding> {
        let is_alone = |one: &&Finding| !others.iter().any(|other| is_same(one, other));
        all.iter().filter(is_alone).cloned().collect()
    };
    let (mut gone, came) = (alone(&before, &after), alone(&after, &before));
    let n_same = after.len() - came.len();
    for finding in came {
        let pair = |was: &Finding| was.code == finding.code && was.parameter == finding.parameter;
        let was = gone.iter().position(pair).map(|at| gone.remove(at));
        let was = was.map_or(NONE.to_owned(), |was| words(&was));
        table.rows.push(vec![about(&finding), was, words(&finding)]);
    }
    let gone = gone.iter().map(|was| vec![about(was), words(was), NONE.to_owned()]);
    table.rows.extend(gone);
    note_same(&mut table, n_same, ["finding", "findings"]);
    for (side, which) in sides.into_iter().zip(["first", "second"]) {
        if side.wet.is_none() {
            table.notes.push(format!(
                "A finding about the design of the {which} fails, so its water, fit, sheets and gluing were not looked at: \
                 what is missing there is not known to hold."
            ));
        }
    }
    table
}

/// What is told of a side: all but what holds, the worst first.
fn told(side: &Side<'_>) -> Vec<Finding> {
    let mut all = side.report().findings;
    all.retain(|finding| finding.grade != Grade::Holds);
    all
}

fn about(finding: &Finding) -> String {
    match finding.parameter.as_str() {
        "" => finding.code.to_owned(),
        parameter => parameter.to_owned(),
    }
}

fn words(finding: &Finding) -> String {
    let grade = match finding.grade {
        Grade::Fails => "FAILS",
        Grade::Tight => "tight",
        Grade::NotChecked => "not checked",
        Grade::Holds => "holds",
    };
    format!("{grade}: {}", finding.message)
}

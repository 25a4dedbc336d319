//! What is wrong with a design that could be put together: parts that cannot be cut, engravings off
//! their face, parts that share room or hang in the air.

use std::collections::BTreeSet;

use findings::{Finding, Grade};
use plate::{Arrangement, Plate, Shape, Tolerance, arrange, flat_pattern};

use crate::clash::clashes;
use crate::draft::{Builder, Draft, DraftId};
use crate::model::Role;
use crate::spaces::Layout;

/// All checks. What only follows from a failure that is already known is left out: a maker mends the
/// cause, and the rest is told when it is still there.
pub(crate) fn run(b: &mut Builder<'_>, layout: &Layout) {
    let known: Vec<String> = b
        .findings
        .iter()
        .filter(|f| f.grade == Grade::Fails)
        .map(|f| f.parameter.clone())
        .collect();
    let is_news = |f: &Finding| {
        !known.iter().any(|k| is_within(k, &f.parameter) || is_within(&f.parameter, k))
    };
    let arranged: Vec<Option<Result<Arrangement, plate::Error>>> =
        b.drafts.iter().map(|d| arranged(&d.shape)).collect();
    let cuttable = b.drafts.iter().zip(&arranged).flat_map(|(d, a)| cuttable(d, a.as_ref()));
    let mut all: Vec<Finding> = cuttable.collect();
    let arrangements: Vec<_> = arranged.into_iter().map(|a| a?.ok()).collect();
    all.extend(clashes(b, layout, &arrangements));
    all.extend(floating(b));
    all.retain(is_news);
    b.findings.extend(all);
}

fn arranged(shape: &Shape) -> Option<Result<Arrangement, plate::Error>> {
    match shape {
        Shape::Sheet(plate) => Some(arrange(plate, &Tolerance::default())),
        Shape::Turned(_) => None,
    }
}

/// Whether `inner` is `outer` or a parameter below it.
fn is_within(inner: &str, outer: &str) -> bool {
    inner.strip_prefix(outer).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// Every sheet part must have an arrangement without fatal defects.
fn cuttable(draft: &Draft, arranged: Option<&Result<Arrangement, plate::Error>>) -> Vec<Finding> {
    const HINT: &str =
        "the place is given in the part's own frame, mm; change the sizes that meet there";
    let (Shape::Sheet(plate), Some(arranged)) = (&draft.shape, arranged) else { return Vec::new() };
    let arrangement = match arranged {
        Ok(arrangement) => arrangement,
        Err(error) => {
            let message = format!("{}: {error}", draft.name);
            let finding = Finding::fails("part-not-cuttable", &draft.parameter, message);
            return vec![finding.with_hint(HINT)];
        }
    };
    let mut findings = misplaced_engravings(draft, plate, arrangement);
    // What is made from its measures was looked at by those who know its text and its steps.
    let is_proved = matches!(draft.role, Role::Fitting | Role::Jig);
    let defects = arrangement.defects(&arrangement.tolerance);
    for defect in defects.into_iter().filter(|defect| defect.is_fatal() || !is_proved) {
        let message = format!("{}: {defect}", draft.name);
        let finding = if defect.is_fatal() {
            Finding::fails("part-not-cuttable", &draft.parameter, message)
        } else {
            Finding::tight("part-doubtful", &draft.parameter, message)
        };
        findings.push(finding.with_hint(HINT));
    }
    findings
}

/// Engravings that run off their face, into a hole or a pocket.
fn misplaced_engravings(draft: &Draft, plate: &Plate, arrangement: &Arrangement) -> Vec<Finding> {
    if plate.engravings.is_empty() {
        return Vec::new();
    }
    let misplaced = flat_pattern(plate, arrangement).misplaced_engravings();
    let finding = |wrong: plate::MisplacedEngraving| {
        let parameter = draft.engraved_by.get(wrong.engraving).unwrap_or(&draft.parameter);
        let message = format!(
            "the engraving on {} runs over a hole, a pocket or the edge at [{:.0}, {:.0}] of the panel",
            draft.name, wrong.at.x, wrong.at.y
        );
        Finding::fails("engraving-off-face", parameter, message)
            .with_hint("move it with `at`, or what it runs over")
    };
    misplaced.into_iter().map(finding).collect()
}

/// Parts that neither glue nor contact joins to the bottom. Pipes and equipment may hang.
fn floating(b: &Builder<'_>) -> Vec<Finding> {
    let mut reached: BTreeSet<DraftId> =
        (0..b.drafts.len()).filter(|&i| b.drafts[i].role == Role::Bottom).collect();
    loop {
        let next: Vec<DraftId> = b
            .joints
            .iter()
            .flat_map(|j| [(j.a, j.b), (j.b, j.a)])
            .filter(|(from, to)| reached.contains(from) && !reached.contains(to))
            .map(|(_, to)| to)
            .collect();
        if next.is_empty() {
            break;
        }
        reached.extend(next);
    }
    let may_hang = |role: Role| matches!(role, Role::Equipment | Role::DrainPipe);
    (0..b.drafts.len())
        .filter(|i| !reached.contains(i) && !may_hang(b.drafts[*i].role))
        .filter(|i| !b.drafts[*i].is_spare && !b.drafts[*i].is_only_made)
        .map(|i| {
            let draft = &b.drafts[i];
            Finding::fails(
                "part-floats",
                &draft.parameter,
                format!("{} touches nothing that holds it", draft.name),
            )
            .with_hint("give it something to rest on")
        })
        .collect()
}

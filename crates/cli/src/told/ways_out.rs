//! How every part that lifts out comes out, in words.

use design::{Design, Removable, RemovableKind};
use fit::{Cure, Report, Step, Verdict, Way};
use units::Length;

use super::figures::NONE;
use super::table::{Table, hanging, wrapped};
use crate::draw::one_line;

/// The way out of one part.
#[derive(Clone, Debug)]
pub(crate) struct WayOut {
    /// Its name, and whether it comes out.
    pub(crate) title: String,
    /// What is taken out, itself last.
    pub(crate) steps: Vec<ToldStep>,
    /// Sentences about it.
    pub(crate) notes: Vec<String>,
}

impl WayOut {
    /// What is known of a way.
    pub(crate) fn of(way: &Way, design: &Design) -> Self {
        let name = name(way.removable, design);
        let title = format!("{name}: {}", outcome(way));
        let mut notes = vec![sentence(way, design)];
        notes.extend(blocked(way, design));
        notes.extend(way.cure.as_ref().map(|cure| cured(cure, way, design)));
        Self {
            title,
            steps: way.steps.iter().map(|step| ToldStep::of(step, design)).collect(),
            notes,
        }
    }

    /// The same as text.
    pub(crate) fn text(&self) -> String {
        let mut text = one_line(&self.title) + "\n";
        text.extend(self.notes.iter().map(|note| wrapped(note)));
        text + &steps_text(&self.steps)
    }
}

/// What is taken out, numbered, each with its moves below.
pub(crate) fn steps_text(steps: &[ToldStep]) -> String {
    let mut text = String::new();
    let width = steps.len().to_string().len();
    for (k, step) in steps.iter().enumerate() {
        text += &hanging(&format!("  {:width$}. ", k + 1), &step.head);
        let mark = " ".repeat(width + 4) + "- ";
        text.extend(step.moves.iter().map(|words| hanging(&mark, words)));
    }
    text
}

/// One thing taken out, in words.
#[derive(Clone, Debug)]
pub(crate) struct ToldStep {
    /// Its name, and how near it comes to anything.
    pub(crate) head: String,
    /// What is undone before, and its moves.
    pub(crate) moves: Vec<String>,
}

impl ToldStep {
    pub(crate) fn of(step: &Step, design: &Design) -> Self {
        let head = match gap(step.least_gap_mm, design) {
            _ if step.moves.is_empty() => format!("{}: no way of it is known", step.name),
            Some(gap) => format!("{} (least gap on its way: {gap})", step.name),
            None => step.name.clone(),
        };
        let moves = step.moves.iter().map(|plain| plain.words.clone());
        Self { head, moves: step.undo.iter().cloned().chain(moves).collect() }
    }
}

/// The least gap on a way; none where nothing was near.
fn gap(mm: f64, design: &Design) -> Option<String> {
    mm.is_finite().then(|| Length::mm(mm.max(0.0)).show(design.report))
}

/// All of them, a line each.
pub(crate) fn table(ways: &[&Way], design: &Design) -> Table {
    let mut table = Table::new(
        "Ways out",
        ["part", "what it is", "outcome", "taken out before", "moves", "least gap on its way"],
    );
    table.rows = ways.iter().map(|way| row(way, design)).collect();
    table.notes.push(
        "A way that is told was proved free of everything that stands, with the part taken a little smaller, and is \
         plain enough to follow by hand. Hoses and cables that are not in the file are in no way's way."
            .to_owned(),
    );
    table
}

fn row(way: &Way, design: &Design) -> Vec<String> {
    let removable = &design.removables[way.removable];
    let last = way.steps.last();
    let before = way.steps.split_last().map_or(&[][..], |(_, before)| before);
    let names: Vec<&str> = before.iter().map(|step| step.name.as_str()).collect();
    vec![
        removable.name.clone(),
        removable.kind.words().to_owned(),
        outcome(way).to_owned(),
        match names.as_slice() {
            [] if removable.kind == RemovableKind::Sump => "everything else".to_owned(),
            [] => NONE.to_owned(),
            names => names.join(", "),
        },
        last.map_or(NONE.to_owned(), |step| step.moves.len().to_string()),
        last.and_then(|step| gap(step.least_gap_mm, design)).unwrap_or_else(|| NONE.to_owned()),
    ]
}

/// The order in which everything comes out.
pub(crate) fn emptying(report: &Report, design: &Design) -> Vec<ToldStep> {
    report.emptying.iter().map(|step| ToldStep::of(step, design)).collect()
}

/// What of the things that are in is never taken out in that order, in a sentence.
pub(crate) fn left(report: &Report, design: &Design) -> Option<String> {
    let is_out = |k: usize| report.emptying.iter().any(|step| step.removable == k);
    let takes = |k: usize, all: &[usize]| {
        report.emptying.iter().any(|step| {
            let parts = &design.removables[step.removable].parts;
            step.removable != k && all.iter().all(|part| parts.contains(part))
        })
    };
    let is_left = |(k, one): &(usize, &Removable)| {
        one.instead_of.is_none() && !is_out(*k) && (one.parts.is_empty() || !takes(*k, &one.parts))
    };
    let left = design.removables.iter().enumerate().filter(is_left);
    let names: Vec<&str> = left.map(|(_, one)| one.name.as_str()).collect();
    (!names.is_empty()).then(|| format!("What stays in: {}.", listed(&names)))
}

/// Title of [`emptying`].
pub(crate) const EMPTYING: &str = "Everything out, in this order";

/// Whether it comes out, in a few words.
fn outcome(way: &Way) -> &'static str {
    match (&way.alone, way.steps.len()) {
        (_, 1) => "comes out",
        (_, 2..) => "comes out after others",
        (Verdict::ProvedNone(_), _) => "does not come out",
        (Verdict::StartsInClash { .. }, _) => "stands in the way of others in its place",
        (Verdict::NotFound { .. } | Verdict::Found(_), _) => "no way found",
    }
}

fn sentence(way: &Way, design: &Design) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let is_sump = design.removables[way.removable].kind == RemovableKind::Sump;
    match (way.steps.split_last(), &way.alone) {
        (Some((_, [])), _) if is_sump => {
            "Everything that lifts out is taken out before, and the sump is emptied.".to_owned()
        }
        (Some((_, [])), _) => "Nothing has to be taken out before.".to_owned(),
        (Some((_, before)), _) => {
            let names: Vec<&str> = before.iter().map(|step| step.name.as_str()).collect();
            let sure = if way.is_shortest {
                "With less taken out no way was found."
            } else {
                "Perhaps less will do: not every shorter order was tried."
            };
            format!("First comes out: {}. {sure}", listed(&names))
        }
        (None, Verdict::ProvedNone(proof)) => {
            let [a, b] = proof.section_mm.map(length);
            let [c, d] = proof.opening_mm.map(length);
            let whose = if proof.is_cabinet { "cabinet" } else { "rim" };
            format!(
                "There is no way, however it is turned: every section through its middle is at least {a} × {b}, and of \
                 such a section the largest opening of the {whose}, {c} × {d}, takes {}.",
                length(proof.takes_mm)
            )
        }
        (None, Verdict::StartsInClash { .. }) => {
            "In its place it shares room with other things, so nothing can be said of its way."
                .to_owned()
        }
        (None, Verdict::NotFound { steps }) => format!(
            "No way was found in {steps} tried steps of motion, with anything taken out before. That is no proof that \
             there is none: try `--thorough`, and try it by hand."
        ),
        (None, Verdict::Found(_)) => "No order of steps was found for its way.".to_owned(),
    }
}

/// What stood in the way, worst first.
fn blocked(way: &Way, design: &Design) -> Option<String> {
    /// More are not told.
    const MOST: usize = 4;
    let cut =
        |(name, mm): &(String, f64)| format!("{name} (by {})", Length::mm(*mm).show(design.report));
    let names: Vec<String> = way.blocked_by.iter().take(MOST).map(cut).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    (!names.is_empty())
        .then(|| format!("On the nearest try it would have cut into {}.", listed(&names)))
}

/// The nearest change that would let it out.
fn cured(cure: &Cure, way: &Way, design: &Design) -> String {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let it = name(way.removable, design);
    match cure {
        Cure::Smaller { by_mm } => format!(
            "`{it}` comes out if it is {} shorter along its longest side across the opening.",
            length(*by_mm)
        ),
        Cure::Without { name, .. } => format!("`{it}` comes out if `{name}` is not there."),
        Cure::Moved { removable, by_mm: [along, across] } => {
            let other = name(*removable, design);
            let towards = |mm: f64, ends: [&str; 2]| {
                let end = if mm < 0.0 { ends[0] } else { ends[1] };
                (mm != 0.0).then(|| format!("{} towards {end}", length(mm.abs())))
            };
            let moves = [
                towards(*along, ["the inlet end", "the far end"]),
                towards(*across, ["the front", "the back"]),
            ];
            let moves: Vec<String> = moves.into_iter().flatten().collect();
            format!("`{it}` comes out if `{other}` stands {}.", moves.join(" and "))
        }
        Cure::HigherCeiling { by_mm } => {
            format!("`{it}` comes out if the cabinet's ceiling is {} higher.", length(*by_mm))
        }
    }
}

fn name(removable: design::RemovableId, design: &Design) -> &str {
    design.removables.get(removable).map_or("", |removable| removable.name.as_str())
}

/// `a, b and c`.
pub(crate) fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

//! How every part that lifts out comes out, in words.

use design::{Design, Removable, RemovableKind};
use findings::capital;
use fit::{Report, Step, Verdict, Way, in_its_place, listed};
use units::Length;

use super::figures::NONE;
use super::one_line;
use super::table::{Table, hanging, wrapped};

/// The way out of one part.
#[derive(Clone, Debug)]
pub struct WayOut {
    /// Its name, and whether it comes out.
    pub title: String,
    /// What is taken out, itself last.
    pub steps: Vec<ToldStep>,
    /// Sentences about it.
    pub notes: Vec<String>,
}

impl WayOut {
    /// What is known of a way.
    pub fn of(way: &Way, report: &Report, design: &Design) -> Self {
        let name = name(way.removable, design);
        let title = format!("{name}: {}", outcome(way, report, design));
        let mut notes = vec![sentence(way, report, design)];
        let on_paper = (!way.steps.is_empty()).then(|| way.on_paper(design.report)).flatten();
        notes.extend(on_paper.map(|why| {
            format!(
                "This way holds on paper only: {why}. Count it as not coming out: try it with one of cardboard before \
                 anything is glued."
            )
        }));
        notes.extend(blocked(way, design));
        let cure = way.cure.as_ref().map(|cure| fit::cure_words(cure, way.removable, design));
        notes.extend(cure.map(|words| capital(&words) + "."));
        Self { title, steps: steps(&way.steps, design), notes }
    }

    /// The same as text.
    pub fn text(&self) -> String {
        let mut text = one_line(&self.title) + "\n";
        text.extend(self.notes.iter().map(|note| wrapped(note)));
        text + &steps_text(&self.steps)
    }
}

/// What is done before any hand goes in, then what is taken out; nothing where nothing is.
pub fn steps(steps: &[Step], design: &Design) -> Vec<ToldStep> {
    let first = (!steps.is_empty()).then(ToldStep::before_hands);
    first.into_iter().chain(steps.iter().map(|step| ToldStep::of(step, design))).collect()
}

/// What is taken out, numbered, each with its moves below.
pub fn steps_text(steps: &[ToldStep]) -> String {
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
pub struct ToldStep {
    /// Its name, and how near it comes to anything.
    pub head: String,
    /// What is undone before, and its moves.
    pub moves: Vec<String>,
}

impl ToldStep {
    /// What every list begins with.
    pub fn before_hands() -> Self {
        let moves = fit::BEFORE_HANDS.iter().map(|words| (*words).to_owned());
        Self { head: fit::BEFORE_HANDS_HEAD.to_owned(), moves: moves.collect() }
    }

    fn of(step: &Step, design: &Design) -> Self {
        let head = if step.moves.is_empty() {
            format!("{}: no way of it is known", step.name)
        } else {
            format!("{} (least gap on its way: {})", step.name, gap(step, design))
        };
        let moves = step.moves.iter().map(|plain| plain.words.clone());
        Self { head, moves: step.undo.iter().cloned().chain(moves).collect() }
    }
}

fn gap(step: &Step, design: &Design) -> String {
    fit::gap_words(step.least_gap_mm, design.report)
}

/// A gap of less is told as none, mm.
const TOUCH_MM: f64 = 0.05;

/// All of them, a line each.
pub fn table(ways: &[&Way], report: &Report, design: &Design) -> Table {
    let mut table = Table::new(
        "Ways out",
        ["part", "what it is", "outcome", "taken out before", "moves", "least gap on its way"],
    );
    table.rows = ways.iter().map(|way| row(way, report, design)).collect();
    let plain = if ways.iter().flat_map(|way| &way.steps).all(Step::is_plain) {
        ", and is plain enough to follow by hand"
    } else {
        ""
    };
    table.notes.push(format!(
        "A way that is told was proved free of everything that stands, with the part taken a little smaller{plain}. \
         Hoses and cables that are not in the file are in no way's way."
    ));
    let touches = |step: &Step| step.least_gap_mm < TOUCH_MM;
    if ways.iter().filter_map(|way| way.steps.last()).any(touches) {
        let nothing = Length::mm(0.0).show(design.report);
        table.notes.push(format!(
            "A least gap of {nothing} is where it rests on something, slides along it, or just passes it."
        ));
    }
    table
}

fn row(way: &Way, report: &Report, design: &Design) -> Vec<String> {
    let removable = &design.removables[way.removable];
    let last = way.steps.last();
    let before = way.steps.split_last().map_or(&[][..], |(_, before)| before);
    let names: Vec<&str> = before.iter().map(|step| step.name.as_str()).collect();
    vec![
        removable.name.clone(),
        removable.kind.words().to_owned(),
        outcome(way, report, design),
        match names.as_slice() {
            [] if removable.kind == RemovableKind::Sump && !way.steps.is_empty() => {
                match left_in(way, report, design) {
                    Some(_) => "everything else that comes out".to_owned(),
                    None => "everything else".to_owned(),
                }
            }
            [] => NONE.to_owned(),
            names => names.join(", "),
        },
        last.map_or(NONE.to_owned(), moves),
        last.map_or(NONE.to_owned(), |step| gap(step, design)),
    ]
}

/// How many moves, and where some are hard to follow, that they are.
fn moves(step: &Step) -> String {
    if step.is_plain() { step.moves.len().to_string() } else { step.effort() }
}

/// The order in which everything comes out.
pub fn emptying(report: &Report, design: &Design) -> Vec<ToldStep> {
    steps(&report.emptying, design)
}

/// What of the things that are in is never taken out in that order, in a sentence.
pub fn left(report: &Report, design: &Design) -> Option<String> {
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
    // The sump itself may come out with what stays in it.
    let sump = report.ways.iter().find(|way| is_sump(way, design) && !way.steps.is_empty());
    let left = left.filter(|(k, _)| sump.is_none_or(|way| way.removable != *k));
    let names: Vec<&str> = left.map(|(_, one)| one.name.as_str()).collect();
    (!names.is_empty()).then(|| format!("What stays in: {}.", listed(&names)))
}

/// Title of [`emptying`].
pub const EMPTYING: &str = "Everything out, in this order";

/// Whether it comes out, in a few words.
pub(crate) fn outcome(way: &Way, report: &Report, design: &Design) -> String {
    match (&way.alone, way.steps.len()) {
        (_, 1..) if let Some(left) = left_in(way, report, design) => {
            format!("comes out with {left} still in it")
        }
        (_, 1..) if !way.is_for_hands() => "comes out on paper only".to_owned(),
        (_, 1) => "comes out".to_owned(),
        (_, 2..) => "comes out after others".to_owned(),
        (Verdict::ProvedNone(_), _) => "does not come out".to_owned(),
        (Verdict::StartsInClash { with }, _) => in_its_place(way.removable, with, design),
        (Verdict::NotFound { .. } | Verdict::Found(_), _) => "no way found".to_owned(),
    }
}

/// Of the sump: what stays in it for want of a way.
fn left_in(way: &Way, report: &Report, design: &Design) -> Option<String> {
    if !is_sump(way, design) {
        return None;
    }
    let left = report.stays_in(design);
    let names: Vec<&str> = left.iter().map(|which| name(*which, design)).collect();
    (!names.is_empty()).then(|| listed(&names))
}

fn is_sump(way: &Way, design: &Design) -> bool {
    design.removables.get(way.removable).is_some_and(|one| one.kind == RemovableKind::Sump)
}

fn sentence(way: &Way, report: &Report, design: &Design) -> String {
    match (way.steps.split_last(), &way.alone) {
        (Some(_), _) if let Some(left) = left_in(way, report, design) => format!(
            "Everything else that lifts out is taken out before, and the sump is emptied. Of {left} no way out is known: \
             what of it would stick out of the sump is not looked at."
        ),
        (Some((_, [])), _) if is_sump(way, design) => {
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
            let told = fit::tell_proof(proof, way.removable, design);
            format!(
                "There is no way, whatever the motion: {}. What must change: {}.",
                told.reason, told.remedy
            )
        }
        (None, Verdict::StartsInClash { with }) => format!(
            "{}, so nothing can be said of its way.",
            capital(&in_its_place(way.removable, with, design))
        ),
        (None, Verdict::NotFound { steps }) if fit::fits_no_opening(*steps, design) => {
            "No position was found in which it passes an opening to the outside, with anything taken out before. That \
             is no proof that there is none: try it by hand."
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

fn name(removable: design::RemovableId, design: &Design) -> &str {
    design.removables.get(removable).map_or("", |removable| removable.name.as_str())
}

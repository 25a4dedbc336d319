//! Small printed fittings: each is made to its measures and put where the file wants it.

mod hold;
mod measures;
mod place;
mod stand;

use findings::Finding;
use fittings::{Error, Fitting, KINDS, Kind, Mate, PrintNotes};
use params::{PrintedFitting, listed, nearest};

use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::model::Role;
use crate::printing::{glue_note, printer};
use crate::spaces::Layout;
use measures::Known;

pub(crate) use hold::{carries, hold, stand_mm};

/// All but those on lids, which are made later.
pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    some(b, enclosure, layout, |spec| spec.lid.is_none());
}

/// Those on lids, once these are there.
pub(crate) fn build_on_lids(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    some(b, enclosure, layout, |spec| spec.lid.is_some());
}

fn some(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    is_wanted: impl Fn(&PrintedFitting) -> bool,
) {
    let file = b.file;
    for (i, spec) in file.fitting.iter().enumerate().filter(|(_, spec)| is_wanted(spec)) {
        let parameter = format!("fitting[{i}]");
        let Some(kind) = kind(b, spec, &parameter) else { continue };
        let Some(known) = measures::known(b, kind, spec, &parameter) else { continue };
        let Some(fitting) = made(b, kind, &known, &parameter) else { continue };
        add(b, enclosure, layout, &Wanted { kind, spec, fitting, known, parameter });
    }
}

/// A fitting that could be made, with what the file says of it.
struct Wanted<'a> {
    kind: &'static Kind,
    spec: &'a PrintedFitting,
    fitting: Fitting,
    known: Vec<Known>,
    parameter: String,
}

fn kind(b: &mut Builder<'_>, spec: &PrintedFitting, parameter: &str) -> Option<&'static Kind> {
    let kind = Kind::named(&spec.kind);
    if kind.is_none() {
        let names = || KINDS.iter().map(|kind| kind.name);
        let message = format!("there is no kind of fitting called `{}`", spec.kind);
        let hint = match nearest(&spec.kind, names()) {
            Some(near) => format!("write `\"{near}\"`"),
            None => format!("there are {}", listed(names(), "and")),
        };
        let parameter = format!("{parameter}.kind");
        b.find(Finding::fails("unknown-fitting", parameter, message).with_hint(hint));
    }
    kind
}

/// The fitting, or a finding why its measures make none.
fn made(b: &mut Builder<'_>, kind: &Kind, known: &[Known], parameter: &str) -> Option<Fitting> {
    let values = known.iter().map(|known| (known.measure.name, known.value));
    let error = match kind.made(values, &printer(&b.file.printing)) {
        Ok(fitting) => return Some(fitting),
        Err(error) => error,
    };
    let parameter = match &error {
        Error::OutOfRange { name, .. } => format!("{parameter}.measures.{name}"),
        _ => format!("{parameter}.measures"),
    };
    let message = format!("this `{}` cannot be made: {error}", kind.name);
    let hint = format!("change its measures ({}), or `[printing]`", measures::names(kind));
    b.find(Finding::fails("fitting-not-made", parameter, message).with_hint(hint));
    None
}

/// Adds one in its place, if it has one, or a stack of what stacks, and those that are only made.
fn add(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout, wanted: &Wanted<'_>) {
    let mut left = usize::try_from(wanted.spec.quantity).unwrap_or(usize::MAX);
    let mut place = place::of(b, enclosure, layout, wanted);
    let lower = match place {
        Some(_) if left > 1 => lower(b, wanted),
        _ => None,
    };
    while let (Some(here), 1..) = (place.take(), left) {
        let one = lower.as_ref().filter(|_| left > 1).unwrap_or(wanted);
        let id = here.add(b, draft(one, b));
        place = here.on_top(id);
        left -= 1;
    }
    if left > 0 {
        let mut draft = draft(wanted, b);
        (draft.is_only_made, draft.count) = (true, left);
        b.add(draft);
    }
}

/// For what stacks: as those are made that others stand on, unless the file says how.
fn lower<'f>(b: &mut Builder<'_>, wanted: &Wanted<'f>) -> Option<Wanted<'f>> {
    let choice = wanted.kind.stand.on_bottom?.stacks_by?;
    let known = measures::choosing(&wanted.known, choice, "others stand on it")?;
    let fitting = made(b, wanted.kind, &known, &wanted.parameter)?;
    let parameter = wanted.parameter.clone();
    Some(Wanted { kind: wanted.kind, spec: wanted.spec, fitting, known, parameter })
}

/// Made for the thickest or the thinnest place of its sheet, it meets all of it.
fn on_sheet(b: &Builder<'_>, spec: &PrintedFitting, print: &PrintNotes) -> PrintNotes {
    let [least, most] = b.sheet(measures::own_sheet(b, spec)).band_mm;
    let over = |mate: &Mate| if mate.with == "sheet" { mate.over([least, most]) } else { *mate };
    PrintNotes { mates: print.mates.iter().map(over).collect(), ..print.clone() }
}

fn draft(wanted: &Wanted<'_>, b: &Builder<'_>) -> Draft {
    let Wanted { kind, spec, fitting, known, parameter } = wanted;
    let role = if kind.is_jig { Role::Jig } else { Role::Fitting };
    let name = spec.name.as_deref().unwrap_or(kind.name);
    let mut draft = Draft::new(role, name, parameter, fitting.shape.clone());
    draft.notes.push(kind.what_for.to_owned());
    if !known.is_empty() {
        draft.notes.push(measures::words(b, known));
    }
    let mut draft = draft.printed(on_sheet(b, spec, &fitting.print));
    if kind.stand.is_glued(|name| measures::is_made(known, name)) {
        draft.notes.push(glue_note(b, measures::own_sheet(b, spec)));
    }
    if !kind.advice.is_empty() {
        draft.notes.push(kind.advice.to_owned());
    }
    draft
}

//! Measures of a fitting: what the file gives, what follows from the sump, and what is usual.

use findings::Finding;
use fittings::{Follows, Kind, Measure, Of};
use params::{FittingMeasure, Opening, PrintedFitting, SockHolder, listed, nearest};
use units::{Length, Quantity};

use crate::draft::Builder;
use crate::model::Sheet;
use crate::sock::SOCK_PLAY_MM;

/// A measure with its value.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub(super) measure: &'static Measure,
    /// In what the measure is of.
    pub(super) value: f64,
    from: From,
}

/// Where the value of a measure comes from.
#[derive(Clone, Debug, PartialEq)]
enum From {
    File,
    /// The sump, by what of it.
    Sump(String),
    /// Nothing says it.
    Usual,
}

/// The same with a choice made, for a reason; `None` where the file has made it itself.
pub(super) fn choosing(known: &[Known], choice: &str, why: &str) -> Option<Vec<Known>> {
    let mut all = known.to_vec();
    let chosen = all.iter_mut().find(|k| k.measure.name == choice && k.from != From::File)?;
    (chosen.value, chosen.from) = (1.0, From::Sump(why.to_owned()));
    Some(all)
}

/// Whether a choice among measures is made.
pub(super) fn is_made(known: &[Known], choice: &str) -> bool {
    let of = |k: &&Known| k.measure.of == Of::Choice && k.measure.name == choice;
    known.iter().find(of).is_some_and(|k| k.value > 0.5)
}

/// Names of all measures of a kind, for hints.
pub(super) fn names(kind: &Kind) -> String {
    listed(kind.measures.iter().map(|measure| measure.name), "and")
}

/// All measures of a fitting in the order of its kind; `None` with findings where one of the file is wrong.
pub(super) fn known(
    b: &mut Builder<'_>,
    kind: &'static Kind,
    spec: &PrintedFitting,
    parameter: &str,
) -> Option<Vec<Known>> {
    let mut is_right = true;
    for name in spec.measures.keys() {
        if kind.measures.iter().all(|measure| measure.name != name) {
            is_right = false;
            unknown(b, kind, name, parameter);
        }
    }
    let mut all = Vec::new();
    for measure in kind.measures {
        let (value, from) = match spec.measures.get(measure.name) {
            Some(written) => {
                let parameter = format!("{parameter}.measures.{}", measure.name);
                match read(b, measure, written, &parameter) {
                    Some(value) => (value, From::File),
                    None => {
                        is_right = false;
                        continue;
                    }
                }
            }
            None => match of_sump(b, measure, spec) {
                Some((value, what)) => (value, From::Sump(what)),
                None => (measure.usual, From::Usual),
            },
        };
        all.push(Known { measure, value, from });
    }
    is_right.then_some(all)
}

fn unknown(b: &mut Builder<'_>, kind: &Kind, name: &str, parameter: &str) {
    let own = || kind.measures.iter().map(|measure| measure.name);
    let message = format!("a `{}` has no measure `{name}`", kind.name);
    let hint = match nearest(name, own()) {
        Some(near) => format!("write `{near}`"),
        None if kind.measures.is_empty() => "it has none: delete it".to_owned(),
        None => format!("it has {}", names(kind)),
    };
    let parameter = format!("{parameter}.measures.{name}");
    b.find(Finding::fails("unknown-measure", parameter, message).with_hint(hint));
}

/// The number that the file gives a measure, if it is one for it and within its limits.
fn read(
    b: &mut Builder<'_>,
    measure: &Measure,
    written: &FittingMeasure,
    parameter: &str,
) -> Option<f64> {
    let read = match (measure.of, written) {
        (Of::Choice, FittingMeasure::Choice(choice)) => Ok(f64::from(u8::from(*choice))),
        (Of::Choice, _) => Err("`true` or `false`"),
        (_, FittingMeasure::Choice(_)) | (Of::Count | Of::Degrees, FittingMeasure::Text(_)) => {
            Err(needed(measure.of))
        }
        (Of::Mm, FittingMeasure::Text(text)) => match Length::KIND.read(text) {
            Ok(reading) => Ok(reading.to_bare()),
            Err(error) => {
                let message = format!("`{}`: {error}", measure.name);
                let hint = format!(
                    "write a number of mm, or a number and its unit in quotes such as `\"{}\"`",
                    Length::KIND.example
                );
                b.find(Finding::fails("not-a-quantity", parameter, message).with_hint(hint));
                return None;
            }
        },
        (Of::Screw, FittingMeasure::Text(text)) => {
            let size = text.trim_start_matches(['M', 'm']).parse();
            size.map_err(|_| needed(Of::Screw))
        }
        (_, FittingMeasure::Number(number)) => Ok(*number),
    };
    match read {
        Ok(value) => within(b, measure, value, parameter).then_some(value),
        Err(needed) => {
            let message =
                format!("`{}` is {}, so it must be {needed}", measure.name, measure.words);
            b.find(Finding::fails("wrong-type", parameter, message));
            None
        }
    }
}

/// What a measure is written as.
fn needed(of: Of) -> &'static str {
    match of {
        Of::Mm => "a length",
        Of::Count => "a whole number",
        Of::Degrees => "a number of degrees",
        Of::Screw => "the thread of a screw such as `\"M5\"`",
        Of::Choice => "`true` or `false`",
    }
}

fn within(b: &mut Builder<'_>, measure: &Measure, value: f64, parameter: &str) -> bool {
    let is_whole = !matches!(measure.of, Of::Count | Of::Screw) || value.fract().abs() < 1e-9;
    if measure.least <= value && value <= measure.most && is_whole {
        return true;
    }
    let name = measure.name;
    let shown = |value| shown(b, measure.of, value);
    let finding = if is_whole {
        let message = format!(
            "`{name}`, {}, is {}, but it must be from {} to {}",
            measure.words,
            shown(value),
            shown(measure.least),
            shown(measure.most)
        );
        Finding::fails("out-of-range", parameter, message)
    } else {
        let message = format!("`{name}`, {}, is {value}, which is no whole number", measure.words);
        Finding::fails("out-of-range", parameter, message)
    };
    b.find(finding);
    false
}

/// A measure that follows from the sump, and from what of it. What stands out of the measure's limits does not follow.
fn of_sump(b: &Builder<'_>, measure: &Measure, spec: &PrintedFitting) -> Option<(f64, String)> {
    let file = b.file;
    let (value, what) = match measure.follows? {
        Follows::Sheet => thickest(b, spec),
        Follows::SheetOrThinnest(choice)
            if spec.measures.get(choice) == Some(&FittingMeasure::Choice(true)) =>
        {
            thinnest(b, spec)
        }
        Follows::SheetOrThinnest(_) => thickest(b, spec),
        Follows::Spread => {
            let sheet = b.sheet(own_sheet(b, spec));
            let [least, most] = sheet.band_mm;
            (most - least, format!("sheet `{}`, {}", sheet.name, known_how(&sheet)))
        }
        Follows::Pipe => {
            let of = file.drain.iter().map(|drain| (drain.diameter.to_mm(), &drain.name));
            let (value, name) = the_only(of)?;
            (value, format!("drain `{name}`"))
        }
        Follows::Probe => {
            let probes = file.equipment.iter().filter(|e| e.kind == params::EquipmentKind::Probe);
            let of = probes.filter_map(|e| Some((e.cylinder?.diameter.to_mm(), &e.name)));
            let (value, name) = the_only(of)?;
            (value, format!("probe `{name}`"))
        }
        Follows::SockHole => {
            let holder = holder(b, spec)?;
            let bag = holder.sock.diameter.to_mm();
            (bag + 2.0 * SOCK_PLAY_MM, format!("the socks of `{}`", holder.chamber))
        }
        Follows::RoundHole => (round_hole(b, spec)?, "the round hole of the leaf".to_owned()),
        Follows::OpeningWidth => of_opening(letterbox(b, spec)?[0]),
        Follows::OpeningHeight => of_opening(letterbox(b, spec)?[1]),
        Follows::OpeningCorner => {
            let [width, height] = letterbox(b, spec)?;
            let corner = b.inner_corner_mm(&b.sheet(own_sheet(b, spec)));
            // As the opening is cut.
            of_opening(corner.min(0.5 * width.min(height)))
        }
        Follows::StripClearance => {
            let all = crate::divider::clearances_mm(b);
            let of = all.iter().map(|(mm, name)| (*mm, name));
            let (value, name) = the_only(of)?;
            (value, format!("divider `{name}`"))
        }
    };
    (measure.least <= value && value <= measure.most).then_some((value, what))
}

fn of_opening(value: f64) -> (f64, String) {
    (value, "the opening of the leaf".to_owned())
}

/// The thickness of its sheet at the thickest, mm.
fn thickest(b: &Builder<'_>, spec: &PrintedFitting) -> (f64, String) {
    let sheet = b.sheet(own_sheet(b, spec));
    let value = sheet.band_mm[1].max(sheet.thickness_mm());
    (value, format!("sheet `{}` at its thickest, {}", sheet.name, known_how(&sheet)))
}

/// The thickness of its sheet at the thinnest, mm.
fn thinnest(b: &Builder<'_>, spec: &PrintedFitting) -> (f64, String) {
    let sheet = b.sheet(own_sheet(b, spec));
    let value = sheet.band_mm[0].min(sheet.thickness_mm());
    (value, format!("sheet `{}` at its thinnest, {}", sheet.name, known_how(&sheet)))
}

fn known_how(sheet: &Sheet) -> &'static str {
    if sheet.is_measured { "measured" } else { "as its standard allows" }
}

/// The sheet that what a fitting is on has for its own; `None` where that is the box's.
pub(super) fn own_sheet<'f>(b: &Builder<'f>, spec: &PrintedFitting) -> Option<&'f String> {
    let file = b.file;
    if let Some(leaf) = &spec.leaf {
        return file.leaf.get(leaf)?.sheet.as_ref();
    }
    if let Some(chamber) = &spec.lid {
        return file.lid.iter().find(|lid| &lid.chamber == chamber)?.sheet.as_ref();
    }
    holder(b, spec)?.sheet.as_ref()
}

/// The sock holder that a fitting sits in.
fn holder<'f>(b: &Builder<'f>, spec: &PrintedFitting) -> Option<&'f SockHolder> {
    let chamber = spec.chamber.as_ref().filter(|_| spec.sock.is_some())?;
    b.file.sock_holder.iter().find(|holder| &holder.chamber == chamber)
}

/// Width and height of the only letterbox of the leaf that a fitting is on, mm.
fn letterbox(b: &Builder<'_>, spec: &PrintedFitting) -> Option<[f64; 2]> {
    let of = |opening: &Opening| match opening {
        Opening::Letterbox(l) => Some([l.width.to_mm(), l.height.to_mm()]),
        _ => None,
    };
    let mut all = b.file.leaf.get(spec.leaf.as_ref()?)?.openings.iter().filter_map(of);
    all.next().filter(|_| all.next().is_none())
}

/// Diameter of the round holes of the leaf that a fitting is on, mm, if all are of one.
fn round_hole(b: &Builder<'_>, spec: &PrintedFitting) -> Option<f64> {
    let leaf = spec.leaf.as_ref()?;
    let of = |opening: &Opening| match opening {
        Opening::Holes(h) => Some((h.diameter.to_mm(), leaf)),
        _ => None,
    };
    let (diameter, _) = the_only(b.file.leaf.get(leaf)?.openings.iter().filter_map(of))?;
    Some(diameter)
}

/// The value that all have, and the name of the first that has it; `None` where they differ or there is none.
fn the_only<'a>(all: impl Iterator<Item = (f64, &'a String)>) -> Option<(f64, &'a String)> {
    let mut all = all.peekable();
    let first = *all.peek()?;
    all.all(|(value, _)| (value - first.0).abs() < 1e-9).then_some(first)
}

/// A value as it is told.
fn shown(b: &Builder<'_>, of: Of, value: f64) -> String {
    match of {
        Of::Mm => Length::mm(value).show_fine(b.file.report.system()),
        Of::Count => format!("{value:.0}"),
        Of::Degrees => format!("{value}°"),
        Of::Screw => format!("M{value:.0}"),
        Of::Choice => (if value > 0.5 { "yes" } else { "no" }).to_owned(),
    }
}

/// All measures in words, with where those come from that the file does not give.
pub(super) fn words(b: &Builder<'_>, known: &[Known]) -> String {
    let one = |known: &Known| {
        let Known { measure, value, from } = known;
        let value = shown(b, measure.of, *value);
        let from = match from {
            From::File => String::new(),
            From::Sump(what) => format!(" (from {what})"),
            From::Usual => " (as usual)".to_owned(),
        };
        format!("{} {value}{from}", measure.name)
    };
    known.iter().map(one).collect::<Vec<_>>().join(", ")
}

//! What is told of fittings that were made by their measures alone: in words, or as data.

use fittings::Kind;
use serde_json::{Value, json};
use study::told::table::hanging;

use super::thing::Thing;
use super::{Made, Wanted, list, words};
use crate::Outcome;
use crate::args::FittingsArgs;
use crate::terminal;

/// What was made and written.
#[derive(Debug)]
pub(super) struct Run<'a> {
    pub(super) made: &'a [Made],
    pub(super) things: &'a [Thing<'a>],
    pub(super) said: Vec<String>,
    /// Paths of files.
    pub(super) written: Vec<String>,
}

/// Tells it.
///
/// # Errors
/// When nobody can be told.
pub(super) fn tell(args: &FittingsArgs, wanted: &Wanted, run: &Run<'_>) -> anyhow::Result<Outcome> {
    if args.json {
        terminal::print(&format!("{:#}\n", data(args, wanted, run)))?;
        return Ok(Outcome::Fine);
    }
    let is_shown = args.into.is_some() || args.picture.is_some();
    if args.list || (wanted.asked.is_empty() && args.picture.is_none()) {
        let kinds: Vec<&Kind> = wanted.asked.iter().map(|asked| asked.kind).collect();
        terminal::print(&list::text(&kinds, wanted.system))?;
        if !wanted.asked.is_empty() && !is_shown {
            return Ok(Outcome::Fine);
        }
    }
    if !run.made.is_empty() {
        terminal::print(&text(run, wanted))?;
    }
    for words in &run.said {
        terminal::say(hanging("note: ", words).trim_end());
    }
    for path in &run.written {
        terminal::say(&format!("wrote `{path}`"));
    }
    if !run.made.is_empty() && args.into.is_none() {
        terminal::say("nothing was written: say where with `--into FOLDER`");
    }
    Ok(Outcome::Fine)
}

fn data(args: &FittingsArgs, wanted: &Wanted, run: &Run<'_>) -> Value {
    let mut value = if args.list {
        list::as_json()
    } else {
        let made: Vec<Value> = run.made.iter().zip(run.things).map(as_json).collect();
        json!({ "made": made })
    };
    let said: Vec<&String> = wanted.of_sheet.iter().chain(&run.said).collect();
    value["files"] = json!(run.written);
    value["said"] = json!(said);
    value
}

/// What was made, in words.
fn text(run: &Run<'_>, wanted: &Wanted) -> String {
    let system = wanted.system;
    let mut text: String = wanted.of_sheet.iter().map(|words| hanging("note: ", words)).collect();
    for (made, thing) in run.made.iter().zip(run.things) {
        text += &hanging(&format!("{} × {}: ", made.count, made.name), made.kind.what_for);
        text += &hanging("    ", &words::measures(made.kind, &made.given, system));
        let lies = format!(
            "{}, {}; {}",
            words::size(thing.fitting, system),
            made.fitting.print.orientation,
            words::filament_used(thing)
        );
        text += &hanging("    ", &lies);
        if !made.kind.advice.is_empty() {
            text += &hanging("    ", &words::sentence(made.kind.advice));
        }
        if let Some(result) = words::result_of(made.kind) {
            text += &hanging("    ", &result);
        }
    }
    text + &hanging("", &words::printer(&wanted.printer, system))
}

fn as_json((made, thing): (&Made, &Thing<'_>)) -> Value {
    let measures: serde_json::Map<String, Value> = made
        .kind
        .measures
        .iter()
        .filter(|m| made.kind.counts(m, &made.given))
        .map(|m| (m.name.to_owned(), json!(words::number(m, &made.given))))
        .collect();
    let [x, y] = thing.fitting.print.bed_footprint_mm;
    json!({
        "kind": made.kind.name,
        "name": made.name,
        "count": made.count,
        "measures": measures,
        "orientation": made.fitting.print.orientation,
        "size_mm": [x, y, thing.fitting.print.height_mm],
        "volume_mm3": made.solid.volume_mm3(),
    })
}

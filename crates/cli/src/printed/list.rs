//! All kinds with what they are for and their measures: in a line each, or whole.

use fittings::{KINDS, Kind, Measure, Of};
use serde_json::{Value, json};
use study::told::table::{columns, hanging};
use units::System;

use super::words::{result_of, sentence, value};

/// As text: a line for each kind, the parts of a sump first; or all that is to be said of those named.
pub(super) fn text(named: &[&Kind], system: System) -> String {
    if !named.is_empty() {
        return named.iter().map(|kind| whole(kind, system)).collect();
    }
    let mut text = String::new();
    for (title, is_jig) in [("Fittings", false), ("Jigs and gauges for the workshop", true)] {
        text += &format!("{title}\n");
        for kind in KINDS.iter().filter(|kind| kind.is_jig == is_jig) {
            text +=
                &format!("  {:<WIDTH$} {}: {}\n", kind.name, kind.what_for, usual(kind, system));
        }
        text += "\n";
    }
    text += &hanging(
        "",
        "Measures are told as they usually are. `sumpwright fittings --list KIND` tells what each means and its limits. Make some \
         with `sumpwright fittings KIND MEASURE=VALUE … --into FOLDER`; measures that are left out are as usual, a bare number \
         is in mm.",
    );
    text
}

/// Width of the longest name.
const WIDTH: usize = 19;

/// Its measures as they usually are: `pipe 32 mm, width 15 mm`.
fn usual(kind: &Kind, system: System) -> String {
    let one = |m: &Measure| format!("{} {}", m.name, value(m, m.usual, system));
    kind.measures.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// What one is for, its measures with their limits, what to know.
fn whole(kind: &Kind, system: System) -> String {
    let mut text = hanging(&format!("{}: ", kind.name), kind.what_for);
    let rows: Vec<Vec<String>> = kind.measures.iter().map(|m| row(m, system)).collect();
    let table = columns(&["measure", "usual", "limits", ""].map(str::to_owned), &rows);
    text += &table.lines().skip(1).map(|line| format!("    {line}\n")).collect::<String>();
    if !kind.advice.is_empty() {
        text += &hanging("    ", &sentence(kind.advice));
    }
    if let Some(result) = result_of(kind) {
        text += &hanging("    ", &result);
    }
    text + "\n"
}

fn row(measure: &Measure, system: System) -> Vec<String> {
    let limits = match measure.of {
        Of::Choice => "yes or no".to_owned(),
        _ => {
            let [least, most] = [measure.least, measure.most].map(|v| value(measure, v, system));
            format!("{least} to {most}")
        }
    };
    let usual = value(measure, measure.usual, system);
    let words = match measure.only {
        Some((choice, is_made)) => {
            let is = if is_made { "yes" } else { "no" };
            format!("{}; counts with `{choice}={is}`", measure.words)
        }
        None => measure.words.to_owned(),
    };
    vec![measure.name.to_owned(), usual, limits, words]
}

/// As data; lengths in mm.
pub(super) fn as_json() -> Value {
    let measure = |m: &Measure| {
        let of = match m.of {
            Of::Mm => "mm",
            Of::Count => "count",
            Of::Degrees => "degrees",
            Of::Screw => "screw",
            Of::Choice => "choice",
        };
        json!({
            "name": m.name, "words": m.words, "of": of, "least": m.least, "usual": m.usual, "most": m.most,
            "source": m.source, "only": m.only.map(|(choice, is_made)| json!({ "choice": choice, "is": is_made })),
        })
    };
    let kind = |kind: &Kind| {
        json!({
            "name": kind.name, "what_for": kind.what_for, "is_jig": kind.is_jig, "advice": kind.advice,
            "measures": kind.measures.iter().map(measure).collect::<Vec<_>>(),
        })
    };
    json!({ "kinds": KINDS.iter().map(kind).collect::<Vec<_>>() })
}

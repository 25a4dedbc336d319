//! All kinds with what they are for and their measures.

use fittings::{KINDS, Kind, Measure, Of};
use serde_json::{Value, json};
use study::told::table::{columns, hanging};
use units::System;

use super::words::value;

/// As text, the parts of a sump first.
pub(super) fn text(system: System) -> String {
    let mut text = String::new();
    for (title, is_jig) in [("Fittings", false), ("Jigs and gauges for the workshop", true)] {
        let kinds: Vec<&Kind> = KINDS.iter().filter(|kind| kind.is_jig == is_jig).collect();
        if kinds.is_empty() {
            continue;
        }
        text += &format!("{title}\n\n");
        for kind in kinds {
            text += &hanging(&format!("{}: ", kind.name), kind.what_for);
            let rows: Vec<Vec<String>> =
                kind.measures.iter().map(|measure| row(measure, system)).collect();
            let table = columns(&["measure", "usual", "limits", ""].map(str::to_owned), &rows);
            text += &table.lines().skip(1).map(|line| format!("    {line}\n")).collect::<String>();
            text += "\n";
        }
    }
    text += &hanging(
        "",
        "Make some with `sumpwright fittings KIND MEASURE=VALUE … --into FOLDER`; measures that are left out are as usual, \
         a bare number is in mm.",
    );
    text
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
    vec![measure.name.to_owned(), usual, limits, measure.words.to_owned()]
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
            "source": m.source,
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

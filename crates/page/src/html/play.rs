//! What is played: failures, ways out, the tour. Each can be read as well.

use findings::capital;
use show::{Rehearsal, Show, Step, WayOut};

use super::cards::{card, level};
use super::text::{counted, escaped, told};

/// Failures in time.
pub(super) fn rehearsals(show: &Show) -> String {
    if show.rehearsals.is_empty() {
        return String::new();
    }
    let mut body = String::from("<ul class=\"plays\">\n");
    for (k, rehearsal) in show.rehearsals.iter().enumerate() {
        body.push_str(&format!(
            "<li><div class=\"line\"><h3>{}</h3>{}</div>\n<p>{}</p>\n<p class=\"verdict\">{}</p>\n{}</li>\n",
            escaped(&capital(&rehearsal.name)),
            button("rehearsal", Some(k), "Play", &rehearsal.name),
            told(&capital(&rehearsal.words)),
            told(&capital(&rehearsal.verdict)),
            course(rehearsal, show)
        ));
    }
    body.push_str("</ul>\n");
    let count = counted(show.rehearsals.len(), "failure", "failures");
    card("failures", "What if", &count, false, &body)
}

/// What happens when, and where levels come to.
fn course(rehearsal: &Rehearsal, show: &Show) -> String {
    let mut rows = String::new();
    for event in &rehearsal.events {
        rows.push_str(&format!(
            "<li><span>{}</span> {}</li>\n",
            time(event.t_s),
            told(&event.words)
        ));
    }
    for (basin, levels) in show.basins.iter().zip(&rehearsal.levels_mm) {
        let lowest = levels.iter().copied().fold(f64::INFINITY, f64::min);
        let highest = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if highest >= lowest {
            rows.push_str(&format!(
                "<li><span>{}</span> between {} and {}</li>\n",
                escaped(&basin.name),
                escaped(&level(lowest, show)),
                escaped(&level(highest, show))
            ));
        }
    }
    if rows.is_empty() {
        return rows;
    }
    format!(
        "<details class=\"group\"><summary>In time</summary><ul class=\"course\">\n{rows}</ul></details>\n"
    )
}

/// A time since the failure, in words.
fn time(t_s: f64) -> String {
    let sign = if t_s < 0.0 { "−" } else { "" };
    match t_s.abs() {
        t if t < 90.0 => format!("{sign}{t:.0} s"),
        t if t < 5400.0 => format!("{sign}{:.0} min", t / 60.0),
        t if t < 172_800.0 => format!("{sign}{:.1} h", t / 3600.0),
        t => format!("{sign}{:.1} days", t / 86_400.0),
    }
}

/// Ways out, the rescue, and everything out.
pub(super) fn ways(show: &Show) -> String {
    let mut body = String::new();
    if !show.before_hands.is_empty() {
        body.push_str(&format!("<p class=\"before\">{}</p>\n", told(&capital(&show.before_hands))));
    }
    body.push_str("<ul class=\"plays\">\n");
    if let Some(rescue) = &show.rescue {
        let name = format!("an animal in {}", rescue.chamber);
        body.push_str(&play("rescue", None, &name, &rescue.verdict, &rescue.steps));
    }
    for (k, WayOut { name, verdict, steps }) in show.ways.iter().enumerate() {
        body.push_str(&play("way", Some(k), name, verdict, steps));
    }
    if !show.emptying.is_empty() {
        let verdict = match show.emptying.len() {
            1 => "one part".to_owned(),
            count => format!("{count} parts, in this order"),
        };
        body.push_str(&play("emptying", None, "everything", &verdict, &show.emptying));
    }
    body.push_str("</ul>\n");
    card("ways", "Taking out", &counted(show.ways.len(), "part", "parts"), false, &body)
}

fn play(kind: &str, which: Option<usize>, name: &str, verdict: &str, steps: &[Step]) -> String {
    let button = if steps.is_empty() { String::new() } else { button(kind, which, "Play", name) };
    format!(
        "<li><div class=\"line\"><h3>{}</h3>{button}</div>\n<p class=\"verdict\">{}</p>\n{}</li>\n",
        escaped(&capital(name)),
        told(&capital(verdict)),
        self::steps(steps)
    )
}

fn steps(steps: &[Step]) -> String {
    if steps.is_empty() {
        return String::new();
    }
    let mut out = String::from(
        "<details class=\"group\"><summary>Step by step</summary><ol class=\"steps\">\n",
    );
    for step in steps {
        let moves = step.moves.iter().map(|m| m.words.as_str());
        let done: Vec<&str> = step.undo.as_deref().into_iter().chain(moves).collect();
        out.push_str(&format!(
            "<li><strong>{}</strong>: {} <span class=\"small\">{}</span></li>\n",
            escaped(&step.name),
            told(&done.join("; ")),
            told(&step.least_gap)
        ));
    }
    out.push_str("</ol></details>\n");
    out
}

/// The tour.
pub(super) fn tour(show: &Show) -> String {
    if show.stops.is_empty() {
        return String::new();
    }
    let mut body = String::from("<ol class=\"plays\">\n");
    for (k, stop) in show.stops.iter().enumerate() {
        body.push_str(&format!(
            "<li><div class=\"line\"><h3>{}</h3>{}</div>\n",
            escaped(&capital(&stop.title)),
            button("stop", Some(k), "Look there", &stop.title)
        ));
        for text in &stop.text {
            body.push_str(&format!("<p>{}</p>\n", told(&capital(text))));
        }
        for finding in stop.findings.iter().filter_map(|f| show.findings.get(*f)) {
            body.push_str(&format!(
                "<p class=\"small\">{}</p>\n",
                told(&capital(&finding.message))
            ));
        }
        body.push_str("</li>\n");
    }
    body.push_str("</ol>\n");
    card("tour", "Tour", &counted(show.stops.len(), "stop", "stops"), false, &body)
}

fn button(kind: &str, which: Option<usize>, says: &str, about: &str) -> String {
    let which = which.map_or(String::new(), |k| k.to_string());
    format!(
        "<button type=\"button\" data-{kind}=\"{which}\" data-needs-model aria-label=\"{says}: {}\">{says}</button>",
        escaped(about)
    )
}

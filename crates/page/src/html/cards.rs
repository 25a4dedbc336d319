//! The sump, its water and what was found, as cards.

use findings::{Grade, capital};
use show::{Finding, Group, Show, Thing};
use units::{Length, System};

use super::text::{escaped, told};

/// A card that opens and closes.
pub(super) fn card(id: &str, title: &str, note: &str, is_open: bool, body: &str) -> String {
    let open = if is_open { " open" } else { "" };
    let note =
        if note.is_empty() { String::new() } else { format!("<span>{}</span>", escaped(note)) };
    format!(
        "<details class=\"card\" id=\"{id}\"{open}><summary><h2>{title}</h2>{note}</summary>\n<div>\n{body}</div></details>\n"
    )
}

/// A length in the units of the file.
pub(super) fn length(mm: f64, show: &Show) -> String {
    Length::mm(mm).show(if show.is_us { System::UsCustomary } else { System::Metric })
}

/// A level as finely as it is known: to a millimetre or a hundredth of an inch.
pub(super) fn level(mm: f64, show: &Show) -> String {
    length(if show.is_us { mm } else { mm.round() }, show)
}

/// Below the title: its size, and the worst that was found.
pub(super) fn about(show: &Show) -> String {
    let [x, y, z] = show.outside_mm.to_array().map(|mm| length(mm, show));
    let count = |grade: Grade| show.findings.iter().filter(|f| f.grade == grade).count();
    let mut found = match (count(Grade::Fails), count(Grade::Tight)) {
        (0, 0) => "nothing fails, nothing is tight".to_owned(),
        (0, tight) => format!("nothing fails, {tight} tight"),
        (fails, tight) => format!("{fails} failing, {tight} tight"),
    };
    // Of what was not checked nobody knows whether it fails.
    match count(Grade::NotChecked) {
        0 => {}
        unknown => found.push_str(&format!(", {unknown} not checked")),
    }
    escaped(&format!("{x} long, {y} deep, {z} high outside; {found}"))
}

const GROUPS: [(Group, &str, &str); 5] = [
    (Group::Sump, "sump", "Cut, glued and fixed to it"),
    (Group::Equipment, "equipment", "What stands in it"),
    (Group::Plumbing, "plumbing", "Pipes and socks"),
    (Group::Spare, "spare", "Leaves that can take another's place"),
    (Group::Cabinet, "cabinet", "Around it"),
];

/// What is switched on and off.
pub(super) fn sump(show: &Show) -> String {
    let mut body = String::from(
        "<p>Tap a part of the model to see what it is; tap again to reach what is behind it. Switch parts on and off here.</p>\n",
    );
    for (group, code, name) in GROUPS {
        let things: Vec<(usize, &Thing)> =
            show.things.iter().enumerate().filter(|(_, thing)| thing.group == group).collect();
        if things.is_empty() {
            continue;
        }
        let checked = if matches!(group, Group::Spare | Group::Cabinet) { "" } else { " checked" };
        body.push_str(&format!(
            "<details class=\"group\"><summary><label><input type=\"checkbox\" data-group=\"{code}\"{checked} \
             data-needs-model> {name}</label><span>{}</span></summary><ul class=\"things\">\n",
            things.len()
        ));
        for (id, thing) in things {
            let name = escaped(&thing.name);
            body.push_str(&format!(
                "<li><label><input type=\"checkbox\" data-thing=\"{id}\"{checked} data-needs-model> {name}</label>\
                 <button type=\"button\" class=\"quiet\" data-pick=\"{id}\" data-needs-model aria-label=\"Show {name}\">show</button></li>\n"
            ));
        }
        body.push_str("</ul></details>\n");
    }
    card("sump", "The sump", "", true, &body)
}

/// What levels are; the tour says the same.
const IN_FLOW: &str = "With the pumps running";
const AT_REST: &str =
    "What flows is not known of this file: all levels are those with nothing flowing";

/// Levels, which move while a rehearsal plays.
pub(super) fn water(show: &Show) -> String {
    if show.basins.is_empty() {
        return String::new();
    }
    let (what, moves) = if show.is_in_flow {
        (IN_FLOW, " While a failure plays, the levels here move with it.")
    } else {
        (AT_REST, "")
    };
    let mut body = format!(
        "<p>{what}, above the inside of the bottom.{moves}</p>\n\
         <table><thead><tr><th scope=\"col\">Where</th><th scope=\"col\">Level</th></tr></thead><tbody>\n",
    );
    for (k, basin) in show.basins.iter().enumerate() {
        body.push_str(&format!(
            "<tr><th scope=\"row\">{}</th><td data-basin=\"{k}\">{}</td></tr>\n",
            escaped(&basin.name),
            escaped(&level(basin.level_mm, show))
        ));
    }
    body.push_str("</tbody></table>\n");
    card("water", "Water", "", true, &body)
}

const GRADES: [(Grade, &str, &str); 4] = [
    (Grade::Fails, "fails", "Fails"),
    (Grade::Tight, "tight", "Tight"),
    (Grade::NotChecked, "not-checked", "Not checked"),
    (Grade::Holds, "holds", "Holds"),
];

/// What was found, the worst first.
pub(super) fn findings(show: &Show) -> String {
    let mut body = String::new();
    let mut counts = Vec::new();
    for (grade, code, name) in GRADES {
        let found: Vec<&Finding> = show.findings.iter().filter(|f| f.grade == grade).collect();
        if found.is_empty() {
            continue;
        }
        counts.push(format!("{} {}", found.len(), name.to_lowercase()));
        let open = if grade == Grade::Holds { "" } else { " open" };
        body.push_str(&format!(
            "<details class=\"group\"{open}><summary>{name}<span>{}</span></summary><ul class=\"found\">\n",
            found.len()
        ));
        for finding in found {
            body.push_str(&item(finding, code, show));
        }
        body.push_str("</ul></details>\n");
    }
    if body.is_empty() {
        body.push_str("<p>Nothing was found.</p>\n");
    }
    card("findings", "Findings", &counts.join(", "), true, &body)
}

/// Of a finding about more parts than this only so many have a button; our judgement.
const MOST_NAMED: usize = 4;

fn item(finding: &Finding, code: &str, show: &Show) -> String {
    let mut item =
        format!("<li class=\"finding {code}\"><p>{}</p>", told(&capital(&finding.message)));
    if let Some(hint) = &finding.hint {
        item.push_str(&format!("<p>{}</p>", told(&capital(hint))));
    }
    let line = finding.line.map_or(String::new(), |line| format!(", line {line}"));
    if !finding.parameter.is_empty() {
        item.push_str(&format!(
            "<p class=\"small\">in the file: <code>{}</code>{line}</p>",
            escaped(&finding.parameter)
        ));
    }
    let named: Vec<(usize, &Thing)> =
        finding.things.iter().filter_map(|id| Some((*id, show.things.get(*id)?))).collect();
    for (id, thing) in named.iter().take(MOST_NAMED) {
        item.push_str(&format!(
            "<button type=\"button\" class=\"quiet\" data-pick=\"{id}\" data-needs-model>show {}</button>",
            escaped(&thing.name)
        ));
    }
    if named.len() > MOST_NAMED {
        let others = named[MOST_NAMED..].iter().map(|(_, thing)| thing.name.as_str());
        item.push_str(&format!(
            "<p class=\"small\">and {} more: {}</p>",
            named.len() - MOST_NAMED,
            escaped(&others.collect::<Vec<_>>().join(", "))
        ));
    }
    item.push_str("</li>\n");
    item
}

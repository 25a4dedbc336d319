//! Cutting, costs, film and papers: keys that go together.

use findings::Finding;

use super::{Rules, each};
use crate::{Holding, Process, words::quoted};

pub(super) fn check(rules: &mut Rules<'_>) {
    process(rules);
    ranges(rules);
    background(rules);
    date(rules);
}

/// What belongs to another process changes nothing.
fn process(rules: &mut Rules<'_>) {
    let cutting = rules.file.cutting;
    // Sheets may be cut by processes of their own.
    let own = rules.file.sheet.values().filter_map(|sheet| sheet.process);
    let used: Vec<Process> = own.chain([cutting.process]).collect();
    // The kerf is that of the process in `cutting`, unless that has none.
    let takes_kerf = used.iter().any(|process| *process != Process::Router);
    let is_held_by_tabs = cutting.holding == Holding::Tabs && used.contains(&Process::Router);
    let set = [
        ("kerf", cutting.kerf.is_some(), takes_kerf, "a router cuts as wide as its cutter"),
        (
            "taper",
            cutting.taper.is_some(),
            used.contains(&Process::Laser),
            "only a laser cuts wider above than below",
        ),
        (
            "pass_depth",
            cutting.pass_depth.is_some(),
            used.contains(&Process::Router),
            "only a router cuts in passes",
        ),
        (
            "tab_length",
            cutting.tab_length.is_some(),
            is_held_by_tabs,
            "only a router's sheet is held by bridges, with `holding = \"tabs\"`",
        ),
        (
            "tab_height",
            cutting.tab_height.is_some(),
            is_held_by_tabs,
            "only a router's sheet is held by bridges, with `holding = \"tabs\"`",
        ),
    ];
    for (key, is_set, has_effect, why) in set {
        if is_set && !has_effect {
            let other = if key.starts_with("tab") { "holding" } else { "process" };
            let hint = format!("delete `{key}`, or choose another `{other}`");
            rules.no_effect(
                &format!("cutting.{key}"),
                &["cutting.process"],
                format!("{why}: this changes nothing"),
                &hint,
            );
        }
    }
    for (name, sheet) in &rules.file.sheet {
        if sheet.process == Some(cutting.process) {
            rules.no_effect(
                &crate::path::key(&crate::path::key("sheet", name), "process"),
                &["cutting.process"],
                "this is the `process` of all sheets: it changes nothing".to_owned(),
                "delete it, or choose another `process`",
            );
        }
    }
    if cutting.process == Process::Saw && cutting.straight_through == Some(false) {
        let message = "a panel saw cuts straight through whatever is written here".to_owned();
        rules.no_effect(
            "cutting.straight_through",
            &["cutting.process"],
            message,
            "delete it, or choose another `process`",
        );
    }
}

fn ranges(rules: &mut Rules<'_>) {
    let system = rules.file.report.system();
    if let Some(feed) = rules.file.cutting.feed {
        let show = |value| units::Speed::mm_per_min(value).show(system);
        rules.in_order("cutting.feed", feed.map(units::Speed::to_mm_per_min), "speed", show);
    }
    let costs = &rules.file.costs;
    let [hour, minutes] = [costs.machine_hour, costs.minutes_per_sheet];
    for (key, range, what) in [
        ("machine_hour", hour, "price of an hour"),
        ("minutes_per_sheet", minutes, "time for a sheet"),
    ] {
        if let Some(range) = range {
            rules.in_order(&format!("costs.{key}"), range, what, |value| value.to_string());
        }
    }
}

/// A wall is covered once, and film has one price.
fn background(rules: &mut Rules<'_>) {
    let Some(background) = &rules.file.background else { return };
    for (n, wall) in each("background.walls", &background.walls).enumerate() {
        if background.walls[..n].contains(wall.value) {
            rules.no_effect(
                &wall.path,
                &["background.walls"],
                "this wall is named twice".to_owned(),
                "delete one of them",
            );
        }
    }
    if background.price_m2.is_some() && background.price_ft2.is_some() {
        rules.no_effect(
            "background.price_ft2",
            &["background.price_m2"],
            "the price of a square metre is reckoned with: this changes nothing".to_owned(),
            "delete one of the two prices",
        );
    }
}

/// A date is read by people of many countries: only one order of its numbers is understood by all.
fn date(rules: &mut Rules<'_>) {
    let date = &rules.file.papers.date;
    if date.is_empty() || is_date(date) {
        return;
    }
    let finding =
        Finding::fails("not-a-date", "papers.date", format!("{} is not a date", quoted(date)))
            .with_source("ISO 8601")
            .with_hint("write year, month and day, as in `2026-11-26`");
    rules.add(&["papers.date"], finding);
}

/// Whether it is a day of the Gregorian calendar, written as `2026-11-26`.
fn is_date(text: &str) -> bool {
    let numbers: Vec<Option<u32>> = text.split('-').map(|part| part.parse().ok()).collect();
    let [Some(year), Some(month), Some(day)] = numbers[..] else { return false };
    let is_leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    let days = match month {
        2 => 28 + u32::from(is_leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return false,
    };
    let widths: Vec<usize> = text.split('-').map(str::len).collect();
    widths == [4, 2, 2]
        && text.bytes().all(|b| b == b'-' || b.is_ascii_digit())
        && (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_that_there_are_are_dates() {
        for right in ["2026-11-26", "2024-02-29", "2000-02-29", "1999-12-31"] {
            assert!(is_date(right), "{right}");
        }
        for wrong in [
            "",
            "26.11.2026",
            "2026-13-01",
            "2026-02-29",
            "1900-02-29",
            "2026-11-31",
            "2026-1-01",
            "+026-11-26",
            "2026-11-26-1",
        ] {
            assert!(!is_date(wrong), "{wrong}");
        }
    }
}

//! Ways that the water takes over, under and through leaves.

use water::law::Validity;
use water::{CombReport, Report, WayReport};

use super::figures::{Figures, NONE};
use super::table::Table;

/// Every way of the leaves that are in.
pub(crate) fn table(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Ways over and through leaves",
        ["way", "lower edge", "head", "passes", "mean speed", "to note"],
    );
    let mut notes: Vec<&'static str> = Vec::new();
    for way in &report.ways {
        let reason = (way.head_m.mid > 0.0 && !way.why.is_empty()).then_some(way.why);
        let number = reason.map(|why| {
            let known = notes.iter().position(|note| *note == why);
            known.unwrap_or_else(|| {
                notes.push(why);
                notes.len() - 1
            }) + 1
        });
        table.rows.push(row(way, number, figures));
    }
    let numbered = notes.iter().enumerate().map(|(k, why)| format!("({}) {why}.", k + 1));
    table.notes.extend(numbered);
    table
}

/// Combs and slots with a part of their slots blocked.
pub(crate) fn combs(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Combs and slots, when leaves and hair block a part of them",
        ["comb", "level before it", "a quarter blocked", "half blocked", "in"],
    );
    let row = |comb: &CombReport| {
        let mut row = vec![comb.name.clone()];
        row.extend(comb.levels_m.iter().map(|[_, level]| figures.length(*level)));
        row.push(comb.before.clone());
        row
    };
    table.rows = report.combs.iter().map(row).collect();
    table
}

/// What is to note of a way is told once under the table, by its number.
fn row(way: &WayReport, number: Option<usize>, figures: Figures) -> Vec<String> {
    let is_dry = way.head_m.mid <= 0.0;
    let wet = |cell: String| if is_dry { NONE.to_owned() } else { cell };
    vec![
        way.name.clone(),
        figures.length(way.sill_m),
        wet(figures.length_band(way.head_m)),
        wet(figures.flow(way.flow_m3_s)),
        wet(figures.speed(way.speed_m_s)),
        if is_dry { "dry".to_owned() } else { note(way, number) },
    ]
}

fn note(way: &WayReport, number: Option<usize>) -> String {
    let validity = match way.validity {
        Validity::Within => "",
        Validity::Extrapolated => "extrapolated",
        Validity::NotPredictable => "not predictable",
    };
    let number = number.map_or(String::new(), |number| format!("({number})"));
    let drowned = if way.is_drowned { "drowned from below" } else { "" };
    let parts = [drowned, validity, &number].into_iter().filter(|words| !words.is_empty());
    parts.collect::<Vec<_>>().join(" ")
}

//! What a keeper can choose: how doors are set, which of the interchangeable leaves are in.

use design::Waterworks;
use water::{Combination, DoorReport, Report, Wish};

use super::figures::{Figures, NONE, UNKNOWN};
use super::table::Table;

/// Doors, what they must be set to for a wanted level, combinations of leaves.
pub(crate) fn tables(report: &Report, works: &Waterworks, figures: Figures) -> Vec<Table> {
    let wishes = report.doors.iter().filter_map(|door| Some((door, door.wish.as_ref()?)));
    vec![
        doors(report, figures),
        wanted("Levels that are wanted", wishes, figures),
        combinations(report, works, figures),
    ]
}

fn doors(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Doors",
        ["door of", "sets", "lowest", "gives", "as set", "gives", "highest", "gives", "to note"],
    );
    let row = |door: &DoorReport| {
        let mut cells = vec![door.leaf.clone(), door.chamber.clone()];
        for (setting, level) in door.settings_m.iter().zip(&door.levels_m) {
            cells.push(figures.length(*setting));
            cells.push(figures.length(level.mid));
        }
        let note =
            if door.has_effect { "" } else { "no effect: the water after it stands as high" };
        cells.push(note.to_owned());
        cells
    };
    table.rows = report.doors.iter().map(row).collect();
    table.notes.push("A setting is the height of the door's upper edge.".to_owned());
    table
}

/// Levels that are wanted and the settings that give them.
pub(crate) fn wanted<'a>(
    title: &str,
    wishes: impl Iterator<Item = (&'a DoorReport, &'a Wish)>,
    figures: Figures,
) -> Table {
    let mut table = Table::new(
        title,
        ["chamber", "wanted", "by", "set the door of", "to", "can be held from", "to a flow of"],
    );
    let row = |(door, wish): (&DoorReport, &Wish)| {
        let setting =
            wish.setting_m.map_or("no setting gives it".to_owned(), |m| figures.length(m));
        let flow = |end: usize| match wish.flows_m3_s {
            Some(flows) if flows[end].is_finite() => figures.flow(flows[end]),
            _ => NONE.to_owned(),
        };
        vec![
            door.chamber.clone(),
            figures.length(wish.level_m),
            wish.whose.clone(),
            door.leaf.clone(),
            setting,
            flow(0),
            flow(1),
        ]
    };
    table.rows = wishes.map(row).collect();
    table
}

/// Levels of the chambers by combination, a column for each of at most so many.
const MOST_COLUMNS: usize = 4;

fn combinations(report: &Report, works: &Waterworks, figures: Figures) -> Table {
    let mut table =
        Table::new("Leaves that can change places", ["", "as in the file", "or", "or", "or"]);
    if report.combinations.is_empty() {
        return table;
    }
    let shown: Vec<&Combination> = report.combinations.iter().take(MOST_COLUMNS).collect();
    table.head.truncate(1 + shown.len());
    let line = |head: &str, cell: &dyn Fn(&Combination) -> String| -> Vec<String> {
        std::iter::once(head.to_owned()).chain(shown.iter().map(|c| cell(c))).collect()
    };
    let dividers = report.combinations[0].leaves.iter().map(|(divider, _)| divider);
    for (k, divider) in dividers.enumerate() {
        table.rows.push(line(&format!("leaf in {divider}"), &|c| c.leaves[k].1.clone()));
    }
    table.rows.push(line("return flow", &|c| {
        if c.not_computed.is_some() { UNKNOWN.to_owned() } else { figures.flow(c.return_flow_m3_s) }
    }));
    for (k, basin) in works.basins.iter().enumerate() {
        table.rows.push(line(&format!("level in {}", basin.name), &|c| {
            c.levels_m.get(k).map_or(UNKNOWN.to_owned(), |m| figures.length(*m))
        }));
    }
    let left = report.combinations.len() - shown.len();
    if left > 0 {
        table.notes.push(format!("{left} more combinations are in the report as JSON."));
    }
    for combination in &report.combinations {
        if let Some(reason) = &combination.not_computed {
            let leaves: Vec<&str> =
                combination.leaves.iter().map(|(_, leaf)| leaf.as_str()).collect();
            table.notes.push(format!("Not computed with {}: {reason}.", leaves.join(", ")));
        }
    }
    table
}

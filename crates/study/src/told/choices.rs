//! What a keeper can choose: how doors are set, which of the interchangeable leaves are in.

use design::{PumpData, Waterworks};
use water::{Combination, DoorReport, Report, Wish};

use super::figures::{Figures, NONE, UNKNOWN};
use super::table::Table;

/// Doors, what they must be set to for a wanted level, combinations of leaves.
pub fn tables(report: &Report, works: &Waterworks, figures: Figures) -> Vec<Table> {
    let wishes = report.doors.iter().filter_map(|door| Some((door, door.wish.as_ref()?)));
    vec![
        doors(report, figures),
        wanted("Levels that are wanted", wishes, report, works, figures),
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
pub fn wanted<'a>(
    title: &str,
    wishes: impl Iterator<Item = (&'a DoorReport, &'a Wish)>,
    report: &Report,
    works: &Waterworks,
    figures: Figures,
) -> Table {
    let wishes: Vec<(&DoorReport, &Wish)> = wishes.collect();
    let mut table = Table::new(title, ["chamber", "wanted", "by", "set the door of", "to"]);
    let has_range = wishes.iter().any(|(_, wish)| wish.range_settings_m.is_some());
    table.head.extend(has_range.then_some("for all of its range"));
    table.head.extend(["can be held from", "to a flow of"]);
    for (door, wish) in wishes {
        let setting = wish.setting_m.map_or("out of reach".to_owned(), |m| figures.length(m));
        let range = wish.range_settings_m.map_or(NONE.to_owned(), |[from, to]| {
            format!("{} to {}", figures.length(from), figures.length(to))
        });
        let mut row = vec![
            door.chamber.clone(),
            figures.length(wish.level_m),
            wish.whose.clone(),
            door.leaf.clone(),
            setting,
        ];
        row.extend(has_range.then_some(range));
        row.extend(flows(wish, report, works, figures));
        table.rows.push(row);
        table.notes.extend(out_of_reach(door, wish, figures));
    }
    table
}

/// The least and greatest flow at which a wanted level can be held, as far as the pumps go.
fn flows(wish: &Wish, report: &Report, works: &Waterworks, figures: Figures) -> [String; 2] {
    let none = NONE.to_owned();
    let Some([from, to]) = wish.flows_m3_s.filter(|flows| flows.iter().all(|q| q.is_finite()))
    else {
        return [none.clone(), none];
    };
    let most = most_m3_s(works);
    if most < from {
        return ["not with this pump".to_owned(), none];
    }
    let is_least = from < LEAST_FLOW * report.return_flow_m3_s.mid;
    [
        if is_least { "the least".to_owned() } else { figures.flow(from) },
        if to > most { "all that the pump moves".to_owned() } else { figures.flow(to) },
    ]
}

/// A door that holds a level at less than this share of the flow holds it at any: less is not tried.
const LEAST_FLOW: f64 = 0.021;

/// Where the curves of the pumps that feed the display end, m³/s: more they never move.
fn most_m3_s(works: &Waterworks) -> f64 {
    let most_l_h = |data: &PumpData| match data {
        PumpData::Curve(points) => points.iter().map(|[flow, _]| *flow).fold(0.0, f64::max),
        PumpData::Extremes { flow_l_h, .. } => *flow_l_h,
        PumpData::Unknown => 0.0,
    };
    let lines = works.lines.iter().filter(|line| line.to.is_none());
    lines.map(|line| units::Flow::l_per_h(most_l_h(&line.data)).to_m3_per_s()).sum()
}

/// What the door can give instead of a level that it cannot.
fn out_of_reach(door: &DoorReport, wish: &Wish, figures: Figures) -> Option<String> {
    let [low, _, high] = door.levels_m.map(|figure| figures.length(figure.mid));
    let [lowest, _, highest] = door.settings_m.map(|m| figures.length(m));
    let (chamber, leaf) = (&door.chamber, &door.leaf);
    let wanted = figures.length(wish.level_m);
    wish.setting_m.is_none().then(|| {
        format!(
            "{chamber}: {wanted} cannot be reached at this flow; the door of `{leaf}` gives from {low}, set to \
             {lowest}, up to {high}, set to {highest}."
        )
    })
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
    if report.combinations_left_out > 0 {
        let more = report.combinations_left_out;
        table.notes.push(format!("{more} more combinations were not computed."));
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

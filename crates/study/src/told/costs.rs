//! What it costs, and how long the machine takes.

use shop::{Estimate, OperationKind, SheetTime, shown_money};
use units::{Length, System};

use super::figures::NONE;
use super::table::Table;

/// The lines of the estimate with their sum.
pub fn table(estimate: &Estimate) -> Table {
    let mut table = Table::new("Estimate", ["what", "how much", "price"]);
    let currency = &estimate.currency;
    table.rows = estimate
        .rows
        .iter()
        .map(|row| vec![row.what.clone(), row.quantity.clone(), shown_money(row.money, currency)])
        .collect();
    if let Some(total) = estimate.total {
        // Whatever has no price is in no sum, and the line says so.
        let what =
            if estimate.not_reckoned.is_empty() { "together" } else { "all that has a price" };
        table.rows.push(vec![what.to_owned(), String::new(), shown_money(total, currency)]);
    } else {
        table
            .notes
            .push("Nothing that is needed has a price in the file: there is no sum.".to_owned());
    }
    let assumed = estimate.rows.iter().filter(|row| !row.assumption.is_empty());
    table.notes.extend(assumed.map(|row| ended(&format!("{}: {}", row.what, row.assumption))));
    table.notes.extend(estimate.assumptions.iter().map(|sentence| ended(sentence)));
    if !estimate.not_reckoned.is_empty() {
        table.notes.push(format!("Not reckoned with: {}.", estimate.not_reckoned.join("; ")));
    }
    table
}

/// A sentence with its full stop.
fn ended(sentence: &str) -> String {
    if sentence.ends_with('.') { sentence.to_owned() } else { format!("{sentence}.") }
}

/// What the machine does to each sheet.
pub fn times(estimate: &Estimate, system: System) -> Table {
    let head = [
        "sheet", "engraved", "pockets", "holes", "inside", "outlines", "goes in", "travels",
        "minutes",
    ];
    let mut table = Table::new("Work of the machine", head);
    table.rows = estimate.times.iter().map(|time| row(time, system)).collect();
    table.notes.push(
        "Lengths that the tool runs, each pass anew; how many times it goes into the sheet; how far it travels between \
         cuts; minutes of cutting without setting up."
            .to_owned(),
    );
    for time in estimate.times.iter().filter(|time| time.is_turned_over) {
        table.notes.push(format!("{} is turned over for work on its lower face.", time.sheet));
    }
    table
}

fn row(time: &SheetTime, system: System) -> Vec<String> {
    use OperationKind::{Engrave, Hole, Inside, Outline, Pocket};
    let cut = [Engrave, Pocket, Hole, Inside, Outline].map(|kind| {
        time.cut_mm
            .get(&kind)
            .filter(|mm| 0.0 < **mm)
            .map_or(NONE.to_owned(), |mm| run(*mm, system))
    });
    let [least, most] = time.minutes;
    let mut row = vec![time.sheet.clone()];
    row.extend(cut);
    row.extend([
        time.entries.to_string(),
        run(time.travel_mm, system),
        format!("{} to {}", whole(least.floor()), whole(most.ceil())),
    ]);
    row
}

fn whole(number: f64) -> String {
    format!("{number:.0}")
}

/// A length that a tool runs: `12.4 m`, `41 ft`.
fn run(mm: f64, system: System) -> String {
    match system {
        System::Metric => format!("{:.1} m", Length::mm(mm).to_m()),
        System::UsCustomary => format!("{:.0} ft", Length::mm(mm).to_in() / 12.0),
    }
}

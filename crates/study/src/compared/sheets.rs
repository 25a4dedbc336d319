//! Sheets and costs that are others.

use std::collections::BTreeSet;

use shop::{StockPlan, shown_money, shown_price};

use crate::shopped::Shopped;
use crate::told::sheets::size;
use crate::told::table::Table;

use super::{NONE, Side, note_same, row};

/// A row for every kind of sheet of which others are needed; `None` where a side has nothing to cut.
pub(super) fn table(sides: [&Side<'_>; 2]) -> Option<Table> {
    let [Some(before), Some(after)] = sides.map(|side| side.shopped.as_ref()) else { return None };
    let mut table = Table::new("Sheets and cost", ["what", "before", "after"]);
    let plans = [&before.plans, &after.plans];
    let names: BTreeSet<&str> = plans.iter().flat_map(|p| p.iter().map(|p| &*p.sheet)).collect();
    let mut n_same = 0;
    for name in names {
        let words = |k: usize| {
            let plan = plans[k].iter().find(|plan| plan.sheet == name);
            plan.map_or(NONE.to_owned(), |plan| words(plan, sides[k]))
        };
        match row(format!("sheets of {name}"), [words(0), words(1)]) {
            Some(row) => table.rows.push(row),
            None => n_same += 1,
        }
    }
    let total = |shopped: &Shopped| {
        let estimate = &shopped.estimate;
        let total = estimate.total.map(|total| shown_money(total, &estimate.currency));
        total.unwrap_or_else(|| NONE.to_owned())
    };
    match row("all that has a price", [before, after].map(total)) {
        Some(row) => table.rows.push(row),
        None => n_same += 1,
    }
    note_same(&mut table, n_same, ["figure", "figures"]);
    Some(table)
}

/// `2 of 2050 × 1525 mm, 1 of 900 × 600 mm: 296.00 EUR`.
fn words(plan: &StockPlan, side: &Side<'_>) -> String {
    let (Some(file), Some(design)) = (&side.reading.file, &side.reading.design) else {
        return NONE.to_owned();
    };
    let mut sizes: Vec<(String, usize)> = Vec::new();
    for sheet in &plan.sheets {
        let size = size(sheet.size_mm.x, sheet.size_mm.y, design.report);
        match sizes.iter_mut().find(|(known, _)| *known == size) {
            Some((_, n)) => *n += 1,
            None => sizes.push((size, 1)),
        }
    }
    let sizes: Vec<String> = sizes.iter().map(|(size, n)| format!("{n} of {size}")).collect();
    let price = plan.price.map(|price| format!(": {}", shown_price(price, &file.costs.currency)));
    sizes.join(", ") + &price.unwrap_or_default()
}

//! What it all costs, as a range with its assumptions. What has no price is told, never reckoned as nothing.

mod amount;
mod lines;
mod money;
#[cfg(test)]
mod tests;

use design::Design;
use findings::Finding;

use crate::film::Film;
use crate::hardware::HardwareItem;
use crate::plan::StockPlan;
use crate::process::Machine;
use crate::time::{SheetTime, time_of};
use crate::work::Work;
use lines::Lines;

pub use amount::shown_area;
pub(crate) use amount::shown_fluid;
pub use money::{shown_money, shown_price};

/// What it costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// What the currency is called; may be empty.
    pub currency: String,
    /// What is reckoned with, a line each.
    pub rows: Vec<EstimateRow>,
    /// The sum of all lines, least and greatest: of what has a price. `None` when nothing has one.
    pub total: Option<[f64; 2]>,
    /// What has no price and is in no sum, a sentence or a name each.
    pub not_reckoned: Vec<String>,
    /// What it rests on, a sentence each.
    pub assumptions: Vec<String>,
    /// The machine's time, sheet by sheet.
    pub times: Vec<SheetTime>,
    /// Minutes of the machine in all, with setting up, least and greatest.
    pub machine_minutes: [f64; 2],
}

/// One line of an estimate.
#[derive(Clone, Debug, PartialEq)]
pub struct EstimateRow {
    /// What is paid for.
    pub what: String,
    /// How much of it, in words.
    pub quantity: String,
    /// Its price, least and greatest.
    pub money: [f64; 2],
    /// What the line rests on; may be empty.
    pub assumption: String,
}

/// What a design costs with its sheets laid as in these plans.
pub fn estimate(
    file: &params::File,
    design: &Design,
    works: &[Work],
    plans: &[StockPlan],
    film: Option<&Film>,
    hardware: &[HardwareItem],
) -> Estimate {
    let mut lines = Lines::new(&file.costs, design.report);
    lines.sheets(plans);
    let machine_of = |plan: &StockPlan| Machine::new(&file.cutting_of(Some(&plan.sheet)));
    let times: Vec<SheetTime> = plans
        .iter()
        .flat_map(|plan| {
            let machine = machine_of(plan);
            let sheets = plan.sheets.iter();
            sheets.map(move |sheet| time_of(&machine, design, works, &plan.sheet, sheet))
        })
        .collect();
    let machine_minutes = lines.machine(machine_of, design, plans, &times);
    lines.without_path(works, plans);
    lines.solvent(design);
    lines.hardware(hardware);
    lines.film(film);
    lines.never();
    let total = lines.rows.iter().map(|row| row.money).reduce(|a, b| [a[0] + b[0], a[1] + b[1]]);
    Estimate {
        currency: file.costs.currency.clone(),
        rows: lines.rows,
        total,
        not_reckoned: lines.not_reckoned,
        assumptions: lines.assumptions,
        times,
        machine_minutes,
    }
}

/// Prices of things that are in no list: a name that is spelt wrong would be reckoned as nothing.
pub fn unknown_prices(file: &params::File, hardware: &[HardwareItem]) -> Vec<Finding> {
    let is_unknown = |name: &&String| !hardware.iter().any(|item| item.name == **name);
    let unknown = file.costs.each.keys().filter(is_unknown);
    let finding = |name: &String| {
        let message = format!("there is a price for `{name}`, but no list has it");
        Finding::tight("price-of-nothing", format!("costs.each.{name}"), message)
            .with_hint("write the name as the parts list has it, or delete the line")
    };
    unknown.map(finding).collect()
}

//! What it all costs, as a range with its assumptions. What has no price is told, never reckoned as nothing.

mod money;

use std::collections::BTreeMap;

use design::Design;
use findings::Finding;

use crate::film::Film;
use crate::glue_up::solvent_ml;
use crate::hardware::{HardwareItem, Origin};
use crate::plan::StockPlan;
use crate::process::Machine;
use crate::time::{SheetTime, time_of};
use crate::work::{OperationKind, Work};

pub use money::shown_money;

/// What it costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// What the currency is called; may be empty.
    pub currency: String,
    /// What is reckoned with, a line each.
    pub rows: Vec<EstimateRow>,
    /// The sum of all lines with a price, least and greatest; `None` when none has one.
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

/// Minutes to set up for a sheet unless the file says so (common practice).
const MINUTES_PER_SHEET: [f64; 2] = [10.0, 20.0];

/// What a design costs with its sheets laid as in these plans.
pub fn estimate(
    file: &params::File,
    design: &Design,
    works: &[Work],
    plans: &[StockPlan],
    film: Option<&Film>,
    hardware: &[HardwareItem],
) -> Estimate {
    let machine = Machine::new(&file.cutting);
    let mut maker = Maker {
        costs: &file.costs,
        rows: Vec::new(),
        not_reckoned: Vec::new(),
        assumptions: Vec::new(),
    };
    maker.sheets(plans);
    let times: Vec<SheetTime> = plans
        .iter()
        .flat_map(|plan| {
            plan.sheets.iter().map(|sheet| time_of(&machine, design, works, &plan.sheet, sheet))
        })
        .collect();
    let machine_minutes = maker.machine(&machine, design, plans, &times);
    maker.without_path(works, plans);
    maker.solvent(design);
    maker.hardware(hardware);
    maker.film(film);
    maker.never();
    let total = maker.rows.iter().map(|row| row.money).reduce(|a, b| [a[0] + b[0], a[1] + b[1]]);
    Estimate {
        currency: file.costs.currency.clone(),
        rows: maker.rows,
        total,
        not_reckoned: maker.not_reckoned,
        assumptions: maker.assumptions,
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

struct Maker<'a> {
    costs: &'a params::Costs,
    rows: Vec<EstimateRow>,
    not_reckoned: Vec<String>,
    assumptions: Vec<String>,
}

impl Maker<'_> {
    fn row(
        &mut self,
        what: impl Into<String>,
        quantity: String,
        money: [f64; 2],
        assumption: &str,
    ) {
        let assumption = assumption.to_owned();
        self.rows.push(EstimateRow { what: what.into(), quantity, money, assumption });
    }

    fn assume(&mut self, sentence: impl Into<String>) {
        let sentence = sentence.into();
        if !self.assumptions.contains(&sentence) {
            self.assumptions.push(sentence);
        }
    }

    fn sheets(&mut self, plans: &[StockPlan]) {
        for plan in plans {
            let count = plan.sheets.len();
            let quantity =
                if count == 1 { "1 sheet".to_owned() } else { format!("{count} sheets") };
            if 0 < plan.n_left_out {
                self.not_reckoned.push(format!(
                    "sheets of `{}`: parts that fit on none of them are left out ({})",
                    plan.sheet, plan.n_left_out
                ));
                continue;
            }
            let Some(price) = plan.price else {
                self.not_reckoned.push(format!(
                    "{quantity} of `{}`: the file names no size with a price (`sheet.{}.stock`)",
                    plan.sheet, plan.sheet
                ));
                continue;
            };
            let proof = match plan.least_price {
                _ if plan.is_proved => "No cheaper set of these sheets exists for parts that are laid by the rectangles around them.".to_owned(),
                Some(least) => format!(
                    "Any set of these sheets costs at least {}.",
                    shown_money([least, least], &self.costs.currency)
                ),
                None => String::new(),
            };
            self.row(format!("sheet `{}`", plan.sheet), quantity, [price, price], &proof);
            self.assume("Whole sheets are paid for; what is left over is yours.");
        }
    }

    fn machine(
        &mut self,
        machine: &Machine,
        design: &Design,
        plans: &[StockPlan],
        times: &[SheetTime],
    ) -> [f64; 2] {
        let per_sheet = self.costs.minutes_per_sheet.unwrap_or(MINUTES_PER_SHEET);
        // A sheet that is turned over is set up twice.
        let set_ups: f64 =
            times.iter().map(|time| if time.is_turned_over { 2.0 } else { 1.0 }).sum();
        let cutting = |end: usize| times.iter().map(|time| time.minutes[end]).sum::<f64>();
        let minutes = [0, 1].map(|end| cutting(end) + set_ups * per_sheet[end]);
        for plan in plans {
            if let Some(sheet) = design.sheets.get(&plan.sheet) {
                self.assume(machine.feed_source(sheet.material));
            }
        }
        self.assume(format!(
            "Setting up takes {:.0} to {:.0} minutes for each sheet{}, twice for one that is turned over.",
            per_sheet[0],
            per_sheet[1],
            if self.costs.minutes_per_sheet.is_some() { "" } else { " (common practice)" }
        ));
        if times.iter().any(|time| time.cut_mm.contains_key(&OperationKind::Pocket)) {
            self.assume(
                "Pockets are cleared in rounds half the tool's width apart (common practice).",
            );
        }
        self.assume("Time to go into the sheet, to pierce it and to set a saw is common practice, from memory.");
        let quantity = format!("{} of the machine", shown_minutes(minutes));
        match self.costs.machine_hour {
            Some(rate) => {
                let money = [0, 1].map(|end| minutes[end] / 60.0 * rate[end]);
                self.row(
                    "cutting",
                    quantity,
                    money,
                    "The shop's hour rate, least with least, greatest with greatest.",
                );
            }
            None => {
                self.not_reckoned.push(format!("{quantity}: no hour rate (`costs.machine_hour`)"));
            }
        }
        minutes
    }

    /// What the machine does not do: its time is somebody else's.
    fn without_path(&mut self, works: &[Work], plans: &[StockPlan]) {
        let mut counts: BTreeMap<OperationKind, usize> = BTreeMap::new();
        for laid in plans.iter().flat_map(|plan| &plan.sheets).flat_map(|sheet| &sheet.laid) {
            let work = works.iter().find(|work| work.piece == laid.piece);
            let all = work.iter().flat_map(|work| &work.operations);
            for operation in all.filter(|operation| operation.tool.is_empty()) {
                *counts.entry(operation.kind).or_insert(0) += 1;
            }
        }
        let line = |(kind, n): (OperationKind, usize)| {
            format!(
                "{} that this machine does not make ({n}): their time is in no sum",
                kind.words()
            )
        };
        self.not_reckoned.extend(counts.into_iter().map(line));
    }

    fn solvent(&mut self, design: &Design) {
        let ml = solvent_ml(design);
        if ml[1] <= 0.0 {
            return;
        }
        let quantity = format!("{} mL", shown_range(ml, ""));
        match self.costs.solvent_litre {
            Some(price) => {
                let money = ml.map(|ml| ml * 1e-3 * price);
                self.row("solvent cement", quantity, money, "By the area of all solvent joints, a film of 0.05 to 0.2 mm in them (common practice), and two to four times as much for what goes astray (our judgement); a whole can is more.");
            }
            None => self
                .not_reckoned
                .push(format!("{quantity} of solvent cement: no price (`costs.solvent_litre`)")),
        }
    }

    fn hardware(&mut self, hardware: &[HardwareItem]) {
        let mut unpriced: Vec<(Origin, Vec<String>)> = Vec::new();
        for item in hardware {
            if let Some(price) = self.costs.each.get(&item.name) {
                #[expect(clippy::cast_precision_loss, reason = "a count of things")]
                let money = item.quantity as f64 * price;
                let what = format!("{} ({})", item.name, item.origin.words());
                self.row(what, item.quantity.to_string(), [money, money], "");
                continue;
            }
            let words = format!("{} × {}", item.quantity, item.name);
            match unpriced.iter_mut().find(|(origin, _)| *origin == item.origin) {
                Some((_, names)) => names.push(words),
                None => unpriced.push((item.origin, vec![words])),
            }
        }
        let line = |(origin, names): (Origin, Vec<String>)| {
            let there =
                if origin == Origin::Equipment { ", if it is not there already" } else { "" };
            let (origin, names) = (origin.words(), names.join(", "));
            format!("{origin}{there}: {names} (no price in `costs.each`)")
        };
        self.not_reckoned.extend(unpriced.into_iter().map(line));
    }

    fn film(&mut self, film: Option<&Film>) {
        let Some(film) = film else { return };
        let area = format!("{:.2} m²", film.area_m2);
        match film.price {
            Some(money) => self.row(
                "film",
                area,
                money,
                "Least by the area of the panels, greatest by that of the roll.",
            ),
            None => {
                self.not_reckoned.push(format!("{area} of film: no price (`background.price_m2`)"));
            }
        }
        let hours = format!("{} h", shown_range(film.hours, ""));
        match film.work_price {
            Some(money) => self.row("putting the film on", hours, money, ""),
            None => self
                .not_reckoned
                .push(format!("{hours} to put the film on: no rate (`background.shop_hour`)")),
        }
    }

    fn never(&mut self) {
        self.assume(
            "Delivery, tax, the shop's work on the drawings and your own work are in no sum.",
        );
        self.assume("Money is shown in steps of which about ten to a hundred lie in the range: the least is rounded down, the greatest up.");
    }
}

/// `12 to 30 min`, `1.5 to 2.3 h`.
fn shown_minutes(minutes: [f64; 2]) -> String {
    if minutes[1] < 120.0 {
        format!("{} min", shown_range(minutes, ""))
    } else {
        format!("{} h", shown_range(minutes.map(|m| m / 60.0), ""))
    }
}

fn shown_range(range: [f64; 2], unit: &str) -> String {
    shown_money(range, unit)
}

#[cfg(test)]
mod tests;

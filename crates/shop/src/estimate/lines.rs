//! The lines of an estimate, and what is told beside them.

use std::collections::BTreeMap;

use design::Design;
use params::{Costs, Process};
use units::System;

use super::EstimateRow;
use super::amount::{shown_area, shown_fluid, shown_minutes};
use super::money::{shown_money, shown_price};
use crate::film::Film;
use crate::glue_up::solvent_ml;
use crate::hardware::{HardwareItem, Origin};
use crate::plan::{ChosenBy, StockPlan};
use crate::process::Machine;
use crate::time::SheetTime;
use crate::work::{OperationKind, Work};

/// Minutes to set up for a sheet unless the file says so (common practice).
const MINUTES_PER_SHEET: [f64; 2] = [10.0, 20.0];

/// What an estimate is made of, while it grows.
pub(super) struct Lines<'a> {
    costs: &'a Costs,
    system: System,
    pub(super) rows: Vec<EstimateRow>,
    pub(super) not_reckoned: Vec<String>,
    pub(super) assumptions: Vec<String>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(costs: &'a Costs, system: System) -> Self {
        Self { costs, system, rows: Vec::new(), not_reckoned: Vec::new(), assumptions: Vec::new() }
    }
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

    pub(super) fn sheets(&mut self, plans: &[StockPlan]) {
        for plan in plans {
            let name = &plan.sheet;
            if 0 < plan.n_left_out {
                self.not_reckoned.push(format!(
                    "sheets of `{name}`: parts that fit on none of them are left out ({})",
                    plan.n_left_out
                ));
                continue;
            }
            let [own, bought, unpriced] = plan.counts();
            if 0 < own {
                let (sheets, are) = (
                    count(own),
                    if own == 1 { "is your own and costs" } else { "are your own and cost" },
                );
                self.assume(format!("{sheets} of `{name}` {are} nothing."));
            }
            if 0 < unpriced {
                self.not_reckoned.push(match plan.chosen_by {
                    ChosenBy::Number => format!(
                        "{} of `{name}`: the file names no sizes with prices (`sheet.{name}.stock`)",
                        count(unpriced)
                    ),
                    ChosenBy::Area | ChosenBy::Price => format!(
                        "{} of `{name}`: no price is given (`sheet.{name}.stock`), so the least area was chosen to be bought",
                        count(unpriced)
                    ),
                });
            }
            if 0 < bought {
                let price: f64 = plan.sheets.iter().filter_map(|sheet| sheet.price).sum();
                let proof = match (plan.price, plan.least_price) {
                    (Some(_), Some(_)) if plan.is_proved => "No cheaper set of these sheets exists for parts that are laid by the rectangles around them.".to_owned(),
                    (Some(_), Some(least)) => format!(
                        "Any set of these sheets costs at least {}.",
                        shown_price(least, &self.costs.currency)
                    ),
                    _ => "Chosen for the least area, as not all sizes have a price.".to_owned(),
                };
                self.row(format!("sheet `{name}`"), count(bought), [price; 2], &proof);
                self.assume("Whole sheets are paid for; what is left over is yours.");
            }
        }
    }

    pub(super) fn machine(
        &mut self,
        machine_of: impl Fn(&StockPlan) -> Machine,
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
                self.assume(machine_of(plan).feed_source(sheet.material));
            }
        }
        let processes: Vec<Process> = plans.iter().map(|plan| machine_of(plan).process).collect();
        if processes.windows(2).any(|pair| pair[0] != pair[1]) {
            self.assume("All processes are reckoned at one hour rate.");
        }
        let bridges: usize = times.iter().map(|time| time.bridges).sum();
        if 0 < bridges {
            self.assume(format!(
                "The tool is lifted over {bridges} bridges; the time to trim them by hand is in no sum."
            ));
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
    pub(super) fn without_path(&mut self, works: &[Work], plans: &[StockPlan]) {
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

    pub(super) fn solvent(&mut self, design: &Design) {
        let ml = solvent_ml(design);
        if ml[1] <= 0.0 {
            return;
        }
        let quantity = shown_fluid(ml, self.system);
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

    pub(super) fn hardware(&mut self, hardware: &[HardwareItem]) {
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

    pub(super) fn film(&mut self, film: Option<&Film>) {
        let Some(film) = film else { return };
        let area = shown_area(film.area_m2, self.system);
        match film.price {
            Some(money) => self.row(
                "film",
                area,
                money,
                "Least by the area of the panels, greatest by that of the roll.",
            ),
            None => {
                self.not_reckoned.push(format!(
                    "{area} of film: no price (`background.price_m2` or `background.price_ft2`)"
                ));
            }
        }
        let hours = shown_money(film.hours, "h");
        match film.work_price {
            Some(money) => self.row("putting the film on", hours, money, ""),
            None => self
                .not_reckoned
                .push(format!("{hours} to put the film on: no rate (`background.shop_hour`)")),
        }
    }

    pub(super) fn never(&mut self) {
        self.assume(
            "Delivery, tax, the shop's work on the drawings and your own work are in no sum.",
        );
        self.assume("Money is shown in steps of which about ten to a hundred lie in the range: the least is rounded down, the greatest up.");
    }
}

/// `1 sheet`, `3 sheets`.
fn count(sheets: usize) -> String {
    if sheets == 1 { "1 sheet".to_owned() } else { format!("{sheets} sheets") }
}

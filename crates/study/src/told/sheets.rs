//! Sheets and what lies on them.

use design::Design;
use paper::PaperForm;
use params::{DrawnPath, File, PaperSize, Process, Report};
use shop::{ChosenBy, LaidSheet, Route, StockPlan, shown_price};
use units::{Length, System};

use super::figures::NONE;
use super::table::Table;
use crate::panel_words::laser_caution;
use crate::shopped::Shopped;
use crate::stock::order;

/// Every sheet of every kind.
pub fn table(design: &Design, shopped: &Shopped, currency: &str) -> Table {
    let mut table =
        Table::new("Sheets", ["sheet", "of", "size", "price", "parts", "used", "left over"]);
    for plan in &shopped.plans {
        for sheet in &plan.sheets {
            table.rows.push(row(design, shopped, plan, sheet, currency));
        }
        table.notes.push(price_note(plan, currency, design.report));
    }
    if shopped.plans.iter().any(|plan| plan.sheets.iter().any(|sheet| !sheet.offcuts.is_empty())) {
        table.notes.push("What is left over is the largest rectangle in one piece.".to_owned());
    }
    table
}

fn row(
    design: &Design,
    shopped: &Shopped,
    plan: &StockPlan,
    sheet: &LaidSheet,
    currency: &str,
) -> Vec<String> {
    let system = design.report;
    let [length, width] = sheet.size_mm.to_array();
    let used_mm2: f64 = sheet
        .laid
        .iter()
        .filter_map(|laid| shopped.work(laid.piece))
        .map(|work| work.pattern.area_mm2())
        .sum();
    let of = design.sheets.get(&plan.sheet).map_or(String::new(), |sheet| order(sheet, system));
    let largest = sheet.offcuts.iter().map(|offcut| offcut.corners_mm[1] - offcut.corners_mm[0]);
    let largest = largest.max_by(|a, b| (a.x * a.y).total_cmp(&(b.x * b.y)));
    vec![
        sheet.name.clone(),
        of,
        size(length, width, system),
        match sheet.price {
            _ if sheet.is_own => "your own".to_owned(),
            Some(price) => shown_price(price, currency),
            None => "not given".to_owned(),
        },
        sheet.laid.len().to_string(),
        format!("{:.0} %", 100.0 * used_mm2 / (length * width)),
        largest
            .map_or(NONE.to_owned(), |rest| size(rest.x.max(rest.y), rest.x.min(rest.y), system)),
    ]
}

/// The paper that the file's documents are for.
pub fn paper_form(file: &File) -> PaperForm {
    match (file.papers.size, file.report) {
        (Some(PaperSize::Letter), _) | (None, Report::Us) => PaperForm::Us,
        (Some(PaperSize::A4), _) | (None, Report::Metric) => PaperForm::A,
    }
}

/// `2050 × 1525 mm`.
pub fn size(length_mm: f64, width_mm: f64, system: System) -> String {
    let [length, width] = [length_mm, width_mm].map(|mm| Length::mm(mm).show(system));
    let number = length.split(' ').next().unwrap_or_default();
    format!("{number} × {width}")
}

/// Whether there may be a cheaper set of sheets.
fn price_note(plan: &StockPlan, currency: &str, system: System) -> String {
    let name = &plan.sheet;
    let size = |mm: [f64; 2]| size(mm[0], mm[1], system);
    if 0 < plan.n_left_out {
        return format!(
            "{name}: parts that fit on none of the sheets are left out ({}), so nothing is said of its price.",
            plan.n_left_out
        );
    }
    match (plan.price, plan.least_price) {
        (Some(price), _) if plan.is_proved => {
            format!(
                "{name}: {}; no set of your sheets is cheaper while parts are laid by the rectangles around them (proved).",
                shown_price(price, currency)
            )
        }
        (Some(price), Some(least)) => format!(
            "{name}: {}; none of your sheets come cheaper than {}.",
            shown_price(price, currency),
            shown_price(least, currency)
        ),
        _ if plan.chosen_by == ChosenBy::Area => format!(
            "{name}: {} a price, so the least area was chosen to be bought; {}.",
            if plan.counts()[1] == 0 {
                "no sheet that was taken has"
            } else {
                "not every size has"
            },
            plan.area_words()
        ),
        _ => format!(
            "{name}: the file names no `stock`, so a usual size was taken, {} (common practice), and no price.",
            size(shop::sheets::USUAL_SIZE_MM)
        ),
    }
}

/// What a shop must know of one nested sheet, a sentence each.
pub fn about(
    file: &File,
    design: &Design,
    sheet: &LaidSheet,
    plan: &StockPlan,
    route: &Route,
) -> Vec<String> {
    let mut about = vec![format!("For: {}", design.title)];
    if let Some(of) = design.sheets.get(&plan.sheet) {
        let words = order(of, design.report);
        let [length, width] = sheet.size_mm.to_array();
        about.push(format!(
            "{}, {words}, {}.",
            of.material_words(),
            size(length, width, design.report)
        ));
        about.extend(laser_caution(of.material).map(str::to_owned));
    }
    let cutting = file.cutting_of(Some(&plan.sheet));
    about.push(match cutting.draw {
        DrawnPath::Part => "Drawn in mm at full size, seen from the upper face: the edges of the parts, nothing \
            reckoned for the tool."
            .to_owned(),
        DrawnPath::Tool => format!(
            "Drawn in mm at full size, seen from the upper face: the path of the middle of a tool {} wide. Set the \
             machine to follow the line.",
            Length::mm(cutting.cut_width().to_mm()).show_fine(System::Metric)
        ),
    });
    if route.is_turned_over {
        about.push(
            "Work on the lower face is drawn as seen through the sheet: mirror it when the sheet is turned over."
                .to_owned(),
        );
    }
    if !sheet.laid.is_empty() && cutting.process != Process::Saw {
        about.push("The lines stand in the order of cutting: outlines last.".to_owned());
    }
    about
}

//! What the return chamber holds in reserve, and the system as a whole.

use units::{Mass, Salinity, Temperature};
use water::Report;

use super::figures::Figures;
use super::table::Table;

/// Every which mark the litres are told at: each second centimetre carries a number.
const EVERY: usize = 2;
/// Marks in one line.
const IN_A_LINE: usize = 5;

/// The reserve, the litres at the marks, the system as a whole.
pub(crate) fn tables(report: &Report, figures: Figures) -> Vec<Table> {
    vec![reserve(report, figures), marks(report, figures), whole(report, figures)]
}

fn reserve(report: &Report, figures: Figures) -> Table {
    let reserve = &report.reserve;
    let mut table = Table::new(format!("Reserve of {}", reserve.chamber), ["what", "how much"]);
    let mut row = |what: &str, how_much: String| table.rows.push(vec![what.to_owned(), how_much]);
    let assumed =
        if reserve.kept_is_assumed { " (assumed: give the chamber a `level`)" } else { "" };
    row("level that is kept", figures.length(reserve.kept_m) + assumed);
    let safe = reserve.highest_safe_m.map(|m| figures.length(m));
    row(
        "highest safe running level",
        safe.unwrap_or_else(|| "none: at no level is a power cut safe".to_owned()),
    );
    row("the pump draws air at", figures.length(reserve.dry_m));
    row("water between kept and that", figures.litres(reserve.reserve_l));
    row("lasts without top-up", days(reserve.days));
    row("comes down after a power cut", figures.litres(reserve.drain_back_l));
    table
}

fn days(days: f64) -> String {
    if days.is_finite() {
        format!("{days:.1} days")
    } else {
        "for ever: nothing evaporates".to_owned()
    }
}

/// Litres in the return chamber by height, in pairs of columns.
fn marks(report: &Report, figures: Figures) -> Table {
    let reserve = &report.reserve;
    let mut table = Table::new(
        format!("Water in {} by height", reserve.chamber),
        ["at", "holds", "at", "holds", "at", "holds", "at", "holds", "at", "holds"],
    );
    let shown: Vec<&[f64; 2]> = reserve.marks.iter().skip(EVERY - 1).step_by(EVERY).collect();
    let lines = shown.len().div_ceil(IN_A_LINE);
    for line in 0..lines {
        let cells = (0..IN_A_LINE).flat_map(|k| match shown.get(line + k * lines) {
            Some([m, l]) => [figures.length(*m), figures.litres(*l)],
            None => [String::new(), String::new()],
        });
        table.rows.push(cells.collect());
    }
    table
}

fn whole(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new("The system", ["what", "how much"]);
    let mut row = |what: &str, how_much: String| table.rows.push(vec![what.to_owned(), how_much]);
    let water = &report.water;
    row("flow up to the display", figures.flow_band(report.return_flow_m3_s));
    row("turns over the display", format!("{:.1} times an hour", report.turnover_per_h));
    row("level of the display", figures.length_band(report.display_m));
    row("display, to the rim", figures.length(report.display_rim_m - report.display_m.high));
    row("level of the overflow box", figures.length_band(report.weir_box_m));
    row("water in all", figures.volume(report.volume_m3));
    row("temperature", Temperature::celsius(water.temperature_c).show(figures.0));
    if water.salinity_g_kg > 0.0 {
        row("salinity", Salinity::g_per_kg(water.salinity_g_kg).show());
        row("salt in all", Mass::kg(water.salt_kg).show(figures.0));
    }
    row("density", format!("{:.1} kg/m³", water.density_kg_m3));
    let from = if water.evaporation_is_computed { "from the room's air" } else { "as given" };
    row("evaporates", format!("{} a day, {from}", figures.litres(water.evaporation_l_day)));
    table
        .notes
        .push("Levels of the display too are above the inside of the sump's bottom.".to_owned());
    table
}

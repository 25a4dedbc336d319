//! What the return chamber holds in reserve, and the system as a whole.

use units::{Mass, Salinity, Temperature};
use water::{Failure, Outcome, Report, Running, SafeLimit};

use super::figures::{Figures, clock};
use super::heights;
use super::table::Table;
use crate::in_flow::InFlow;

/// Every which mark the litres are told at: each second centimetre carries a number.
const EVERY: usize = 2;
/// Marks in one line.
const IN_A_LINE: usize = 5;

/// The reserve, the litres at the marks, the system as a whole.
pub fn tables(in_flow: &InFlow<'_>, outcomes: &[Outcome], figures: Figures) -> Vec<Table> {
    let report = &in_flow.report;
    vec![
        reserve(in_flow, outcomes, figures),
        marks(report, figures),
        whole(&in_flow.running, report, figures),
    ]
}

fn reserve(in_flow: &InFlow<'_>, outcomes: &[Outcome], figures: Figures) -> Table {
    let reserve = &in_flow.report.reserve;
    let mut table = Table::new(format!("Reserve of {}", reserve.chamber), ["what", "how much"]);
    let mut row = |what: &str, how_much: String| table.rows.push(vec![what.to_owned(), how_much]);
    let assumed =
        if reserve.kept_is_assumed { " (assumed: give the chamber a `level`)" } else { "" };
    row("level that is kept", figures.length(reserve.kept_m) + assumed);
    if let Some([on, off]) = reserve.float_m.map(|float| float.map(|m| figures.length(m))) {
        row("the float of the top-up", format!("on at {on}, off at {off}"));
    }
    let decides = &reserve.decided_by;
    match reserve.highest_safe_m {
        Some(m) => {
            row("highest safe running level", format!("{}: {decides}", figures.length(m)));
            row("may be added up to that", room(in_flow, figures));
        }
        None => row("highest safe running level", format!("none: {decides}")),
    }
    for limit in &reserve.limits {
        let level = limit.level_m.map_or("no level is safe".to_owned(), |m| figures.length(m));
        row(&limit_words(limit), level);
    }
    if let Some(outcome) = outcomes.iter().find(|o| o.failure == Failure::NoTopUp) {
        row("lasts without top-up, as rehearsed", rehearsed(outcome));
    }
    row("lasts without top-up, at least", days(reserve.days));
    row("the pump draws air at", figures.length(reserve.dry_m));
    let from = if reserve.float_m.is_some() { "the float" } else { "the kept level" };
    row(&format!("water from {from} down to that"), figures.litres(reserve.reserve_l));
    row("comes down after a power cut", figures.litres(reserve.drain_back_l));
    table
}

/// What a limit of the level that is kept says.
fn limit_words(limit: &SafeLimit) -> String {
    let what = match limit.what.as_str() {
        "power cut" => "a power cut",
        what => what,
    };
    if limit.is_flood {
        format!("highest level from which {what} leaves the freeboard")
    } else {
        format!("highest level under {what}")
    }
}

/// What may be added to the return chamber above the level that is kept, in words.
pub fn room(in_flow: &InFlow<'_>, figures: Figures) -> String {
    let reserve = &in_flow.report.reserve;
    let tank = &in_flow.running.system.network.tanks[reserve.basin];
    match reserve.highest_safe_m {
        Some(safe_m) if reserve.kept_m < safe_m => {
            figures.volume(tank.volume(safe_m).0 - tank.volume(reserve.kept_m).0)
        }
        _ => "nothing: the level that is kept is too high".to_owned(),
    }
}

/// How long it went on without top-up in the rehearsal.
fn rehearsed(outcome: &Outcome) -> String {
    match outcome.draws_air_s {
        None => format!("more than {}", clock(outcome.end_s - water::BEGIN_S)),
        Some(t) if !t.mid.is_finite() => {
            let end = clock(outcome.end_s - water::BEGIN_S);
            format!("more than {end}, at the unfavourable end of the band {}", clock(t.low))
        }
        Some(t) if clock(t.low) == clock(t.high) => clock(t.mid),
        Some(t) => format!("{} ({} to {})", clock(t.mid), clock(t.low), clock(t.high)),
    }
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

fn whole(running: &Running<'_>, report: &Report, figures: Figures) -> Table {
    let zero_m = heights::display_m(&running.system);
    let mut table = Table::new("The system", ["what", "how much"]);
    let mut row = |what: &str, how_much: String| table.rows.push(vec![what.to_owned(), how_much]);
    let water = &report.water;
    row("flow up to the display", figures.flow_band(report.return_flow_m3_s));
    row("turns over the display", format!("{:.1} times an hour", report.turnover_per_h));
    row("level of the display", figures.length_band(report.display_m.map(|m| m - zero_m)));
    row("display, to the rim", figures.length(report.display_rim_m - report.display_m.high));
    row("level of the overflow box", figures.length_band(report.weir_box_m.map(|m| m - zero_m)));
    row("water in all", figures.volume(report.volume_m3));
    row("temperature", Temperature::celsius(water.temperature_c).show(figures.0));
    if water.salinity_g_kg > 0.0 {
        row("salinity", Salinity::g_per_kg(water.salinity_g_kg).show());
        row("salt in all", Mass::kg(water.salt_kg).show(figures.0));
    }
    row("density", format!("{:.1} kg/m³", water.density_kg_m3));
    let from = if water.evaporation_is_computed { "from the room's air" } else { "as given" };
    row("evaporates", format!("{} a day, {from}", figures.litres(water.evaporation_l_day)));
    if water.evaporation_is_computed {
        let most = figures.litres(water.evaporation_most_l_day);
        row("by the upper of two estimates", format!("{most} a day"));
    }
    if let Some(reason) = &water.evaporation_out_of_range {
        table.notes.push(format!("Of what evaporates: {reason}."));
    }
    table
}

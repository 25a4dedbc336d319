//! What failures did, side by side.

use findings::Grade;
use units::System as Units;
use water::{Happening, Outcome, Report, Stop, System};

use super::cautions;
use super::events;
use super::figures::{Figures, NONE, clock};
use super::table::Table;
use crate::in_flow::InFlow;

/// Less than this on the floor is a drip, L, as the findings have it.
const DRIP_L: f64 = 0.05;

/// Less than this on a lid or in a tank is a film, m; our judgement.
pub const LID_M: f64 = 5e-4;

/// A level this near to that of the running system is the same, m.
const SAME_M: f64 = 1e-3;

/// What comes first of running over and drawing air, and when, s after the failure.
pub fn trouble(outcome: &Outcome, system: &System<'_>) -> Option<(f64, String)> {
    let is_trouble = |what: &Happening| {
        matches!(what, Happening::RunsOver { .. } | Happening::PumpDrawsAir { .. })
    };
    let first = outcome.events.iter().find(|event| is_trouble(&event.what))?;
    Some((first.t_s - water::BEGIN_S, events::words(&first.what, system)))
}

/// Where least height is left to the rim of sump and display, and how much, m; lids are no rims.
pub fn least_freeboard(outcome: &Outcome, system: &System<'_>) -> Option<(usize, f64)> {
    let both = [of_sump(outcome, system), of_display(outcome, system)];
    both.into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Where least height is left to the rim of the sump, and how much, m.
fn of_sump(outcome: &Outcome, system: &System<'_>) -> Option<(usize, f64)> {
    let tanks = &system.tanks;
    let is_in_sump = |tank: usize| tank < tanks.basins || tanks.shelves.contains(&tank);
    let reaches = outcome.reaches.iter().filter(|reach| is_in_sump(reach.tank));
    let all = reaches.filter_map(|r| Some((r.tank, r.least_freeboard_m()?)));
    all.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The display, and how much is left to its rim, m.
fn of_display(outcome: &Outcome, system: &System<'_>) -> Option<(usize, f64)> {
    let display = system.tanks.display;
    let reach = outcome.reaches.iter().find(|reach| reach.tank == display)?;
    Some((display, reach.least_freeboard_m()?))
}

/// Whether it goes well, in a few words; the findings say more.
pub fn verdict(outcome: &Outcome, system: &System<'_>) -> String {
    if outcome.stop != Stop::End {
        return format!("not known after {}", clock(outcome.end_s - water::BEGIN_S));
    }
    let spill = outcome.spill;
    let on_floor = |figure: water::Figure| match figure {
        f if f.mid > DRIP_L => Some("water on the floor"),
        f if f.high > DRIP_L => Some("may put water on the floor"),
        _ => None,
    };
    let worst = [on_floor(spill.sump_l), on_floor(spill.display_l)];
    let floor = ["water on the floor", "may put water on the floor"]
        .into_iter()
        .find(|words| worst.contains(&Some(*words)));
    let air = outcome
        .draws_air_s
        .map(|figure| if figure.mid.is_finite() { "pump draws air" } else { "pump may draw air" });
    let wanted_m = system.works.limits.freeboard.to_m();
    let is_low = least_freeboard(outcome, system).is_some_and(|(_, m)| m < wanted_m);
    let low = (floor.is_none() && is_low).then_some("little room left");
    // The same as the findings say.
    let unsure = (water::grade(system.works, outcome) == Grade::NotChecked)
        .then_some("not certain: see the findings");
    let words: Vec<&str> = [floor, air, low, unsure].into_iter().flatten().collect();
    if words.is_empty() { "holds".to_owned() } else { words.join(", ") }
}

/// What lies on the floor: the best estimate, and the most that the coefficients allow: `21 L (at most 24 L)`. `None`
/// where it is a drip at most.
pub fn on_floor(figure: water::Figure, figures: Figures) -> Option<String> {
    match figure {
        f if f.high < DRIP_L => None,
        f if f.high - f.mid < DRIP_L => Some(figures.litres(f.mid)),
        f => Some(format!("{} (at most {})", figures.litres(f.mid), figures.litres(f.high))),
    }
}

/// The same of all that a failure spills, under the sump and under the display.
pub fn on_all_floors(outcome: &Outcome, figures: Figures) -> Option<String> {
    let [a, b] = [outcome.spill.sump_l, outcome.spill.display_l];
    let sum = water::Figure { low: a.low + b.low, mid: a.mid + b.mid, high: a.high + b.high };
    on_floor(sum, figures)
}

/// All of them, a line each.
pub fn table(outcomes: &[Outcome], in_flow: &InFlow<'_>, figures: Figures) -> Table {
    let mut table = Table::new(
        "Failures rehearsed",
        [
            "failure",
            "highest in return",
            "sump, least to the rim",
            "display",
            "under the sump",
            "under the display",
            "trouble after",
            "outcome",
        ],
    );
    table.rows = outcomes.iter().map(|outcome| row(outcome, in_flow, figures)).collect();
    let InFlow { running, report } = in_flow;
    let system = &running.system;
    let wanted = figures.length(system.works.limits.freeboard.to_m());
    let floors = match figures.0 {
        Units::Metric => "Litres",
        Units::UsCustomary => "Gallons",
    };
    table.notes = vec![
        format!(
            "\"Highest in return\" is the level in {}, with its doubt. Least to the rim of sump and display is at the \
             unfavourable end of the band; {wanted} are wanted. {floors} on the floor are the best estimate, and in \
             brackets the most that the coefficients allow. \"Trouble\" is the first running over or drawing of air.",
            report.reserve.chamber
        ),
        format!("\"{AS_RUNNING}\": {}.", while_running(system, report, figures)),
        cautions::ESTIMATES.to_owned(),
        cautions::MAINS.to_owned(),
    ];
    table
}

/// Stands where the failure brings water no nearer to a rim than it is with all well.
const AS_RUNNING: &str = "as while running";

/// What is left to the rims with nothing failing, in words.
fn while_running(system: &System<'_>, report: &Report, figures: Figures) -> String {
    let in_sump = |tank: &usize| *tank < system.tanks.basins || is_shelf(system, *tank);
    let tanks = (0..system.network.tanks.len()).filter(in_sump);
    let all = tanks.filter_map(|tank| Some((tank, freeboard_running_m(system, report, tank)?)));
    let sump = all.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(tank, m)| {
        format!("{} to the rim in {}", figures.length(m), system.network.tanks[tank].name)
    });
    let display = freeboard_running_m(system, report, system.tanks.display)
        .map(|m| format!("{} in the display", figures.length(m)));
    sump.into_iter().chain(display).collect::<Vec<_>>().join(", ")
}

fn is_shelf(system: &System<'_>, tank: usize) -> bool {
    system.tanks.shelves.contains(&tank)
}

/// Height from the water to the rim with all well, at the upper end of the band, m; `None` without a rim.
fn freeboard_running_m(system: &System<'_>, report: &Report, tank: usize) -> Option<f64> {
    let (_, rim_m) = system.rims().into_iter().find(|(t, _)| *t == tank)?;
    let basin = report.basins.iter().find(|basin| basin.tank == tank).map(|b| b.level_m.high);
    let sock = || report.socks.iter().find(|sock| sock.tank == tank).map(|s| s.clean_m.high);
    let display = || (tank == system.tanks.display).then_some(report.display_m.high);
    Some(rim_m - basin.or_else(sock).or_else(display)?)
}

/// A height from water to rim in words.
pub fn freeboard(m: f64, figures: Figures) -> String {
    if m < 0.0 { "runs over".to_owned() } else { figures.length(m) }
}

fn row(outcome: &Outcome, in_flow: &InFlow<'_>, figures: Figures) -> Vec<String> {
    let InFlow { running, report } = in_flow;
    let system = &running.system;
    let litres = |figure| on_floor(figure, figures).unwrap_or_else(|| NONE.to_owned());
    let is_as_running = |tank: usize, m: f64| {
        freeboard_running_m(system, report, tank).is_some_and(|usual| (usual - m).abs() < SAME_M)
    };
    let highest = outcome.reaches.iter().find(|reach| reach.tank == system.tanks.returning);
    let in_sump = |(tank, m): (usize, f64)| match freeboard(m, figures) {
        _ if is_as_running(tank, m) => AS_RUNNING.to_owned(),
        left => format!("{left} in {}", system.network.tanks[tank].name),
    };
    let in_display = |(tank, m): (usize, f64)| match freeboard(m, figures) {
        _ if is_as_running(tank, m) => AS_RUNNING.to_owned(),
        left => left,
    };
    vec![
        outcome.name.clone(),
        highest.map_or(NONE.to_owned(), |reach| figures.length_band(reach.highest_m)),
        of_sump(outcome, system).map_or(NONE.to_owned(), in_sump),
        of_display(outcome, system).map_or(NONE.to_owned(), in_display),
        litres(outcome.spill.sump_l),
        litres(outcome.spill.display_l),
        trouble(outcome, system).map_or(NONE.to_owned(), |(s, _)| clock(s)),
        verdict(outcome, system),
    ]
}

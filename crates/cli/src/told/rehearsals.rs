//! What failures did, side by side and one by one.

use water::{Happening, Outcome, Reach, Stop, System};

use super::cautions;
use super::events;
use super::figures::{Figures, NONE, time};
use super::table::{Table, wrapped};

/// Less than this on the floor is a drip, L, as the findings have it.
const DRIP_L: f64 = 0.05;

/// Less than this on a lid is a film, m; our judgement.
const LID_M: f64 = 5e-4;

/// What comes first of running over and drawing air, and when, s after the failure.
pub(crate) fn trouble(outcome: &Outcome, system: &System<'_>) -> Option<(f64, String)> {
    let is_trouble = |what: &Happening| {
        matches!(what, Happening::RunsOver { .. } | Happening::PumpDrawsAir { .. })
    };
    let first = outcome.events.iter().find(|event| is_trouble(&event.what))?;
    Some((first.t_s - water::BEGIN_S, events::words(&first.what, system)))
}

/// Where least height is left to the rim of sump and display, and how much, m; lids are no rims.
pub(crate) fn least_freeboard(outcome: &Outcome, system: &System<'_>) -> Option<(usize, f64)> {
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
pub(crate) fn verdict(outcome: &Outcome, system: &System<'_>) -> String {
    if outcome.stop != Stop::End {
        return format!("not known after {}", time(outcome.end_s - water::BEGIN_S));
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
    let words: Vec<&str> = [floor, air, low].into_iter().flatten().collect();
    if words.is_empty() { "holds".to_owned() } else { words.join(", ") }
}

/// All of them, a line each.
pub(crate) fn table(outcomes: &[Outcome], system: &System<'_>, figures: Figures) -> Table {
    let mut table = Table::new(
        "Failures rehearsed",
        [
            "failure",
            "sump, least to the rim",
            "display",
            "under the sump",
            "under the display",
            "trouble after",
            "outcome",
        ],
    );
    table.rows = outcomes.iter().map(|outcome| row(outcome, system, figures)).collect();
    let wanted = figures.length(system.works.limits.freeboard.to_m());
    table.notes = vec![
        format!(
            "Least to the rim of sump and display is at the unfavourable end of the band; {wanted} are wanted. Litres on the floor are \
             the best estimate, and in brackets the most that the coefficients allow. \"Trouble\" is the first \
             running over or drawing of air."
        ),
        cautions::ESTIMATES.to_owned(),
        cautions::MAINS.to_owned(),
    ];
    table
}

fn row(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Vec<String> {
    let litres = |figure: water::Figure| match figure {
        f if f.high < DRIP_L => NONE.to_owned(),
        f if f.high - f.mid < DRIP_L => figures.litres(f.mid),
        f => format!("{} ({})", figures.litres(f.mid), figures.litres(f.high)),
    };
    let freeboard = |m: f64| if m < 0.0 { "runs over".to_owned() } else { figures.length(m) };
    vec![
        outcome.name.clone(),
        of_sump(outcome, system).map_or(NONE.to_owned(), |(tank, m)| {
            format!("{} in {}", freeboard(m), system.network.tanks[tank].name)
        }),
        of_display(outcome, system).map_or(NONE.to_owned(), |(_, m)| freeboard(m)),
        litres(outcome.spill.sump_l),
        litres(outcome.spill.display_l),
        trouble(outcome, system).map_or(NONE.to_owned(), |(s, _)| time(s)),
        verdict(outcome, system),
    ]
}

/// One of them in full.
pub(crate) fn one(outcome: &Outcome, system: &System<'_>, figures: Figures) -> String {
    let mut text = format!("{}: {}\n", outcome.name, verdict(outcome, system));
    text += &wrapped(&format!("{}.", outcome.words));
    let events = events::lines(outcome, system);
    text += if events.is_empty() { "nothing switches and nothing runs over\n" } else { "" };
    text.extend(events.iter().map(|line| format!("{line}\n")));
    for cycle in events::cycles(outcome, system, figures) {
        text += &wrapped(&cycle);
    }
    text += &tanks(outcome, system, figures).body();
    let salinity = format!("{:.2} g/kg", outcome.salinity_g_kg);
    let played = time(outcome.end_s - water::BEGIN_S);
    if outcome.salinity_g_kg > 0.0 {
        text += &format!("salinity after {played}, all mixed: {salinity}\n");
    }
    if outcome.band_is_doubtful {
        text +=
            "a combination of coefficients tried as a check lay outside a band: it may be wider\n";
    }
    text
}

/// How high and low the water came in every tank.
fn tanks(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Table {
    let mut table = Table::new(
        "",
        ["in", "highest", "after", "lowest", "after", "at the end", "least to the rim"],
    );
    // The reservoir's own heights say nothing, and lids are told of when water lies on them.
    let is_dry_lid = |reach: &Reach| {
        let floor_m = system.network.tanks[reach.tank].floor_m();
        system.tanks.covers.contains(&reach.tank) && reach.highest_m.high - floor_m < LID_M
    };
    let is_told = |reach: &&Reach| {
        let is_level = !system.network.tanks[reach.tank].is_sink;
        is_level && system.tanks.reservoir != Some(reach.tank) && !is_dry_lid(reach)
    };
    let row = |reach: &Reach| {
        let freeboard = match reach.least_freeboard_m() {
            Some(m) if m < 0.0 => "runs over".to_owned(),
            Some(m) => figures.length(m),
            None => NONE.to_owned(),
        };
        // Levels at the beginning are there before anything has failed.
        let after = |at_s: f64| {
            if at_s < water::BEGIN_S { NONE.to_owned() } else { time(at_s - water::BEGIN_S) }
        };
        vec![
            system.network.tanks[reach.tank].name.clone(),
            figures.length_band(reach.highest_m),
            after(reach.highest_at_s),
            figures.length_band(reach.lowest_m),
            after(reach.lowest_at_s),
            figures.length(reach.end_m),
            freeboard,
        ]
    };
    table.rows = outcome.reaches.iter().filter(is_told).map(row).collect();
    table.notes.push("All heights are above the inside of the sump's bottom. Where no ± stands the doubt was not computed.".to_owned());
    table
}

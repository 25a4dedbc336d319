//! What failures do, as tables for a spreadsheet, in the units of the file.

use study::told::{heights, rehearsals};
use units::{Length, System as Units, Volume};
use water::{Outcome, System, Tank};

use crate::csv;

/// Litres of a US gallon, as [`Volume`] shows them.
fn volume(l: f64, units: Units) -> f64 {
    match units {
        Units::Metric => Volume::l(l).to_l(),
        Units::UsCustomary => Volume::l(l).to_l() / LITRES_PER_GALLON,
    }
}

/// A US gallon is 231 cubic inches by definition (NIST Handbook 44, appendix C).
const LITRES_PER_GALLON: f64 = 231.0 * 16.387_064e-3;

fn height(m: f64, units: Units) -> f64 {
    match units {
        Units::Metric => m * 1e3,
        Units::UsCustomary => Length::mm(m * 1e3).to_in(),
    }
}

/// Names of the units of heights and volumes.
fn names(units: Units) -> [&'static str; 2] {
    match units {
        Units::Metric => ["mm", "L"],
        Units::UsCustomary => ["in", "gal"],
    }
}

/// One line for each failure; times are seconds after it.
pub(crate) fn summary(outcomes: &[Outcome], system: &System<'_>, units: Units) -> String {
    let [h, v] = names(units);
    let v = v.to_lowercase();
    let mut text = String::from(csv::MARK);
    text += &format!(
        "failure,outcome,highest_in_return_{h},at_most_{h},least_to_a_rim_{h},where,under_the_sump_{v},at_most_{v},\
         under_the_display_{v},at_most_{v},first_trouble_s,trouble,draws_air_s,salinity_at_end_g_kg,played_s\r\n"
    );
    for outcome in outcomes {
        let least = rehearsals::least_freeboard(outcome, system);
        let trouble = rehearsals::trouble(outcome, system);
        let number = |value: Option<f64>, decimals: usize| {
            value.filter(|v| v.is_finite()).map_or(String::new(), |v| format!("{v:.decimals$}"))
        };
        let fine = if units == Units::Metric { 1 } else { 2 };
        let spill = outcome.spill;
        let returning = outcome.reaches.iter().find(|reach| reach.tank == system.tanks.returning);
        let highest = returning.map(|reach| reach.highest_m.map(|m| height(m, units)));
        text += &csv::line(&[
            csv::cell(&outcome.name),
            csv::cell(&rehearsals::verdict(outcome, system)),
            number(highest.map(|figure| figure.mid), fine),
            number(highest.map(|figure| figure.high), fine),
            number(least.map(|(_, m)| height(m, units)), fine),
            csv::cell(least.map_or("", |(tank, _)| &system.network.tanks[tank].name)),
            number(Some(volume(spill.sump_l.mid, units)), 2),
            number(Some(volume(spill.sump_l.high, units)), 2),
            number(Some(volume(spill.display_l.mid, units)), 2),
            number(Some(volume(spill.display_l.high, units)), 2),
            number(trouble.as_ref().map(|(s, _)| *s), 1),
            csv::cell(trouble.as_ref().map_or("", |(_, words)| words)),
            number(outcome.draws_air_s.map(|figure| figure.mid), 1),
            number(Some(outcome.salinity_g_kg), 3),
            number(Some(outcome.end_s - water::BEGIN_S), 0),
        ]);
    }
    text
}

/// Levels in time. Heights are counted as the file counts them; of what only collects water, and of the
/// reservoir, the water is told.
pub(crate) fn of(outcome: &Outcome, system: &System<'_>, units: Units) -> String {
    let tanks = &system.network.tanks;
    let [h, v] = names(units);
    let is_reservoir = |i: usize| system.tanks.reservoir == Some(i);
    let head = tanks.iter().enumerate().map(|(i, tank)| {
        let unit = match tank {
            tank if tank.is_sink => format!("{v} gained"),
            _ if is_reservoir(i) => format!("{v} left"),
            _ if heights::zero_m(system, i) > 0.0 => format!("{h} above the display's bottom"),
            _ => h.to_owned(),
        };
        csv::cell(&format!("{} ({unit})", tank.name))
    });
    let head: Vec<String> =
        std::iter::once("time after the failure (s)".to_owned()).chain(head).collect();
    let mut text = String::from(csv::MARK) + &csv::line(&head);
    let begun = outcome.samples.first().map_or(&[][..], |sample| &sample.levels_m);
    let (coarse, fine) = if units == Units::Metric { (2, 3) } else { (3, 4) };
    let mut last_time = String::new();
    for sample in &outcome.samples {
        let cell = |(i, tank): (usize, &Tank)| {
            let m = sample.levels_m[i];
            let litres = |m: f64| 1e3 * tank.volume(m).0;
            if tank.is_sink {
                format!("{:.fine$}", volume(litres(m) - litres(begun[i]), units))
            } else if is_reservoir(i) {
                format!("{:.fine$}", volume(litres(m), units))
            } else {
                format!("{:.coarse$}", height(m - heights::zero_m(system, i), units))
            }
        };
        let cells = tanks.iter().enumerate().map(cell);
        let time = format!("{:.2}", sample.t_s - water::BEGIN_S);
        // An instant may be kept twice: as it was seen and as something was switched. No level leaps.
        if time != last_time {
            text += &csv::line(&std::iter::once(time.clone()).chain(cells).collect::<Vec<_>>());
            last_time = time;
        }
    }
    text
}

//! One failure in full: what happens when, and how high the water comes.

use water::{Figure, Outcome, Reach, System};

use super::basins::BAND_UNKNOWN;
use super::events;
use super::figures::{Figures, NONE, clock};
use super::heights;
use super::rehearsals::{LID_M, freeboard, verdict};
use super::table::{Table, wrapped};

/// Said once beside any number of courses, after [`heights::NOTE`].
pub const NOTE: &str = "Where no ± stands the doubt was not computed.";

/// What a failure does, in the order in which it is read.
#[derive(Clone, Debug)]
pub struct Course {
    /// Its name, and whether it goes well.
    pub title: String,
    /// What happens, in a sentence.
    pub words: String,
    /// When, and what.
    pub events: Vec<[String; 2]>,
    /// How high and low the water came in every tank, and notes.
    pub tanks: Table,
}

impl Course {
    /// The course of an outcome.
    pub fn of(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Self {
        let mut tanks = tanks(outcome, system, figures);
        tanks.notes = notes(outcome, system, figures);
        Self {
            title: format!("{}: {}", outcome.name, verdict(outcome, system)),
            words: format!("{}.", outcome.words),
            events: events::lines(outcome, system),
            tanks,
        }
    }

    /// The same as text.
    pub fn text(&self) -> String {
        let mut text = format!("{}\n{}", super::one_line(&self.title), wrapped(&self.words));
        if self.events.is_empty() {
            text += NOTHING;
            text.push('\n');
        }
        let width = self.events.iter().map(|[when, _]| when.chars().count()).max().unwrap_or(0);
        for [when, what] in &self.events {
            text += &format!("  {when:<width$}  {}\n", super::one_line(what));
        }
        text + &self.tanks.body()
    }
}

/// Stands where a course has no events.
pub const NOTHING: &str = "nothing switches and nothing runs over";

fn notes(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Vec<String> {
    let mut notes = events::cycles(outcome, system, figures);
    let played = clock(outcome.end_s - water::BEGIN_S);
    if outcome.salinity_g_kg > 0.0 {
        let salinity = outcome.salinity_g_kg;
        notes.push(format!("salinity after {played}, all mixed: {salinity:.2} g/kg"));
    }
    if !outcome.band_is_known {
        notes.push(BAND_UNKNOWN.to_owned());
    }
    if outcome.band_is_doubtful {
        notes.push(
            "a combination of coefficients tried as a check lay outside a band: it may be wider"
                .to_owned(),
        );
    }
    notes
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
    table.rows =
        outcome.reaches.iter().filter(is_told).map(|reach| row(reach, system, figures)).collect();
    table
}

fn row(reach: &Reach, system: &System<'_>, figures: Figures) -> Vec<String> {
    let tank = &system.network.tanks[reach.tank];
    let (zero_m, floor_m) = (heights::zero_m(system, reach.tank), tank.floor_m());
    let level = |figure: Figure| {
        if figure.high - floor_m < LID_M {
            "empty".to_owned()
        } else {
            figures.length_band(figure.map(|m| m - zero_m))
        }
    };
    // Levels at the beginning are there before anything has failed.
    let after = |at_s: f64| {
        if at_s < water::BEGIN_S { NONE.to_owned() } else { clock(at_s - water::BEGIN_S) }
    };
    vec![
        tank.name.clone(),
        level(reach.highest_m),
        after(reach.highest_at_s),
        level(reach.lowest_m),
        after(reach.lowest_at_s),
        level(Figure::exact(reach.end_m)),
        reach.least_freeboard_m().map_or(NONE.to_owned(), |m| freeboard(m, figures)),
    ]
}

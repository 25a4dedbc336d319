//! The axis of time: on the left the first minutes, on the right all of it.

use water::{BEGIN_S, Happening, Outcome};

use super::super::paper::{GREY, Paper, Text, stroke};
use super::super::words;
use super::SIZE;
use super::curves::Chart;
use super::events::Entry;
use crate::decimal::decimal;

/// How long the left column may be, min.
const FIRST_MIN: [f64; 8] = [1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 60.0, 120.0];
/// Share of all movement in [`FIRST_MIN`]'s longest that it should show.
const SHARE: f64 = 0.95;
/// With less movement than this in the first minutes, in parts of the panel's range, there is no left column.
const LEAST_SHARE: f64 = 0.02;
/// Space between the columns, mm.
const GAP: f64 = 7.0;
/// Longer than this it is told in days, s.
const LONG_S: f64 = 72.0 * 3600.0;

/// Up to here it is told in seconds, s.
const SHORT_S: f64 = 120.0;

/// One column: a stretch of time on a stretch of paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Column {
    pub(super) x: [f64; 2],
    /// First and last instant, s after the failure.
    pub(super) t_s: [f64; 2],
    unit_s: f64,
    unit: &'static str,
}

impl Column {
    pub(super) fn x_of(&self, t_s: f64) -> f64 {
        self.x[0] + (self.x[1] - self.x[0]) * (t_s - self.t_s[0]) / (self.t_s[1] - self.t_s[0])
    }

    pub(super) fn has(&self, t_s: f64) -> bool {
        self.t_s[0] <= t_s && t_s <= self.t_s[1]
    }

    pub(super) fn ticks(&self) -> Vec<f64> {
        let steps = match self.unit {
            "s" => vec![5.0, 10.0, 20.0, 30.0, 60.0],
            "min" => vec![1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0],
            "h" => vec![0.25, 0.5, 1.0, 2.0, 4.0, 6.0, 12.0, 24.0],
            _ => vec![1.0, 2.0, 5.0, 7.0, 14.0, 28.0],
        };
        let [lo, hi] = self.t_s.map(|t| t / self.unit_s);
        words::ticks_of(lo, hi, (self.x[1] - self.x[0]) / 9.0, steps)
    }
}

/// One column or two.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Columns {
    pub(super) all: Vec<Column>,
}

impl Columns {
    pub(super) fn new(outcome: &Outcome, chart: &Chart, entries: &[Entry], x: [f64; 2]) -> Self {
        let end_s = (outcome.end_s - BEGIN_S).max(1.0);
        let (unit_s, unit) = if end_s > LONG_S { (86_400.0, "days") } else { (3600.0, "h") };
        let whole = |x: [f64; 2], from_s: f64| Column { x, t_s: [from_s, end_s], unit_s, unit };
        let Some(first_s) = first_s(outcome, chart, entries) else {
            return Self { all: vec![whole(x, 0.0)] };
        };
        let first = |x: [f64; 2], to_s: f64| {
            let (unit_s, unit) = if to_s > SHORT_S { (60.0, "min") } else { (1.0, "s") };
            Column { x, t_s: [-(0.15 * to_s).min(BEGIN_S), to_s], unit_s, unit }
        };
        if end_s <= 1.5 * first_s {
            return Self { all: vec![first(x, end_s)] };
        }
        let middle = x[0] + 0.5 * (x[1] - x[0] - GAP);
        Self { all: vec![first([x[0], middle], first_s), whole([middle + GAP, x[1]], 0.0)] }
    }

    /// The column in which an instant is numbered.
    pub(super) fn column_of(&self, t_s: f64) -> Option<&Column> {
        self.all.iter().find(|c| c.has(t_s))
    }

    /// What each column shows, in words; how much room that took.
    pub(super) fn headings(&self, paper: &mut Paper, y: f64) -> f64 {
        let count = self.all.len();
        for (i, c) in self.all.iter().enumerate() {
            let told = if c.unit_s < 100.0 { words::duration(c.t_s[1]) } else { long(c.t_s[1]) };
            let text = match (i, count) {
                (0, 2) => format!("The first {told}"),
                (1, 2) => format!("All of it: {told} (grey: what is on the left)"),
                _ => format!("{told} from the failure on"),
            };
            paper.text(&Text::new(&text, [c.x[0], y + 2.0], 3.0).bold());
        }
        5.0
    }

    /// Ticks with numbers below the panels; the lower end of what was drawn.
    pub(super) fn axes(&self, paper: &mut Paper, y: f64) -> f64 {
        for c in &self.all {
            for v in c.ticks() {
                let x = c.x_of(v * c.unit_s);
                paper.line([x, y], [x, y + 1.2], &stroke(GREY, 0.2));
                paper.text(&Text::new(&decimal(v, 2), [x, y + 4.2], SIZE).middle());
            }
            let words = format!(
                "{} after the failure",
                match c.unit {
                    "s" => "seconds",
                    "min" => "minutes",
                    "h" => "hours",
                    _ => "days",
                }
            );
            paper.text(
                &Text::new(&words, [0.5 * (c.x[0] + c.x[1]), y + 8.0], SIZE).middle().colour(GREY),
            );
        }
        y + 8.0
    }

    /// Upright lines of one panel.
    pub(super) fn grid(&self, paper: &mut Paper, top: f64, bottom: f64) {
        if let [first, whole] = self.all[..] {
            let x = [whole.x_of(0.0), whole.x_of(first.t_s[1])];
            paper.rect([x[0], top], [x[1], bottom], "fill=\"#e9ecee\"");
        }
        for c in &self.all {
            for v in c.ticks() {
                let x = c.x_of(v * c.unit_s);
                paper.line([x, top], [x, bottom], &stroke("#dfe4e7", 0.15));
            }
            paper.rect([c.x[0], top], [c.x[1], bottom], &stroke("#8d979e", 0.2));
        }
    }
}

fn long(s: f64) -> String {
    if s > LONG_S {
        format!("{} days", decimal(s / 86_400.0, 1))
    } else {
        format!("{} hours", decimal(s / 3600.0, 1))
    }
}

/// How long the left column is: until most of what moves early has moved, and all that happens early has
/// happened. `None` where next to nothing moves early.
fn first_s(outcome: &Outcome, chart: &Chart, entries: &[Entry]) -> Option<f64> {
    let longest_s = FIRST_MIN[FIRST_MIN.len() - 1] * 60.0;
    // Each curve in parts of its panel's range, so that litres and heights count alike.
    let travel = |to_s: f64| -> f64 {
        let of = |panel: &super::curves::Panel| {
            let [lo, hi] = super::panels::range(panel);
            panel.curves.iter().map(|c| c.travel(-BEGIN_S, to_s) / (hi - lo)).fold(0.0, f64::max)
        };
        chart.panels.iter().map(of).fold(0.0, f64::max)
    };
    let all = travel(longest_s);
    let is_sudden = outcome.events.iter().any(|e| {
        !matches!(e.what, Happening::TopUpOn | Happening::TopUpOff) && e.t_s - BEGIN_S < 600.0
    });
    if travel(1200.0) < LEAST_SHARE && !is_sudden {
        return None;
    }
    let last_s = entries.iter().filter(|e| !e.is_routine).map(|e| e.t_s).filter(|&t| t < longest_s);
    let last_s = last_s.fold(0.0, f64::max);
    let fits = |min: &&f64| travel(**min * 60.0) >= SHARE * all && last_s <= **min * 57.0;
    FIRST_MIN.iter().find(fits).or(FIRST_MIN.last()).map(|min| min * 60.0)
}

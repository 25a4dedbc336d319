//! What happens when: numbers above the curves, and a list in words.

use std::collections::BTreeMap;

use water::{BEGIN_S, Happening, Outcome, Running};

use super::super::measure::wrapped;
use super::super::paper::{BLACK, GREY, Paper, Text, dashed, stroke};
use super::super::spread::spread;
use super::super::words;
use super::columns::Columns;
use super::{LEADING, MARGIN, SIZE, WIDTH};

/// What comes more often than this is told in one line.
const MOST_ALIKE: usize = 3;
/// Radius of a number's circle.
const RADIUS: f64 = 1.9;

/// One line of the list.
pub(super) struct Entry {
    /// When, s after the failure.
    pub(super) t_s: f64,
    pub(super) words: String,
    /// When it happens again.
    pub(super) again_s: Vec<f64>,
    /// Part of a day in which all is well, as the float's switching.
    pub(super) is_routine: bool,
}

/// Happenings that belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    TopUp,
    Siphon(usize),
    Other(usize),
}

/// The list, in the order of time; what comes again and again is one line.
pub(super) fn entries(outcome: &Outcome, running: &Running<'_>) -> Vec<Entry> {
    let mut groups: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
    for (i, event) in outcome.events.iter().enumerate() {
        let group = match event.what {
            Happening::TopUpOn | Happening::TopUpOff => Group::TopUp,
            Happening::SiphonBreaks { drain } | Happening::SiphonPrimes { drain } => {
                Group::Siphon(drain)
            }
            _ => Group::Other(i),
        };
        groups.entry(group).or_default().push(i);
    }
    let t_s = |i: usize| outcome.events[i].t_s - BEGIN_S;
    let mut entries: Vec<Entry> = Vec::new();
    for (group, members) in groups {
        let is_routine = group == Group::TopUp;
        if members.len() <= MOST_ALIKE {
            entries.extend(members.iter().map(|&i| Entry {
                t_s: t_s(i),
                words: words_of(&outcome.events[i].what, running),
                again_s: Vec::new(),
                is_routine,
            }));
            continue;
        }
        let (first, last) = (members[0], members[members.len() - 1]);
        let what = match group {
            Group::Siphon(drain) => {
                format!("{} breaks its siphon and starts again", drain_name(running, drain))
            }
            _ => "the float switches the top-up on and off".to_owned(),
        };
        let times = members.len().div_ceil(2);
        // Settled cycles are leapt over, and what happened in them was not counted.
        let least = if outcome.cycles.is_empty() { "" } else { "at least " };
        entries.push(Entry {
            t_s: t_s(first),
            words: format!(
                "{what}, {least}{times} times, last after {}",
                words::duration(t_s(last))
            ),
            again_s: members[1..].iter().map(|&i| t_s(i)).collect(),
            is_routine,
        });
    }
    let is_told = entries.iter().any(|e| e.t_s.abs() < 1e-6 && !e.is_routine);
    if !is_told {
        let words = format!("the failure: {}", outcome.name);
        entries.push(Entry { t_s: 0.0, words, again_s: Vec::new(), is_routine: false });
    }
    entries.sort_by(|a, b| a.t_s.total_cmp(&b.t_s));
    entries
}

fn drain_name(running: &Running<'_>, drain: usize) -> String {
    format!("drain {}", running.system.works.drains[drain].name)
}

fn words_of(what: &Happening, running: &Running<'_>) -> String {
    let works = running.system.works;
    match *what {
        Happening::PowerOut => "the power goes: all pumps stop".to_owned(),
        Happening::PowerBack => "the power is back: the pumps start".to_owned(),
        Happening::SiphonBreaks { drain } => {
            format!("{} draws air: its siphon breaks", drain_name(running, drain))
        }
        Happening::SiphonPrimes { drain } => {
            format!("{} runs full again as a siphon", drain_name(running, drain))
        }
        Happening::BackSiphonBreaks { line } => {
            format!("air gets into the line of {}: it no longer runs back", works.lines[line].pump)
        }
        Happening::PumpDrawsAir { line } => {
            format!("{} begins to draw air", works.lines[line].pump)
        }
        Happening::TopUpOn => "the float switches the top-up on".to_owned(),
        Happening::TopUpOff => "the float switches the top-up off".to_owned(),
        Happening::ReservoirEmpty => "the reservoir of the top-up is empty".to_owned(),
        Happening::RunsOver { tank } => {
            format!("{} runs over", running.system.network.tanks[tank].name)
        }
    }
}

/// Numbers above the panels with leaders down to their instants; where the panels may begin.
pub(super) fn numbers(paper: &mut Paper, columns: &Columns, entries: &[Entry], y: f64) -> f64 {
    let (middle, end) = (y + RADIUS + 0.6, y + 2.0 * RADIUS + 5.0);
    for column in &columns.all {
        let here: Vec<(usize, f64)> = (entries.iter().enumerate())
            .filter(|(_, e)| columns.column_of(e.t_s) == Some(column))
            .map(|(i, e)| (i, column.x_of(e.t_s)))
            .collect();
        let wanted: Vec<f64> = here.iter().map(|h| h.1).collect();
        let sizes = vec![2.0 * RADIUS; here.len()];
        let places = spread(&wanted, &sizes, 0.7, column.x);
        for (&(i, x), at) in here.iter().zip(places) {
            paper.line([at, middle + RADIUS], [x, end], &stroke(GREY, 0.18));
            balloon(paper, [at, middle], i + 1);
        }
    }
    end
}

/// A number in a circle.
fn balloon(paper: &mut Paper, [x, y]: [f64; 2], number: usize) {
    paper.circle([x, y], RADIUS, "fill=\"#ffffff\" stroke=\"#1d2328\" stroke-width=\"0.2\"");
    paper.text(&Text::new(&number.to_string(), [x, y + 0.8], 2.2).middle());
}

/// Upright lines through the panels at what happens.
pub(super) fn lines(
    paper: &mut Paper,
    columns: &Columns,
    entries: &[Entry],
    [top, bottom]: [f64; 2],
) {
    for entry in entries {
        if let Some(c) = columns.column_of(entry.t_s) {
            let x = c.x_of(entry.t_s);
            paper.line([x, top], [x, bottom], &dashed(GREY, 0.15, "0.8 0.8"));
        }
        // Only short ticks at the top for what comes again; those that would touch are left out.
        for column in &columns.all {
            let mut last = f64::NEG_INFINITY;
            for &t_s in entry.again_s.iter().filter(|&&t| column.has(t)) {
                let x = column.x_of(t_s);
                if x - last >= 0.5 {
                    paper.line([x, top], [x, top + 1.0], &stroke(GREY, 0.15));
                    last = x;
                }
            }
        }
    }
}

/// The list in two columns; the lower end of it.
pub(super) fn list(paper: &mut Paper, columns: &Columns, entries: &[Entry], y: f64) -> f64 {
    let half = entries.len().div_ceil(2);
    let width = 0.5 * (WIDTH - 2.0 * MARGIN);
    let mut lowest = y;
    for (part, x) in [(&entries[..half], MARGIN), (&entries[half..], MARGIN + width)] {
        let mut line_y = y;
        for (k, entry) in part.iter().enumerate() {
            let number = k + 1 + if x > MARGIN { half } else { 0 };
            if columns.column_of(entry.t_s).is_some() {
                balloon(paper, [x + RADIUS, line_y - 0.9], number);
            }
            let when = when(entry.t_s);
            paper.text(&Text::new(&when, [x + 31.0, line_y], SIZE).end().colour(GREY));
            for text in wrapped(&entry.words, SIZE, width - 37.0) {
                paper.text(&Text::new(&text, [x + 33.0, line_y], SIZE).colour(BLACK));
                line_y += LEADING;
            }
            line_y += 0.4;
        }
        lowest = f64::max(lowest, line_y);
    }
    lowest
}

fn when(t_s: f64) -> String {
    if t_s.abs() < 0.5 {
        "at once".to_owned()
    } else if t_s < 0.0 {
        format!("{} before", words::duration(-t_s))
    } else {
        format!("after {}", words::duration(t_s))
    }
}

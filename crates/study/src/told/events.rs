//! What happened in a rehearsal, in words.

use water::{Cycle, Happening, Incident, Outcome, System};

use super::figures::{Figures, clock, time};

/// An event that comes more often than this is told once, with how often.
const OFTEN: usize = 3;
/// A swing less than this is not told, m.
const LEAST_SWING_M: f64 = 1e-3;

/// When, and what: the events that happen once or a few times, in the order of time, and after them those
/// that come again and again.
pub fn lines(outcome: &Outcome, system: &System<'_>) -> Vec<[String; 2]> {
    let events = &outcome.events;
    let is_told = |event: &&Incident| !is_often(&event.what, events);
    let mut lines: Vec<[String; 2]> = Vec::new();
    let mut last: Option<(&Incident, String)> = None;
    for event in events.iter().filter(is_told) {
        let when = since(event.t_s);
        let later = match &last {
            Some((before, same)) if *same == when && event.t_s - before.t_s > 0.5 => {
                format!("{} later", clock(event.t_s - before.t_s))
            }
            _ => when.clone(),
        };
        lines.push([later, words(&event.what, system)]);
        last = Some((event, when));
    }
    let mut told: Vec<&Happening> = Vec::new();
    for event in events.iter().filter(|event| is_often(&event.what, events)) {
        if !told.iter().any(|what| belong_together(what, &event.what)) {
            told.push(&event.what);
            lines.push(["…".to_owned(), often(&event.what, outcome, system)]);
        }
    }
    lines
}

/// The same as instants, s from the start of the rehearsal: what comes again and again is told where it comes first.
pub fn timed(outcome: &Outcome, system: &System<'_>) -> Vec<(f64, String)> {
    let events = &outcome.events;
    let mut told: Vec<&Happening> = Vec::new();
    let mut lines = Vec::new();
    for event in events {
        if !is_often(&event.what, events) {
            lines.push((event.t_s, words(&event.what, system)));
        } else if !told.iter().any(|what| belong_together(what, &event.what)) {
            told.push(&event.what);
            lines.push((event.t_s, often(&event.what, outcome, system)));
        }
    }
    lines
}

/// Whether two happenings are told as one when they come often: a float or a siphon goes to and fro.
fn belong_together(a: &Happening, b: &Happening) -> bool {
    use Happening::{SiphonBreaks, SiphonPrimes, TopUpOff, TopUpOn};
    match (a, b) {
        (TopUpOn | TopUpOff, TopUpOn | TopUpOff) => true,
        (
            SiphonBreaks { drain: a } | SiphonPrimes { drain: a },
            SiphonBreaks { drain: b } | SiphonPrimes { drain: b },
        ) => a == b,
        _ => a == b,
    }
}

/// A float that goes on and off twice has a rhythm already; it is what floats do.
fn is_often(what: &Happening, events: &[Incident]) -> bool {
    events.iter().filter(|event| belong_together(&event.what, what)).count() > OFTEN
}

/// All of a kind in one line.
fn often(what: &Happening, outcome: &Outcome, system: &System<'_>) -> String {
    let of_kind = || outcome.events.iter().filter(|event| belong_together(&event.what, what));
    let count = of_kind().filter(|event| event.what == *what).count();
    let at = |event: Option<&Incident>| event.map_or(String::new(), |event| since(event.t_s));
    let (first, last) = (at(of_kind().next()), at(of_kind().next_back()));
    let what = match what {
        Happening::TopUpOn | Happening::TopUpOff => "the top-up switches on and off".to_owned(),
        Happening::SiphonBreaks { drain } | Happening::SiphonPrimes { drain } => {
            let name = &system.works.drains[*drain].name;
            format!("air gets into drain `{name}` and it runs full again")
        }
        other => words(other, system),
    };
    // Of what was leapt over nobody has counted the events; those of the float are all there.
    let is_counted = outcome.cycles.is_empty() || what.starts_with("the top-up");
    let count = if is_counted { format!("{count} times") } else { "again and again".to_owned() };
    format!("{what} {count}, first {first}, last {last}")
}

/// An instant of a rehearsal, s, as time from the failure.
pub fn since(t_s: f64) -> String {
    match t_s - water::BEGIN_S {
        s if s < -0.5 => format!("{} before", clock(-s)),
        s if s < 0.5 => "at once".to_owned(),
        s => format!("after {}", clock(s)),
    }
}

/// An event in words.
pub fn words(what: &Happening, system: &System<'_>) -> String {
    let works = system.works;
    let drain = |k: &usize| works.drains[*k].name.as_str();
    let pump = |k: &usize| works.lines[*k].pump.as_str();
    match what {
        Happening::PowerOut => "the power goes: all pumps stop".to_owned(),
        Happening::PowerBack => "the power comes back: all pumps start".to_owned(),
        Happening::SiphonBreaks { drain: k } => format!("air gets into drain `{}`", drain(k)),
        Happening::SiphonPrimes { drain: k } => format!("drain `{}` runs full again", drain(k)),
        Happening::BackSiphonBreaks { line } => {
            format!("air gets into the line of `{}`: it no longer runs back", pump(line))
        }
        Happening::PumpDrawsAir { line } => format!("`{}` draws air", pump(line)),
        Happening::TopUpOn => "the top-up starts".to_owned(),
        Happening::TopUpOff => "the top-up stops".to_owned(),
        Happening::ReservoirEmpty => "the reservoir of the top-up is empty".to_owned(),
        Happening::RunsOver { tank } => runs_over(*tank, system),
    }
}

fn runs_over(tank: usize, system: &System<'_>) -> String {
    match system.tanks.shelves.iter().position(|shelf| *shelf == tank) {
        Some(k) => {
            let chamber = &system.works.basins[system.works.shelves[k].basin].name;
            format!("water runs over the rim above the shelf of `{chamber}`")
        }
        None => format!("`{}` runs over on to the floor", system.network.tanks[tank].name),
    }
}

/// Cycles that had settled, such as those of a siphon that hunts, in words.
pub fn cycles(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Vec<String> {
    outcome.cycles.iter().filter_map(|cycle| cycle_words(cycle, system, figures)).collect()
}

fn cycle_words(cycle: &Cycle, system: &System<'_>, figures: Figures) -> Option<String> {
    let tanks = system.network.tanks.iter().zip(&cycle.swing_m).filter(|(tank, _)| !tank.is_sink);
    let (tank, swing_m) = tanks.max_by(|a, b| a.1.total_cmp(b.1))?;
    (*swing_m >= LEAST_SWING_M).then(|| {
        format!(
            "from {} to {} after the failure it swings to and fro every {}; `{}` most, by {}",
            clock(cycle.from_s - water::BEGIN_S),
            clock(cycle.until_s - water::BEGIN_S),
            time(cycle.period_s),
            tank.name,
            figures.length(*swing_m)
        )
    })
}

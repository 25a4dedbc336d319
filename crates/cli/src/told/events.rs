//! What happened in a rehearsal, in words.

use water::{Cycle, Happening, Incident, Outcome, System};

use super::figures::{Figures, clock, time};

/// So many events are told one by one from the beginning.
const FIRST: usize = 24;
/// And so many at the end.
const LAST: usize = 4;
/// A swing less than this is not told, m.
const LEAST_SWING_M: f64 = 1e-3;

/// The events of an outcome, a line each, by a clock that starts with the failure.
pub(crate) fn lines(outcome: &Outcome, system: &System<'_>) -> Vec<String> {
    let line = |event: &Incident| {
        let at = clock(event.t_s - water::BEGIN_S);
        format!("{at:>12}  {}", words(&event.what, system))
    };
    let events = &outcome.events;
    if events.len() <= FIRST + LAST + 1 {
        return events.iter().map(line).collect();
    }
    let left = events.len() - FIRST - LAST;
    let mut lines: Vec<String> = events[..FIRST].iter().map(line).collect();
    lines.push(format!("{:>12}  {left} more events of this kind", "…"));
    lines.extend(events[events.len() - LAST..].iter().map(line));
    lines
}

/// An event in words.
pub(crate) fn words(what: &Happening, system: &System<'_>) -> String {
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
        Happening::RunsOver { tank } => {
            format!("`{}` runs over on to the floor", system.network.tanks[*tank].name)
        }
    }
}

/// Cycles that had settled, such as those of a siphon that hunts, in words.
pub(crate) fn cycles(outcome: &Outcome, system: &System<'_>, figures: Figures) -> Vec<String> {
    outcome.cycles.iter().filter_map(|cycle| cycle_words(cycle, system, figures)).collect()
}

fn cycle_words(cycle: &Cycle, system: &System<'_>, figures: Figures) -> Option<String> {
    let tanks = system.network.tanks.iter().zip(&cycle.swing_m).filter(|(tank, _)| !tank.is_sink);
    let (tank, swing_m) = tanks.max_by(|a, b| a.1.total_cmp(b.1))?;
    (*swing_m >= LEAST_SWING_M).then(|| {
        format!(
            "from {} to {} it swings to and fro every {}; `{}` most, by {}",
            clock(cycle.from_s - water::BEGIN_S),
            clock(cycle.until_s - water::BEGIN_S),
            time(cycle.period_s),
            tank.name,
            figures.length(*swing_m)
        )
    })
}

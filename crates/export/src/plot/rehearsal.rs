//! Levels against time, for one failure that was rehearsed.

mod columns;
mod curves;
mod events;
mod panels;

use units::System;
use water::{BEGIN_S, Figure, Outcome, Running, Stop};

use self::columns::Columns;
use super::measure::wrapped;
use super::paper::{Anchor, GREY, Paper, Text, stroke};
use super::words;

/// Width of the paper, mm: fits across a sheet of A4.
const WIDTH: f64 = 288.0;
/// Left and right end of the panels.
const PANELS: [f64; 2] = [27.0, 222.0];
/// White space around everything.
const MARGIN: f64 = 8.0;
/// Size of plain text.
const SIZE: f64 = 2.7;
/// From line to line.
const LEADING: f64 = 4.0;

/// What a failure does, as curves of all levels that move, with what happens when, as the text of one SVG
/// file. `running` is the system that it was played from.
pub fn rehearsal(outcome: &Outcome, running: &Running<'_>, units: System) -> String {
    let mut paper = Paper::default();
    let title = words::capital(&outcome.name);
    paper.text(&Text::new(&title, [MARGIN, 12.0], 5.0).bold());
    let mut y = 18.0;
    let sentence = format!("{}.", words::capital(&outcome.words.replace('`', "")));
    for line in wrapped(&sentence, 3.2, WIDTH - 2.0 * MARGIN) {
        paper.text(&Text::new(&line, [MARGIN, y], 3.2).colour(GREY));
        y += 4.6;
    }

    let chart = curves::chart(outcome, running, units);
    let entries = events::entries(outcome, running);
    let columns = Columns::new(outcome, &chart, &entries, PANELS);
    y += columns.headings(&mut paper, y);
    y = events::numbers(&mut paper, &columns, &entries, y);
    let spans = panels::spans(&chart, y);
    for (panel, span) in chart.panels.iter().zip(&spans) {
        panels::draw(&mut paper, &columns, panel, *span);
    }
    let bottom = spans.last().map_or(y, |span| span[1]);
    events::lines(&mut paper, &columns, &entries, [y, bottom]);
    y = columns.axes(&mut paper, bottom) + 7.0;
    y = events::list(&mut paper, &columns, &entries, y);
    y = remarks(&mut paper, outcome, running, units, &chart, y + 2.0);
    paper.finish([WIDTH, y + MARGIN - 3.0], &title, &outcome.words)
}

/// What it comes to, under the list.
fn remarks(
    paper: &mut Paper,
    outcome: &Outcome,
    running: &Running<'_>,
    units: System,
    chart: &curves::Chart,
    mut y: f64,
) -> f64 {
    let mut all = Vec::new();
    let floors =
        [("under the sump", outcome.spill.sump_l), ("under the display", outcome.spill.display_l)];
    for (place, litres) in floors {
        if litres.high >= 0.05 {
            all.push(format!("On the floor {place}: {}.", words::volume_with_band(litres, units)));
        }
    }
    if let Some(t) = outcome.draws_air_s {
        all.push(draws_air(t));
    }
    if outcome.stop != Stop::End {
        all.push(format!("The computation was given up {} after the failure: what would have followed is not known.", words::duration(outcome.end_s - BEGIN_S)));
    }
    if outcome.band_is_doubtful {
        all.push(
            "The band may be too narrow: a case that was computed as a check lay outside it."
                .to_owned(),
        );
    }
    if chart.has_whiskers {
        all.push(
            "Upright bars: how far a highest level may be off, because the formulas may be."
                .to_owned(),
        );
    }
    if !chart.at_rest.is_empty() {
        let limit = words::height(curves::MOVES_M, units);
        all.push(format!(
            "Not drawn, for it moves less than {limit}: {}.",
            chart.at_rest.join(", ")
        ));
    }
    if running.system.works.display.is_some() {
        all.push("Levels of display and overflow box are heights above the inside of the display's bottom, those of the sump above the inside of the sump's bottom.".to_owned());
    }
    paper.line([MARGIN, y - 3.0], [WIDTH - MARGIN, y - 3.0], &stroke("#c4cbd0", 0.2));
    y += 1.5;
    for line in all.iter().flat_map(|text| wrapped(text, SIZE, WIDTH - 2.0 * MARGIN)) {
        let text =
            Text { anchor: Anchor::Start, ..Text::new(&line, [MARGIN, y], SIZE).colour(GREY) };
        paper.text(&text);
        y += LEADING;
    }
    y
}

/// When a pump of the display first draws air, s after the failure; infinite where it does not.
fn draws_air(t: Figure) -> String {
    let [mid, low] = [t.mid, t.low].map(words::duration);
    if !t.mid.is_finite() {
        return format!(
            "At the unfavourable end of the band a pump draws air {low} after the failure."
        );
    }
    let high = if t.high.is_finite() { words::duration(t.high) } else { "not at all".to_owned() };
    let band = if low == high { String::new() } else { format!(" (from {low} to {high})") };
    format!("A pump of the display draws air {mid} after the failure{band}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_instant_is_told_with_its_band_in_full() {
        let t = Figure { mid: 509.0, low: 470.0, high: f64::INFINITY };
        let expected = "A pump of the display draws air 8 min 29 s after the failure \
                        (from 7 min 50 s to not at all).";
        assert_eq!(draws_air(t), expected);
        let never = draws_air(Figure { mid: f64::INFINITY, ..t });
        assert!(never.contains("unfavourable end of the band a pump draws air 7 min 50 s"));
    }
}

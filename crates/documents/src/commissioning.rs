//! The commissioning sheet: levels to see, doors against flow, marks and litres, valves, and what to do when.

mod doors;
mod first_run;
mod when;

use design::Design;
use paper::Block;
use params::File;
use study::told::figures::{Figures, UNKNOWN};
use study::told::{basins, choices, heights, plumbing, reserve};
use study::{InFlow, Wet};
use water::{DrainReport, Failure, Outcome};

use crate::alone;
use crate::prose::{Kind, caution, chapter, items, table, title, told_table, words};
use crate::safety;

/// The commissioning sheet. `wet` is what is known of the water, if anything is; `not_alone` names leaves that must not hold
/// water on one side alone.
pub fn commissioning(
    file: &File,
    design: &Design,
    wet: Option<&Wet<'_>>,
    not_alone: &[String],
) -> Vec<Block> {
    let mut blocks = vec![title(format!("Commissioning: {}", design.title))];
    let known = wet.map(|wet| &wet.known);
    match known.and_then(|known| Some((known, known.in_flow.as_ref()?))) {
        Some((known, in_flow)) => {
            blocks.push(words(format!(
                "What to set and what to see when the sump runs for the first time, as computed from the file. {}",
                heights::NOTE
            )));
            blocks.push(safety::estimates(busiest(in_flow).map(|drain| drain.name.as_str())));
            blocks.push(safety::mains());
            blocks.extend(levels(design, in_flow, &known.outcomes));
            blocks.extend(doors::blocks(design, in_flow));
            blocks.extend(valves(design, in_flow));
            blocks.extend(marks(file, design, wet, in_flow));
            blocks.extend(when::blocks(design, in_flow, &known.outcomes));
        }
        None => {
            blocks.push(words(
                "Levels and flows are not known: the file does not say enough, or a finding about the design fails. Fill \
                 what is seen into the tables by hand.",
            ));
            let reasons = wet.map_or(&[][..], |wet| &wet.findings);
            let reasons: Vec<String> = reasons
                .iter()
                .filter(|finding| finding.grade == findings::Grade::NotChecked)
                .map(|finding| match &finding.hint {
                    Some(hint) => format!("{}: {hint}", finding.message),
                    None => finding.message.clone(),
                })
                .collect();
            if !reasons.is_empty() {
                blocks.push(items(reasons));
            }
            blocks.push(safety::mains());
        }
    }
    let together = alone::together(not_alone);
    blocks.extend(together.map(|words| {
        let also = "That holds for the first filling, for water changes, and for a chamber that is emptied to be cleaned.";
        caution(&alone::heading(not_alone), [words, also.to_owned()])
    }));
    blocks.extend(first_run::blocks(design, known.and_then(|known| known.in_flow.as_ref())));
    blocks
}

/// The drain that carries most of the flow.
fn busiest<'a>(in_flow: &'a InFlow<'_>) -> Option<&'a DrainReport> {
    let running = in_flow.report.drains.iter().filter(|drain| drain.share > 0.0);
    running.max_by(|a, b| a.share.total_cmp(&b.share))
}

/// Levels to see, with room for those that are seen.
fn levels(design: &Design, in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> Vec<Block> {
    let figures = Figures(design.report);
    let report = &in_flow.report;
    let rows = report.basins.iter().filter(|basin| basin.is_chamber).map(|basin| {
        [
            basin.name.clone(),
            figures.length_band(basin.level_m),
            figures.length(basin.rest_m),
            after_power_cut_m(outcomes, basin.tank)
                .map_or(UNKNOWN.to_owned(), |m| figures.length(m)),
            figures.length(basin.rim_m - basin.level_m.high),
            String::new(),
        ]
    });
    let columns = [
        ("chamber", Kind::Name),
        ("running", Kind::Number),
        ("at rest, nothing flowing", Kind::Number),
        ("highest after a power cut", Kind::Number),
        ("to the rim, running", Kind::Number),
        ("seen", Kind::Words),
    ];
    let mut blocks = vec![chapter("Levels"), table(columns, rows)];
    blocks.push(words(
        "At rest is as filled, with nothing flowing, before a pump has run; after a power cut more comes down, and \
         the highest it reached in the rehearsal stands beside it, at the unfavourable end of its doubt. Write the levels that you see beside them. One that is off by more than its ± has a cause: a door that stands \
         otherwise, a pump that moves less, a leaf that is not down.",
    ));
    blocks.extend(told_table(&basins::socks(report, figures)));
    blocks
}

/// How high a tank came in the rehearsal of a power cut, at the unfavourable end of the band, m; `None` where that was not
/// played.
fn after_power_cut_m(outcomes: &[Outcome], tank: usize) -> Option<f64> {
    let outcome = outcomes.iter().find(|outcome| outcome.failure == Failure::PowerCut)?;
    let reach = outcome.reaches.iter().find(|reach| reach.tank == tank)?;
    Some(reach.highest_m.high)
}

/// Pumps, drains, and how their valves are set.
fn valves(design: &Design, in_flow: &InFlow<'_>) -> Vec<Block> {
    let figures = Figures(design.report);
    let tables = plumbing::tables(&in_flow.running.system, &in_flow.report, figures);
    let mut blocks = vec![chapter("Pumps and drains")];
    blocks.extend(tables.iter().flat_map(told_table));
    blocks
}

/// The level that is kept, the highest safe one, litres at the marks.
fn marks(file: &File, design: &Design, wet: Option<&Wet<'_>>, in_flow: &InFlow<'_>) -> Vec<Block> {
    let figures = Figures(design.report);
    let outcomes = wet.map_or(&[][..], |wet| &wet.known.outcomes);
    let mut blocks = vec![chapter("Marks, litres and safe levels")];
    let kept = &in_flow.report.reserve;
    let safe = match kept.highest_safe_m {
        Some(safe) if kept.kept_m <= safe => format!(
            "Keep the water of {} at {} while all runs. Never top up above {}: higher, a failure puts water too near to a rim \
             ({}).",
            kept.chamber,
            figures.length(kept.kept_m),
            figures.length(safe),
            kept.decided_by
        ),
        Some(safe) => format!(
            "The level that is kept in {}, {}, is above the highest safe one, {}. Lower it before the sump runs unwatched.",
            kept.chamber,
            figures.length(kept.kept_m),
            figures.length(safe)
        ),
        None => format!(
            "No level of {} is safe: {}. Do not run it unwatched.",
            kept.chamber, kept.decided_by
        ),
    };
    blocks.push(words(safe));
    if file.level_marks.iter().any(|marks| marks.chamber == kept.chamber) {
        blocks.push(words("The highest safe level is engraved on the scale of that chamber."));
    }
    let tables = reserve::tables(in_flow, outcomes, figures);
    blocks.extend(tables.iter().flat_map(told_table));
    blocks
}

/// The tables about doors that are told elsewhere too.
fn told_doors(in_flow: &InFlow<'_>, figures: Figures) -> Vec<Block> {
    let works = in_flow.running.system.works;
    choices::tables(&in_flow.report, works, figures).iter().flat_map(told_table).collect()
}

#[cfg(test)]
mod tests;

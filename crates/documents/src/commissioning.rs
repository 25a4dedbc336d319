//! The commissioning sheet: levels to see, doors against flow, marks and litres, valves, and what to do when.

mod doors;
mod when;

use design::Design;
use paper::Block;
use params::File;
use study::told::figures::Figures;
use study::told::{basins, choices, heights, plumbing, reserve};
use study::{InFlow, Wet};

use crate::prose::{Kind, boxes, chapter, items, part, table, title, told_table, words};
use crate::safety;

/// The commissioning sheet. `wet` is what is known of the water, if anything is.
pub fn commissioning(file: &File, design: &Design, wet: Option<&Wet<'_>>) -> Vec<Block> {
    let mut blocks = vec![title(format!("Commissioning: {}", design.title))];
    let known = wet.map(|wet| &wet.known);
    match known.and_then(|known| Some((known, known.in_flow.as_ref()?))) {
        Some((known, in_flow)) => {
            blocks.push(words(format!(
                "What to set and what to see when the sump runs for the first time, as computed from the file. {}",
                heights::NOTE
            )));
            blocks.push(safety::estimates());
            blocks.push(safety::mains());
            blocks.extend(levels(design, in_flow));
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
    blocks.extend(first_run(design));
    blocks
}

/// Levels to see, with room for those that are seen.
fn levels(design: &Design, in_flow: &InFlow<'_>) -> Vec<Block> {
    let figures = Figures(design.report);
    let report = &in_flow.report;
    let rows = report.basins.iter().filter(|basin| basin.is_chamber).map(|basin| {
        [
            basin.name.clone(),
            figures.length_band(basin.level_m),
            figures.length(basin.rest_m),
            figures.length(basin.rim_m - basin.level_m.high),
            String::new(),
        ]
    });
    let columns = [
        ("chamber", Kind::Name),
        ("running", Kind::Number),
        ("pumps off", Kind::Number),
        ("to the rim, running", Kind::Number),
        ("seen", Kind::Words),
    ];
    let mut blocks = vec![chapter("Levels"), table(columns, rows)];
    blocks.push(words(
        "Write the levels that you see beside them. One that is off by more than its ± has a cause: a door that stands \
         otherwise, a pump that moves less, a leaf that is not down.",
    ));
    blocks.extend(told_table(&basins::socks(report, figures)));
    blocks
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
    blocks.extend(reserve::tables(in_flow, outcomes, figures).iter().flat_map(told_table));
    blocks
}

/// What is done at the first run; common practice.
fn first_run(design: &Design) -> Vec<Block> {
    let works = &design.waterworks;
    let has_doors = design.pieces.iter().any(|piece| piece.role == design::Role::Door);
    let has_valve = works.drains.iter().any(|drain| drain.duty == params::DrainDuty::Main);
    let steps = [
        (
            true,
            "Sump level on its mat, leak test done, every fitting hand-tight with its gasket on the wet side.",
        ),
        (true, "Every cable hangs in a drip loop; RCD or GFCI tested by its button."),
        (true, "Filled to the level that is kept, pumps primed."),
        (has_valve, "Valve of the main drain open."),
        (
            true,
            "Pump on, one hand on the plug: the display rises, the drains start, the overflow box settles.",
        ),
        (
            has_valve,
            "Main drain's valve set as told above; looked at again after ten minutes and after a day.",
        ),
        (has_doors, "Doors set to their heights, knobs hand-tight, levels written down."),
        (
            true,
            "Plug pulled: water comes down, rises to its highest, and stays below every rim. Level marked with tape.",
        ),
        (true, "Plug in again: everything returns by itself, without air in the return."),
        (
            works.drains.len() > 1,
            "The first drain blocked by hand for a minute, while somebody stands at the plug: the next takes over, noisily.",
        ),
        (
            works.top_up.is_some(),
            "Float of the top-up lifted and lowered by hand: it stops and starts.",
        ),
        (true, "A day later: seams, fittings and floor dry, levels as written."),
    ];
    let all = steps.into_iter().filter(|(counts, _)| *counts).map(|(_, words)| words);
    vec![
        chapter("First run"),
        boxes(all),
        choices_note(),
        part("Signed"),
        words("Day: ____________   Name: ____________"),
    ]
}

fn choices_note() -> Block {
    words("Common practice; makers' instructions and local codes come before it.")
}

/// The tables about doors that are told elsewhere too.
fn told_doors(in_flow: &InFlow<'_>, figures: Figures) -> Vec<Block> {
    let works = in_flow.running.system.works;
    choices::tables(&in_flow.report, works, figures).iter().flat_map(told_table).collect()
}

#[cfg(test)]
mod tests;

//! What is done at the first run, to be ticked; common practice.

use design::{Design, Role, Waterworks};
use paper::Block;
use params::DrainDuty;
use study::InFlow;
use study::told::figures::Figures;
use water::DoorReport;

use crate::prose::{boxes, chapter, part, words};

/// Settings of a door this near are one, m: half of what is read from a ruler.
const SAME_M: f64 = 0.000_5;

pub(super) fn blocks(design: &Design, in_flow: Option<&InFlow<'_>>) -> Vec<Block> {
    let works = &design.waterworks;
    let has_doors = design.pieces.iter().any(|piece| piece.role == Role::Door);
    let mains: Vec<&str> = works
        .drains
        .iter()
        .filter(|drain| drain.duty == DrainDuty::Main)
        .map(|drain| drain.name.as_str())
        .collect();
    let has_valve = !mains.is_empty();
    let valves = fit::listed(&mains.iter().map(|name| format!("“{name}”")).collect::<Vec<_>>());
    let valves = if mains.len() > 1 {
        format!("Valves of the drains {valves}")
    } else {
        format!("Valve of the drain {valves}")
    };
    let open = format!("{valves} open.");
    let valves_set =
        format!("{valves} set as told above; looked at again after ten minutes and after a day.");
    let starts = format!(
        "Pump on, a dry hand at its plug and none in the water: the display rises{}{}.",
        if works.drains.is_empty() { "" } else { ", the drains start" },
        if works.display.as_ref().is_some_and(|display| display.box_mm2 > 0.0) {
            ", the overflow box settles"
        } else {
            ""
        }
    );
    let blocked = in_flow.and_then(super::busiest).map_or_else(String::new, |drain| {
        format!(
            "The drain “{}” blocked for a minute, by its valve or by a plug on a stick, no hand in the water, while somebody \
             stands at the pump's plug: {}, noisily, and the display stays below its rim.",
            drain.name,
            takes_over(works, &drain.name)
        )
    });
    let figures = Figures(design.report);
    let doors = match in_flow.map(|in_flow| in_flow.report.doors.as_slice()) {
        Some(doors @ [_, ..]) => set(doors, figures),
        _ => "Doors set to their heights in the file (`set`), knobs hand-tight.".to_owned(),
    };
    let steps = [
        (
            true,
            "Sump level on its mat, leak test done, every fitting hand-tight with its gasket on the wet side.",
        ),
        (true, "Every cable hangs in a drip loop; RCD or GFCI tested by its button."),
        (true, "Filled to the level that is kept, pumps primed."),
        (has_valve, open.as_str()),
        (has_doors, &doors),
        (true, starts.as_str()),
        (has_valve && in_flow.is_some(), valves_set.as_str()),
        (true, "Levels written down."),
        (
            true,
            "Plug pulled: water comes down, rises to its highest, and stays below every rim. Level marked with tape.",
        ),
        (true, "Plug in again: everything returns by itself, without air in the return."),
        (works.drains.len() > 1 && !blocked.is_empty(), blocked.as_str()),
        (
            works.top_up.is_some(),
            "Float of the top-up lifted and lowered by a dry stick, no hand in the water: it stops and starts.",
        ),
        (true, "A day later: seams, fittings and floor dry, levels as written."),
    ];
    let all = steps.into_iter().filter(|(counts, _)| *counts).map(|(_, words)| words);
    vec![
        chapter("First run"),
        boxes(all),
        words("Common practice; makers' instructions and local codes come before it."),
        part("Signed"),
        words("Day: ____________   Name: ____________"),
    ]
}

/// Who carries the flow when a drain is blocked.
fn takes_over(works: &Waterworks, blocked: &str) -> String {
    let others: Vec<&str> = works
        .drains
        .iter()
        .filter(|drain| drain.name != blocked)
        .map(|drain| drain.name.as_str())
        .collect();
    match others[..] {
        [one] => format!("the drain “{one}” takes over"),
        _ => "the others take over".to_owned(),
    }
}

/// Which height is set: that of the file. A level that is wanted besides may need another.
pub(super) fn set(doors: &[DoorReport], figures: Figures) -> String {
    let each = doors.iter().map(|door| {
        let as_set = door.settings_m[1];
        let other = door.wish.as_ref().and_then(|wish| Some((wish, wish.setting_m?)));
        let other = other.filter(|(_, setting_m)| (setting_m - as_set).abs() > SAME_M);
        let other = other.map_or(String::new(), |(wish, setting_m)| {
            format!(
                " (the levels above are for this; the wanted {} in {} needs {} instead)",
                figures.length(wish.level_m),
                door.chamber,
                figures.length(setting_m)
            )
        });
        format!("door of {} at {}{other}", door.leaf, figures.length(as_set))
    });
    format!(
        "Doors set as in the file, upper edge above the floor of the sump: {}. Knobs hand-tight.",
        each.collect::<Vec<_>>().join("; ")
    )
}

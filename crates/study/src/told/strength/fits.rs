//! The table of fits under their tolerances.

use design::Design;
use strength::{Part, Stack};

use super::shown::Shown;
use crate::told::figures::NONE;
use crate::told::table::Table;

/// Rounding, mm.
const SAME_MM: f64 = 1e-9;

/// All of them.
pub(super) fn table(stacks: &[Stack], design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Fits under their tolerances",
        ["fit", "as drawn", "likely", "at worst", "works from", "outcome", "made of"],
    );
    let row = |stack: &Stack| {
        vec![
            stack.words.clone(),
            shown.bend(stack.nominal_mm),
            shown.range(stack.likely_mm),
            shown.range(stack.worst_mm),
            match stack.most_mm {
                Some(most) => shown.range([stack.least_mm, most]),
                None => shown.bend(stack.least_mm),
            },
            outcome(stack).to_owned(),
            made_of(&stack.parts, shown),
        ]
    };
    table.rows = stacks.iter().map(row).collect();
    table.notes = vec![
        "Gaps and laps while sheet, cuts, places, water and warmth vary within what `tolerance` says. At worst: everything \
         at its bad end at once. Likely: independent causes added by their squares, and in full what comes with water and years: swelling, \
         lasting bends."
            .to_owned(),
    ];
    table
}

fn outcome(stack: &Stack) -> &'static str {
    match stack.margins_mm() {
        [worst, _] if worst >= -SAME_MM => "holds",
        [_, likely] if likely >= -SAME_MM => "likely holds",
        _ => "may not hold",
    }
}

/// `thickness of the sheet −0.3 to +0 mm; …`.
fn made_of(parts: &[Part], shown: Shown) -> String {
    let signed = |mm: f64| {
        let told = shown.bend(mm);
        let number = told.split(' ').next().unwrap_or_default().replace('-', "−");
        if mm > 0.0 && number != "0" { format!("+{number}") } else { number }
    };
    let share = |part: &Part| {
        let unit = shown.bend(0.0);
        let unit = unit.split(' ').next_back().unwrap_or_default().to_owned();
        let [low, high] = part.mm.map(signed);
        format!("{} {low} to {high} {unit}", part.words)
    };
    let told: Vec<String> = parts.iter().map(share).collect();
    if told.is_empty() { NONE.to_owned() } else { told.join("; ") }
}

//! What the shop is asked to do: the process of each sheet, what the lines are, the protective film.

use std::collections::BTreeSet;

use design::Design;
use params::{DrawnPath, File, Holding, Process};
use units::Length;

/// A line for each.
pub(super) fn list(file: &File, design: &Design) -> Vec<String> {
    let groups = groups(file, design);
    let mut all: Vec<String> = Vec::new();
    for (process, sheets) in &groups {
        let which = match groups.len() {
            1 => String::new(),
            _ => format!(" for sheet{} {}", plural(sheets), sheets.join(", ")),
        };
        all.push(asked(file, design, *process, &which));
    }
    let are_paths = groups.iter().any(|(process, _)| *process != Process::Saw);
    match file.cutting.draw {
        // Said with the process.
        DrawnPath::Tool if are_paths => {}
        DrawnPath::Tool => all.push(
            "The lines of whole sheets are the path of the tool's middle: do not offset them."
                .to_owned(),
        ),
        DrawnPath::Part => all.push(
            "The lines are the edges of the parts: please reckon with your own tool.".to_owned(),
        ),
    }
    let materials = design.sheets.values().map(|sheet| sheet.material);
    let cautions: BTreeSet<&str> = materials.filter_map(study::laser_caution).collect();
    all.extend(cautions.into_iter().map(str::to_owned));
    let lasered = groups.iter().find(|(process, _)| *process == Process::Laser);
    all.push(match lasered {
        None => "Protective film stays on both faces, before and after cutting.".to_owned(),
        Some(_) if groups.len() == 1 => {
            "Protective film stays on both faces until annealing.".to_owned()
        }
        Some((_, sheets)) => format!(
            "Protective film stays on both faces; on what is cut by laser ({}) until annealing.",
            sheets.join(", ")
        ),
    });
    all
}

/// The processes, each with the sheets that are cut by it, of those that parts are cut from.
pub(super) fn groups<'a>(file: &File, design: &'a Design) -> Vec<(Process, Vec<&'a str>)> {
    let is_used = |sheet: &&design::Sheet| {
        let of_it = |piece: &design::Piece| {
            piece.role.is_sheet() && piece.sheet.as_deref() == Some(&sheet.name)
        };
        design.pieces.iter().any(of_it)
    };
    let mut groups: Vec<(Process, Vec<&str>)> = Vec::new();
    for sheet in design.sheets.values().filter(is_used) {
        let process = file.cutting_of(Some(&sheet.name)).process;
        match groups.iter_mut().find(|(known, _)| *known == process) {
            Some((_, sheets)) => sheets.push(&sheet.name),
            None => groups.push((process, vec![&sheet.name])),
        }
    }
    // That of most sheets first; it is the one that the file says for all.
    groups.sort_by_key(|(process, _)| *process != file.cutting.process);
    groups
}

fn plural(sheets: &[&str]) -> &'static str {
    if sheets.len() == 1 { "" } else { "s" }
}

/// What is asked of one process. `which`: for which sheets, with a space before; empty for all.
fn asked(file: &File, design: &Design, process: Process, which: &str) -> String {
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let cutting = file.cutting.by(process);
    let width = fine(cutting.cut_width().to_mm());
    let is_path = cutting.draw == DrawnPath::Tool;
    match process {
        Process::Router => {
            let held = match cutting.holding {
                Holding::Vacuum => "held by vacuum",
                Holding::Tabs => "held by tabs, which I trim",
            };
            if is_path {
                // Paths of another cutter, or run the other way round, are not those that were checked.
                format!(
                    "Process{which}: router, {held}, with a cutter of exactly {width}, measured: paths are for this diameter and \
                     direction; do not offset them. No melted edges."
                )
            } else {
                format!(
                    "Process{which}: router, cutter of {width} at most, {held}. Climb or conventional as you find cleaner; no melted \
                     edges."
                )
            }
        }
        Process::Laser => {
            let kerf = if is_path {
                format!(" Paths are for a kerf of exactly {width}; do not offset them.")
            } else {
                String::new()
            };
            format!(
                "Process{which}: laser, acrylic only.{kerf} Parts must be annealed, with the protective film off, before gluing: \
                 please say who does it."
            )
        }
        Process::Saw => format!("Process{which}: panel saw, straight cuts only."),
    }
}

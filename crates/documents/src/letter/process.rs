//! What the shop is asked to do: the process, what the lines are, the protective film.

use std::collections::BTreeSet;

use design::Design;
use params::{DrawnPath, File, Holding, Process};
use units::Length;

/// A line for each.
pub(super) fn list(file: &File, design: &Design) -> Vec<String> {
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let cutting = &file.cutting;
    let mut all = Vec::new();
    all.push(match cutting.process {
        Process::Router => {
            let held = match cutting.holding {
                Holding::Vacuum => "held by vacuum",
                Holding::Tabs => "held by tabs, which I trim",
            };
            format!(
                "Process: router, cutter of {} at most, {held}. Climb or conventional as you find cleaner; no melted edges.",
                fine(cutting.tool.to_mm())
            )
        }
        Process::Laser => {
            "Process: laser, acrylic only. Before gluing the parts must be annealed, with the protective film off: please say \
             in your offer whether you do it or I."
                .to_owned()
        }
        Process::Saw => "Process: panel saw, straight cuts only.".to_owned(),
    });
    let own = file.sheet.iter().filter_map(|(name, sheet)| {
        let words = match sheet.process? {
            Process::Router => "by router",
            Process::Laser => "by laser",
            Process::Saw => "on a panel saw",
        };
        Some(format!("Sheet {name} is cut {words}."))
    });
    all.extend(own);
    all.push(match cutting.draw {
        DrawnPath::Part => {
            "The lines are the edges of the parts: please reckon with your own tool.".to_owned()
        }
        DrawnPath::Tool => {
            "The lines are the path of the tool's middle: please do not offset them again."
                .to_owned()
        }
    });
    let materials = design.sheets.values().map(|sheet| sheet.material);
    let cautions: BTreeSet<&str> = materials.filter_map(study::laser_caution).collect();
    all.extend(cautions.into_iter().map(str::to_owned));
    all.push(match cutting.process {
        Process::Laser => "Protective film stays on both faces until annealing.".to_owned(),
        _ => "Protective film stays on both faces, before and after cutting.".to_owned(),
    });
    all
}

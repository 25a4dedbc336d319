//! In which order a sump is glued.

use design::{Design, PlacedId};
use shop::glue_up::{GlueUp, Step, StepPlace};
use units::{Length, System};

use super::figures::NONE;
use super::table::Table;

/// The steps, a line each; the guide has them in full with pictures.
pub fn table(design: &Design, glue_up: &GlueUp) -> Table {
    let mut table =
        Table::new("Order of gluing", ["step", "where", "new", "glued to", "seam", "positions"]);
    let rows = glue_up.steps.iter().enumerate();
    table.rows = rows.map(|(k, step)| row(design, k + 1, step)).collect();
    table.notes.push(
        "\"Positions\" is in how many ways it is laid so that each new joint is level while it is fed.".to_owned(),
    );
    table
}

fn row(design: &Design, number: usize, step: &Step) -> Vec<String> {
    let name = |id: PlacedId| design.placed[id].name.clone();
    let joints: Vec<usize> = step.joints().collect();
    let others = joints.iter().flat_map(|joint| {
        let joint = &design.joints[*joint];
        [joint.a, joint.b].into_iter().filter(|id| step.standing.contains(id))
    });
    let mut to: Vec<String> = others.map(name).collect();
    to.sort();
    to.dedup();
    let seam_mm: f64 = joints.iter().map(|joint| design.joints[*joint].length_mm).sum();
    let new: Vec<String> = step.parts.iter().map(|id| name(*id)).collect();
    vec![
        number.to_string(),
        match step.place {
            StepPlace::Bench => "on the bench",
            StepPlace::Box => "in the box",
        }
        .to_owned(),
        new.join(", "),
        if to.is_empty() { NONE.to_owned() } else { to.join(", ") },
        seam(seam_mm, design.report),
        step.feeds.len().to_string(),
    ]
}

/// The length of a seam: `1.96 m`, `77.2 in`.
fn seam(mm: f64, system: System) -> String {
    match system {
        System::Metric => format!("{:.2} m", Length::mm(mm).to_m()),
        System::UsCustomary => Length::mm((mm / 2.54).round() * 2.54).show(system),
    }
}

//! A design as pictures show it: with the water where it stands in flow.

use design::{Design, WaterBody};
use water::Report;

use crate::told::figures::Figures;
use crate::told::reasons;

/// The design with the computed levels in place of those at rest, as finely as tables tell them: no more is
/// known. Water in socks and on lids is not shown.
pub(crate) fn with_levels(design: &Design, report: &Report) -> Design {
    let mut shown = design.clone();
    let figures = Figures(design.report);
    let mm = |basin: &water::BasinReport| {
        figures.rounded_mm(basin.level_m.mid.min(basin.rim_m)).max(0.0)
    };
    for chamber in &mut shown.chambers {
        let basin = report.basins.iter().enumerate().find(|(_, basin)| basin.name == chamber.name);
        if let Some((i, basin)) = basin {
            chamber.level_mm = mm(basin);
            chamber.level_reason = reasons::of(report, i, design.report);
        }
    }
    let z = design.floor_z;
    let pairs = design.waterworks.basins.iter().zip(&report.basins);
    shown.waters = pairs
        .map(|(place, basin)| WaterBody {
            name: place.name.clone(),
            min: place.min.extend(z),
            max: place.max.extend(z + mm(basin)),
        })
        .filter(|water| water.max.z > water.min.z)
        .collect();
    shown
}

//! What decides the level of a chamber in flow, in words.

use units::System;
use water::Report;

use super::figures::Figures;

/// Why the water of the basin of this index stands where it does.
pub(crate) fn of(report: &Report, basin: usize, system: System) -> String {
    let figures = Figures(system);
    if basin == report.reserve.basin {
        return if report.reserve.kept_is_assumed {
            "assumed to be kept: the file gives no level".to_owned()
        } else {
            "the level that is kept".to_owned()
        };
    }
    let tank = report.basins[basin].tank;
    let leaving = report.ways.iter().filter(|way| {
        let [up, down] = way.between;
        (up == tank && way.flow_m3_s > 0.0) || (down == tank && way.flow_m3_s < 0.0)
    });
    let most = leaving.max_by(|a, b| a.flow_m3_s.abs().total_cmp(&b.flow_m3_s.abs()));
    match most {
        Some(way) => format!(
            "{} pass {}, {} over its lower edge",
            figures.flow(way.flow_m3_s.abs()),
            way.name,
            figures.length(report.basins[basin].level_m.mid - way.sill_m)
        ),
        None => "nothing flows out of it".to_owned(),
    }
}

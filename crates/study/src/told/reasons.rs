//! What decides the level of a chamber in flow, in words.

use design::WayKind;
use units::System;
use water::Report;

use super::figures::Figures;

/// Why the water of the basin of this index stands where it does.
pub fn of(report: &Report, basin: usize, system: System) -> String {
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
    let Some(way) = most else { return "nothing flows out of it".to_owned() };
    let (flow, name) = (figures.flow(way.flow_m3_s.abs()), &way.name);
    let level_m = report.basins[basin].level_m.mid;
    let [up, down] = way.between;
    let other = report.basins.iter().find(|b| b.tank == if up == tank { down } else { up });
    match other.filter(|_| way.is_drowned) {
        Some(other) => format!(
            "{} more than in {}, to pass {flow} by {name}",
            figures.length(level_m - other.level_m.mid),
            other.name
        ),
        None => {
            let edge = match way.kind {
                WayKind::Crest | WayKind::Door => "",
                _ => "the lower edge of ",
            };
            let head = figures.length(level_m - way.sill_m);
            format!("{head} above {edge}{name}, to pass {flow}")
        }
    }
}

//! Chambers, the spaces between leaves, and socks.

use water::{BasinReport, Report, SockReport};

use super::figures::{Figures, NONE, time};
use super::heights;
use super::table::Table;

/// Said where no band could be computed: the doubt is then not small but unknown.
pub const BAND_UNKNOWN: &str = "At some end of the coefficients' doubt nothing could be computed: where no ± \
    stands the doubt is not known.";

/// Every chamber and space between leaves.
pub fn table(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Chambers",
        ["chamber", "level", "at rest", "to the rim", "water", "passes", "stays"],
    );
    let row = |basin: &BasinReport| {
        vec![
            basin.name.clone(),
            figures.length_band(basin.level_m),
            figures.length(basin.rest_m),
            figures.length(basin.rim_m - basin.level_m.high),
            figures.volume(basin.volume_m3),
            figures.flow(basin.through_m3_s),
            if basin.through_m3_s > 0.0 { time(basin.residence_s) } else { NONE.to_owned() },
        ]
    };
    table.rows = report.basins.iter().map(row).collect();
    table.notes.push(heights::NOTE.to_owned());
    table.notes.push(
        "± is what the coefficients leave in doubt. \"To the rim\" is \
         from the upper end of that band, \"at rest\" is with nothing flowing, \"stays\" is how long water stays \
         in the mean."
            .to_owned(),
    );
    for basin in &report.basins {
        if let Some(down) = basin.down_flow {
            let bubbles = match down.smallest_rising_m {
                Some(m) => format!("bubbles of {} and more rise against it", figures.bubble(m)),
                None => "no bubble rises against it".to_owned(),
            };
            let speed = figures.speed(down.speed_m_s);
            table.notes.push(format!("{}: the water goes down at {speed}; {bubbles}.", basin.name));
        }
    }
    if !report.band_is_known {
        table.notes.push(BAND_UNKNOWN.to_owned());
    }
    if report.band_is_doubtful {
        table.notes.push(
            "A combination of coefficients tried as a check lay outside a band, which was widened by it: the bands \
             may be wider still."
                .to_owned(),
        );
    }
    table
}

/// Socks: clean, half clogged, clogged.
pub fn socks(report: &Report, figures: Figures) -> Table {
    let mut table =
        Table::new("Socks", ["chamber", "clean", "half clogged", "clogged", "shelf at"]);
    let row = |sock: &SockReport| {
        vec![
            sock.chamber.clone(),
            figures.length_band(sock.clean_m),
            figures.length(sock.half_m),
            figures.length(sock.clogged_m),
            figures.length(sock.shelf_m),
        ]
    };
    table.rows = report.socks.iter().map(row).collect();
    table
        .notes
        .push("Level of the water in the socks; above the shelf it takes the bypass.".to_owned());
    if report.socks.iter().any(|sock| sock.is_assumed) {
        table.notes.push(
            "What a clean sock passes is an assumption: measure it and give `passes` of the sock."
                .to_owned(),
        );
    }
    table
}

//! What holds water, as tanks.

use design::{Basin, Shelf, Waterworks};

use super::Tanks;
use crate::network::{Step, Tank};

/// At least this share of a chamber's area is left to the water, however much stands in it: nothing
/// fills a chamber to the last corner, and a tank needs an area.
const LEAST_FREE_SHARE: f64 = 0.02;
/// The reservoir of the top-up is reckoned this high; only its volume counts.
const RESERVOIR_HEIGHT_M: f64 = 0.3;

const M2_PER_MM2: f64 = 1e-6;
pub(super) const M_PER_MM: f64 = 1e-3;

/// All tanks: basins, what is over shelves and lids, the display with its box, the reservoir, and what
/// takes up what is lost.
pub(super) fn build(
    works: &Waterworks,
    display: &design::Display,
    returning: usize,
) -> (Vec<Tank>, Tanks) {
    let mut tanks: Vec<Tank> =
        works.basins.iter().enumerate().map(|(i, b)| basin(works, i, b)).collect();
    let mut add = |tank: Tank| {
        tanks.push(tank);
        tanks.len() - 1
    };
    let ids = Tanks {
        basins: works.basins.len(),
        shelves: works.shelves.iter().map(|s| add(over_shelf(works, s))).collect(),
        covers: works
            .covers
            .iter()
            .map(|c| {
                let name = format!("lid of {}", works.basins[c.basin].name);
                add(Tank::prism(name, c.top_mm * M_PER_MM, c.area_mm2 * M2_PER_MM2))
            })
            .collect(),
        display: add(self::display(works, display)),
        weir_box: add(Tank::prism(
            "overflow box",
            display.box_floor_mm * M_PER_MM,
            display.box_mm2 * M2_PER_MM2,
        )),
        reservoir: works.top_up.as_ref().map(|top_up| {
            let area_m2 = top_up.reservoir_l * 1e-3 / RESERVOIR_HEIGHT_M;
            add(Tank::prism("reservoir", 0.0, area_m2))
        }),
        sump_floor: add(Tank::sink("floor under the sump")),
        display_floor: add(Tank::sink("floor under the display")),
        air: add(Tank::sink("air")),
        returning,
    };
    (tanks, ids)
}

/// Level of the full reservoir, m.
pub(crate) const fn full_reservoir_m() -> f64 {
    RESERVOIR_HEIGHT_M
}

/// Rock and sand lie below the water that runs back: above the height at which the lines let air in the
/// display holds its whole area. That is the safe side for the sump, to which all of it comes down.
fn display(works: &Waterworks, display: &design::Display) -> Tank {
    let surface_m2 = display.surface_mm2 * M2_PER_MM2;
    let floor_m = display.floor_mm * M_PER_MM;
    let lines = works.lines.iter().filter(|line| line.to.is_none());
    let lowest_mm = lines.map(|l| l.mouth_mm).fold(display.crest_mm, f64::min);
    let above_m = (lowest_mm * M_PER_MM).max(floor_m + LEAST_DEPTH_M);
    let taken_m2 = display.displaced_l * 1e-3 / (above_m - floor_m);
    let below_m2 = (surface_m2 - taken_m2).max(LEAST_FREE_SHARE * surface_m2);
    let steps =
        vec![Step { z_m: floor_m, area_m2: below_m2 }, Step { z_m: above_m, area_m2: surface_m2 }];
    Tank { name: "display".to_owned(), steps, is_sink: false }
}

/// Rock is taken to lie in at least so much of the display's height, m.
const LEAST_DEPTH_M: f64 = 0.01;

/// A basin: its floor less what stands in it, height by height. Where socks hang, their water is another
/// tank's, and over a shelf only the bypass is the basin's.
fn basin(works: &Waterworks, index: usize, basin: &Basin) -> Tank {
    let shelf = works.shelves.iter().find(|s| s.basin == index);
    let mut heights = vec![0.0];
    heights.extend(basin.bodies.iter().flat_map(|body| body.z_mm));
    heights.extend(shelf.iter().flat_map(|s| [s.sock_end_mm, s.top_mm]));
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let area_mm2 = |z_mm: f64| {
        let is_at = |[lo, hi]: [f64; 2]| lo <= z_mm && z_mm < hi;
        let bodies: f64 = basin.bodies.iter().filter(|b| is_at(b.z_mm)).map(|b| b.area_mm2).sum();
        let whole = match shelf {
            Some(s) if z_mm >= s.top_mm => {
                return bypass_mm2(s).max(LEAST_FREE_SHARE * basin.area_mm2());
            }
            Some(s) if z_mm >= s.sock_end_mm => basin.area_mm2() - socks_mm2(s),
            _ => basin.area_mm2(),
        };
        (whole - bodies).max(LEAST_FREE_SHARE * basin.area_mm2())
    };
    let steps = heights
        .into_iter()
        .filter(|&z| z >= 0.0)
        .map(|z| Step { z_m: z * M_PER_MM, area_m2: area_mm2(z) * M2_PER_MM2 })
        .collect();
    Tank { name: basin.name.clone(), steps, is_sink: false }
}

/// In the socks, and above them on the shelf.
fn over_shelf(works: &Waterworks, shelf: &Shelf) -> Tank {
    let name = format!("socks of {}", works.basins[shelf.basin].name);
    let above_mm2 = (shelf.area_mm2 - bypass_mm2(shelf)).max(socks_mm2(shelf));
    let steps = vec![
        Step { z_m: shelf.sock_end_mm * M_PER_MM, area_m2: socks_mm2(shelf) * M2_PER_MM2 },
        Step { z_m: shelf.top_mm * M_PER_MM, area_m2: above_mm2 * M2_PER_MM2 },
    ];
    Tank { name, steps, is_sink: false }
}

/// Plan area of a shelf's socks.
fn socks_mm2(shelf: &Shelf) -> f64 {
    f64::from(shelf.socks) * 0.25 * std::f64::consts::PI * shelf.diameter_mm.powi(2)
}

fn bypass_mm2(shelf: &Shelf) -> f64 {
    shelf.bypass_mm[0] * shelf.bypass_mm[1]
}

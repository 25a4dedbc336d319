//! Which levels move, and in which panel they are drawn.

use units::System;
use water::{BEGIN_S, Outcome, Running};

use super::super::words::{self, Unit};

/// What moves less than this in a whole rehearsal is not drawn, m.
pub(super) const MOVES_M: f64 = 1e-3;
/// Bands that are less high than this are not drawn, m.
const LEAST_BAND_M: f64 = 1e-3;
/// A level that is so near to its highest counts as there, m.
const NEAR_M: f64 = 5e-4;
/// Water on a floor that is less than this is not drawn, m³.
const LEAST_SPILL_M3: f64 = 5e-5;

/// Our own colours, dark enough on white (each has a contrast of at least 4.5 by WCAG 2.1, 1.4.3), each with
/// a dash of its own for prints in grey.
const PENS: [(&str, &str); 8] = [
    ("#0b5c8a", ""),
    ("#b3372b", "3 0.9"),
    ("#2f6f3a", "1.1 0.8"),
    ("#7a3e9d", "4 0.8 0.9 0.8"),
    ("#8a5a00", "2 0.7"),
    ("#00707a", "5 1"),
    ("#5d4037", "3 0.7 0.7 0.7 0.7 0.7"),
    ("#3c464d", "0.7 0.7"),
];

/// A curve in the unit of its panel.
pub(super) struct Curve {
    pub(super) tank: usize,
    pub(super) name: String,
    pub(super) colour: &'static str,
    pub(super) dash: &'static str,
    /// Seconds after the failure, and value.
    pub(super) points: Vec<[f64; 2]>,
    /// When the highest value was reached, and within what it may lie.
    pub(super) whisker: Option<(f64, [f64; 2])>,
}

impl Curve {
    pub(super) fn last(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p[1])
    }

    pub(super) fn range(&self) -> [f64; 2] {
        let values = self.points.iter().map(|p| p[1]).chain(self.whisker.iter().flat_map(|w| w.1));
        values.fold([f64::INFINITY, f64::NEG_INFINITY], |[lo, hi], v| [lo.min(v), hi.max(v)])
    }

    /// How much it moves to and fro between two instants.
    pub(super) fn travel(&self, from_s: f64, to_s: f64) -> f64 {
        let pairs = self.points.windows(2).filter(|w| from_s <= w[0][0] && w[1][0] <= to_s);
        pairs.map(|w| (w[1][1] - w[0][1]).abs()).sum()
    }
}

/// Curves above one axis.
pub(super) struct Panel {
    pub(super) title: &'static str,
    /// What its axis counts, in words.
    pub(super) axis: String,
    pub(super) unit: Unit,
    pub(super) curves: Vec<Curve>,
    /// Heights that count, with their names.
    pub(super) rims: Vec<(String, f64)>,
    /// Height of the panel on paper, mm.
    pub(super) height: f64,
    /// Whether the axis begins at nothing.
    pub(super) has_zero: bool,
}

/// All panels from top to bottom.
pub(super) struct Chart {
    pub(super) panels: Vec<Panel>,
    /// What is not drawn.
    pub(super) at_rest: Vec<String>,
    pub(super) has_whiskers: bool,
}

/// Colour and dash of a panel's curve; the second time around colours come with other dashes.
fn pen(index: usize) -> (&'static str, &'static str) {
    let round = index / PENS.len();
    (PENS[index % PENS.len()].0, PENS[(index + 3 * round) % PENS.len()].1)
}

/// Everything that is drawn of an outcome.
pub(super) fn chart(outcome: &Outcome, running: &Running<'_>, units: System) -> Chart {
    let system = &running.system;
    let t = &system.tanks;
    let name = |tank: usize| system.network.tanks[tank].name.clone();
    let unit = words::height_unit(units);
    let (floor_m, rim_m) =
        system.works.display.as_ref().map_or((0.0, 0.0), |d| (d.floor_mm * 1e-3, d.rim_mm * 1e-3));
    let mut at_rest = Vec::new();
    let mut levels = |(title, axis): (&'static str, &str),
                      tanks: &[usize],
                      zero_m: f64,
                      rims: &[(String, f64)],
                      height: f64| {
        let mut curves = Vec::new();
        for &tank in tanks {
            let moves = outcome.samples.iter().map(|s| s.levels_m[tank]);
            let [lo, hi] =
                moves.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| [a.min(v), b.max(v)]);
            if hi - lo < MOVES_M {
                at_rest.push(name(tank));
                continue;
            }
            let (colour, dash) = pen(curves.len());
            let shown = |m: f64| (m - zero_m) * unit.per_si;
            let points = outcome.samples.iter().map(|s| [s.t_s - BEGIN_S, shown(s.levels_m[tank])]);
            let begin_m = outcome.samples.first().map_or(0.0, |s| s.levels_m[tank]);
            let reach = outcome.reaches.iter().find(|r| r.tank == tank);
            let whisker = reach.and_then(|r| {
                let h = r.highest_m;
                let is_shown = h.high - h.low > LEAST_BAND_M && h.mid - begin_m > MOVES_M;
                // A level that creeps up to its highest is there long before.
                let near = outcome.samples.iter().find(|s| s.levels_m[tank] > h.mid - NEAR_M);
                let t_s = near.map_or(r.highest_at_s, |s| s.t_s.min(r.highest_at_s)) - BEGIN_S;
                is_shown.then(|| (t_s, [shown(h.low), shown(h.high)]))
            });
            curves.push(Curve {
                tank,
                name: name(tank),
                colour,
                dash,
                points: points.collect(),
                whisker,
            });
        }
        let rims = rims.iter().map(|(n, m)| (n.clone(), (m - zero_m) * unit.per_si)).collect();
        let axis = format!("{}{axis}", unit.name);
        Panel { title, axis, unit, curves, rims, height, has_zero: false }
    };
    let basins: Vec<usize> =
        (0..t.basins).chain(t.shelves.iter().copied()).chain(t.covers.iter().copied()).collect();
    let mut rims: Vec<(String, f64)> = Vec::new();
    for (tank, height_m) in system.rims() {
        let is_sump = tank < t.basins || t.shelves.contains(&tank);
        if is_sump && !rims.iter().any(|(_, m)| (m - height_m).abs() < MOVES_M) {
            rims.push(("rim of the sump".to_owned(), height_m));
        }
    }
    let panels = vec![
        levels(
            ("Display", " above bottom"),
            &[t.display],
            floor_m,
            &[("rim of the display".to_owned(), rim_m)],
            30.0,
        ),
        levels(("Overflow box", ", as display"), &[t.weir_box], floor_m, &[], 30.0),
        levels(("Sump", " above its bottom"), &basins, 0.0, &rims, 78.0),
        volumes(outcome, running, units),
    ];
    let panels: Vec<Panel> = panels.into_iter().filter(|p| !p.curves.is_empty()).collect();
    let has_whiskers = panels.iter().flat_map(|p| &p.curves).any(|c| c.whisker.is_some());
    Chart { panels, at_rest, has_whiskers }
}

/// What is told as a volume: the reservoir, and water on the floor.
fn volumes(outcome: &Outcome, running: &Running<'_>, units: System) -> Panel {
    let system = &running.system;
    let t = &system.tanks;
    let unit = words::volume_unit(units);
    let floors = [t.sump_floor, t.display_floor];
    let all = t.reservoir.iter().chain(&floors);
    let mut curves = Vec::new();
    for (k, &tank) in all.enumerate() {
        let volume_m3 = |level_m: f64| system.network.tanks[tank].volume(level_m).0;
        let begin_m3 = outcome.samples.first().map_or(0.0, |s| volume_m3(s.levels_m[tank]));
        let zero_m3 = if floors.contains(&tank) { begin_m3 } else { 0.0 };
        let points = outcome.samples.iter();
        let points: Vec<[f64; 2]> = points
            .map(|s| [s.t_s - BEGIN_S, (volume_m3(s.levels_m[tank]) - zero_m3) * unit.per_si])
            .collect();
        let moves =
            points.iter().any(|p| (p[1] - points[0][1]).abs() > LEAST_SPILL_M3 * unit.per_si);
        let (colour, dash) = PENS[(PENS.len() - 1 - k) % PENS.len()];
        if moves {
            let name = if t.reservoir == Some(tank) {
                "reservoir of the top-up".to_owned()
            } else {
                system.network.tanks[tank].name.clone()
            };
            curves.push(Curve { tank, name, colour, dash, points, whisker: None });
        }
    }
    let title = if t.reservoir.is_some_and(|r| curves.iter().any(|c| c.tank == r)) {
        if curves.len() > 1 { "Reservoir, floor" } else { "Reservoir" }
    } else {
        "On the floor"
    };
    let axis = unit.name.to_owned();
    Panel { title, axis, unit, curves, rims: Vec::new(), height: 30.0, has_zero: true }
}

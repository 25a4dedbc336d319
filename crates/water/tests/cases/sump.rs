//! A display with its overflow box over a sump of five chambers, a reservoir, the floor and the air: ten
//! tanks, nineteen elements. Measures are our own; the order of magnitude of each flow is usual.

use std::sync::Arc;

use water::law::{Gate, Strip, Strips};
use water::{Element, Kind, Law, Network, PumpTable, Step, Table, Tank};

pub(crate) const DISPLAY: usize = 0;
pub(crate) const BOX: usize = 1;
pub(crate) const RETURN: usize = 6;
/// Against the flow, from the chamber before the return up to the display.
pub(crate) const ORDER: [usize; 6] = [5, 4, 3, 2, 1, 0];
/// The return, the reservoir, the floor and the air.
pub(crate) const HELD: [bool; 10] =
    [false, false, false, false, false, false, true, true, true, true];
/// Where a start is sought from.
pub(crate) const START_M: [f64; 10] = [1.31, 1.2, 0.2, 0.2, 0.2, 0.2, 0.18, 0.40, -100.0, -100.0];
/// What the pump gives when it runs, about, m³/s.
pub(crate) const FLOW_M3_S: f64 = 1.43e-3;

/// A pipe with `q = k √H`: a table that is linear in √H says that exactly.
fn pipe(k: f64, out_m: f64, gate: Option<Gate>) -> Law {
    Law::pipe(out_m, gate, Arc::new(Table::build(0.0, 1.3, 2, |u| (k * u, k))))
}

/// A pump with its line, `H = 5 m − c q²`.
fn pump() -> Law {
    let c = 1.87e6;
    // The table is over √(5 m − H), in which this is linear.
    let table = PumpTable::build(5.0, 2, |lift| {
        let q = ((5.0 - lift) / c).sqrt();
        (q, -0.5 / (c * q))
    });
    Law::pump(1.28, Some(Gate { z_m: 0.045, over_m: 0.02 }), Arc::new(table))
}

fn strips(strips: &[(f64, f64, f64)]) -> Law {
    let strips = strips.iter().map(|&(z0_m, z1_m, width_m)| Strip { z0_m, z1_m, width_m });
    Law::Strips(Strips::new(0.61, strips.collect()))
}

fn tanks() -> Vec<Tank> {
    let stepped = |name: &str, steps: &[(f64, f64)]| {
        let steps = steps.iter().map(|&(z_m, area_m2)| Step { z_m, area_m2 }).collect();
        Tank { steps, ..Tank::prism(name, 0.0, 1.0) }
    };
    vec![
        stepped("display", &[(0.80, 0.50), (1.05, 0.60)]),
        stepped("overflow box", &[(1.00, 0.030), (1.20, 0.028)]),
        Tank::prism("inlet", 0.0, 0.10),
        stepped("socks", &[(0.0, 0.06), (0.12, 0.05), (0.26, 0.06)]),
        stepped("planted", &[(0.0, 0.13), (0.05, 0.14)]),
        Tank::prism("bubble trap", 0.0, 0.035),
        stepped("return", &[(0.0, 0.09), (0.10, 0.10)]),
        Tank::prism("reservoir", 0.10, 0.04),
        Tank::sink("floor"),
        Tank::sink("air"),
    ]
}

/// The whole as it runs: pump on, main drain full of water, nothing clogged, no leak.
pub(crate) fn sump() -> Network {
    const OPEN: f64 = f64::INFINITY;
    let mut elements = Vec::new();
    let mut add = |name: &str, kind, (up, down), law, scale| {
        elements.push(Element { name: name.into(), kind, up, down, law, scale, lean: 0.0 });
    };
    let mouth = Some(Gate { z_m: 1.15, over_m: 0.02 });
    let left = |z_m| Some(Gate { z_m, over_m: 0.01 });
    add("pump", Kind::Pump, (6, 0), pump(), 1.0);
    add("back-siphon", Kind::Pipe, (0, 6), pipe(4e-4, 0.05, None), 0.0);
    add("main drain", Kind::Pipe, (1, 2), pipe(1.35e-3, 0.22, mouth), 1.0);
    add("second drain", Kind::Lip, (1, 2), Law::lip(1.22, 0.040, None), 1.0);
    add("emergency drain", Kind::Lip, (1, 2), Law::lip(1.26, 0.050, None), 1.0);
    add("overflow comb", Kind::Slots, (0, 1), strips(&[(1.300, 1.325, 0.36)]), 1.0);
    add("display rim", Kind::Crest, (0, 8), strips(&[(1.345, OPEN, 2.0)]), 1.0);
    add("leaf 2-3", Kind::Crest, (2, 3), Law::crest(0.250, 0.38, 0.006, 0.25, 0.38), 1.0);
    let comb = strips(&[(0.225, 0.255, 0.144), (0.255, OPEN, 0.38)]);
    add("comb 3-4", Kind::Slots, (3, 4), comb, 1.0);
    let letterbox = strips(&[(0.170, 0.205, 0.22), (0.28, OPEN, 0.38)]);
    add("letterbox 4-5", Kind::Opening, (4, 5), letterbox, 1.0);
    add("leaf 4-5 taken out", Kind::Opening, (4, 5), strips(&[(0.0, OPEN, 0.38)]), 0.0);
    let gap = strips(&[(0.0, 0.020, 0.38), (0.33, OPEN, 0.38)]);
    add("gap 5-6", Kind::Opening, (5, 6), gap, 1.0);
    add("sump rim", Kind::Crest, (6, 8), strips(&[(0.380, OPEN, 0.6)]), 1.0);
    add("sump rim, inlet", Kind::Crest, (2, 8), strips(&[(0.380, OPEN, 0.6)]), 1.0);
    add("seam", Kind::Opening, (6, 8), strips(&[(0.015, 0.165, 4e-5)]), 0.0);
    add("top-up", Kind::Given, (7, 6), Law::rate(60.0 / 3.6e6, left(0.10)), 0.0);
    add("evaporation, display", Kind::Given, (0, 9), Law::rate(4.05e-8, left(0.80)), 1.0);
    add("evaporation, return", Kind::Given, (6, 9), Law::rate(1.2e-8, left(0.0)), 1.0);
    add("dosing", Kind::Given, (7, 6), Law::rate(2e-8, left(0.10)), 0.0);
    Network { tanks: tanks(), elements }
}

//! A whole case against an independent computation: a display over three chambers, at rest and in a power
//! cut with back-siphon. The numbers expected come from Python that shares no code with this: its own laws,
//! Colebrook's formula iterated, SciPy's Radau method, and again an explicit Runge–Kutta method in steps of
//! 0.5 ms, which agreed with it within 1e-6 m. There the drowned weir follows Villemonte and here a strip,
//! so levels are compared closely only where no weir is drowned, or at the end.

use std::sync::Arc;

use water::law::Strips;
use water::{
    Element, Event, Kind, Law, Network, PipeLine, Plan, PumpCurve, Run, SteadyOptions, Tank,
    TransientOptions, start_levels, steady, transient,
};

const L_H: f64 = 1.0 / 3.6e6;
const PUMP: usize = 0;
const SIPHON: usize = 1;

fn case() -> Network {
    let line = |loss_k| {
        let line = PipeLine {
            bore_m: 0.0262,
            length_m: 2.5,
            loss_k,
            roughness_m: 1.5e-6,
            viscosity_m2_s: 0.93731e-6,
        };
        line.checked().expect("a sound line")
    };
    let points =
        [(0.0, 5.0), (2000.0, 4.6), (4000.0, 3.9), (6000.0, 2.8), (8000.0, 1.2), (9000.0, 0.0)];
    let curve = PumpCurve::new(&points.map(|(q, h)| (q * L_H, h))).expect("a sound curve");
    let pump = Law::pump(0.0, None, Arc::new(curve.table(&line(4.0), 129)));
    let siphon = Law::pipe(-1.0, None, Arc::new(line(10.0).flow_table(1.6, 257)));
    let weir = |z_m, width_m| Law::Strips(Strips::rectangle(0.62, z_m, f64::INFINITY, width_m));
    let gap = Law::Strips(Strips::rectangle(0.61, 0.0, 0.020, 0.38));
    let element = |name: &str, up, down, law, scale| Element {
        name: name.into(),
        kind: Kind::Given,
        up,
        down,
        law,
        scale,
        lean: 0.0,
    };
    Network {
        tanks: [("display", 0.6), ("first", 0.12), ("second", 0.14), ("return", 0.10)]
            .map(|(name, area_m2)| Tank::prism(name, 0.0, area_m2))
            .to_vec(),
        elements: vec![
            element("pump", 3, 0, pump, 1.0),
            element("siphon", 0, 3, siphon, 0.0),
            element("overflow", 0, 1, weir(1.300, 0.40), 1.0),
            element("weir", 1, 2, weir(0.250, 0.38), 1.0),
            element("gap", 2, 3, gap, 1.0),
        ],
    }
}

fn at_rest(network: &Network) -> Vec<f64> {
    let held = [false, false, false, true];
    let mut levels = [1.3, 0.2, 0.2, 0.18];
    start_levels(network, &held, &[2, 1, 0], 1.4e-3, &mut levels);
    steady(network, &held, &levels, &SteadyOptions::default()).expect("balanced").levels_m
}

/// The siphon runs until the display has come down to the hole.
struct Hole {
    broke_s: Option<f64>,
}

impl Plan for Hole {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(if self.broke_s.is_some() { -1.0 } else { 1.270 - levels_m[0] });
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        if event == Event::Start {
            elements[PUMP].scale = 0.0;
            elements[SIPHON].scale = 1.0;
        } else {
            elements[SIPHON].scale = 0.0;
            self.broke_s = Some(t_s);
        }
    }
}

fn cut(end_s: f64) -> (Run, Option<f64>) {
    let mut network = case();
    let volumes = network.volumes(&at_rest(&network));
    let mut plan = Hole { broke_s: None };
    let options = TransientOptions { level_m: 1e-7, ..TransientOptions::default() };
    let run = transient(&mut network, &volumes, end_s, &mut plan, &options).expect("sound");
    (run, plan.broke_s)
}

#[track_caller]
fn check(levels_m: &[f64], wanted_m: &[f64], within_m: f64) {
    for (i, (a, b)) in levels_m.iter().zip(wanted_m).enumerate() {
        assert!((a - b).abs() < within_m, "tank {i} at {a} m instead of {b} m");
    }
}

#[test]
fn levels_at_rest() {
    let network = case();
    let levels = at_rest(&network);
    check(&levels, &[1.315753, 0.266301, 0.184972, 0.18], 1e-6);
    let q = network.elements[PUMP].flow(levels[3], levels[0]).q;
    assert!((q / L_H - 5211.788).abs() < 0.05, "{} l/h", q / L_H);
}

#[test]
fn levels_in_a_power_cut() {
    check(&cut(5.0).0.levels_m, &[1.304172, 0.256775, 0.216553, 0.216703], 2e-5);
    check(&cut(10.0).0.levels_m, &[1.297861, 0.251725, 0.234768, 0.235129], 2e-5);
    check(&cut(20.0).0.levels_m, &[1.286209, 0.25933, 0.259974, 0.260625], 5e-4);
    let (run, broke_s) = cut(334.0);
    check(&run.levels_m, &[1.27, 0.286956, 0.286956, 0.286956], 1e-6);
    let broke_s = broke_s.expect("the siphon breaks");
    assert!((broke_s - 34.181).abs() < 0.005, "{broke_s} s");
}

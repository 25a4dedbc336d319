//! Prints what the solvers of this crate give for cases that judges can compute by other means, one JSON
//! object a line: tanks that drain by closed forms, and a display over three chambers at rest and in a
//! power cut.
//!
//! `cargo run -p water --example worked_case`
#![expect(clippy::print_stdout, reason = "it tells what it has computed")]

use std::error::Error;
use std::sync::Arc;

use serde_json::json;
use water::law::Strips;
use water::{
    Element, Event, G, Kind, Law, Network, PipeLine, Plan, PumpCurve, Run, SteadyOptions, Table,
    Tank, TransientOptions, start_levels, steady, transient,
};

type Failed = Box<dyn Error>;

const M3_S_PER_L_H: f64 = 1.0 / 3.6e6;
const OPTIONS: TransientOptions = TransientOptions {
    level_m: 1e-9,
    time_s: 1e-6,
    max_step_s: f64::INFINITY,
    max_events: 100,
    max_steps: 2_000_000,
    leaps: false,
};

fn main() -> Result<(), Failed> {
    drains()?;
    worked_case()
}

fn element(name: &str, [up, down]: [usize; 2], law: Law, scale: f64) -> Element {
    Element { name: name.into(), kind: Kind::Given, up, down, law, scale, lean: 0.0 }
}

/// Waits until tank 0 stands this far over a height, or over another tank.
struct Until {
    over: Option<usize>,
    at_m: f64,
    reached_s: Option<f64>,
}

impl Plan for Until {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        let over = self.over.map_or(0.0, |i| levels_m[i]);
        values.push(if self.reached_s.is_some() { -1.0 } else { self.at_m + over - levels_m[0] });
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        if event != Event::Start {
            self.reached_s = Some(t_s);
            elements[0].scale = 0.0;
        }
    }
}

/// How long prisms take to drain through an orifice, over a weir, and into one another.
fn drains() -> Result<(), Failed> {
    let (area_m2, d_m, cd) = (0.15, 0.02, 0.61);
    let k = cd * 0.25 * std::f64::consts::PI * d_m * d_m * (2.0 * G).sqrt();
    // Straight over the root of the head: an orifice without rounding.
    let orifice = || Law::pipe(0.0, None, Arc::new(Table::build(0.0, 2.0, 2, |u| (k * u, k))));
    for at_m in [0.2, 0.1, 0.05, 0.01] {
        let tanks = vec![Tank::prism("tank", 0.0, area_m2), Tank::sink("below")];
        let t_s = time(tanks, orifice(), [0.3, -100.0], None, at_m)?;
        let inputs =
            json!({"area_m2": area_m2, "k": k, "h0_m": 0.3, "h1_m": at_m, "d_m": d_m, "cd": cd});
        println!("{}", json!({"case": "orifice drain", "inputs": inputs, "t_s": t_s}));
    }
    let (width_m, cd) = (0.3, 0.62);
    for at_m in [0.01, 0.005, 0.002, 0.001] {
        let tanks = vec![Tank::prism("tank", -1.0, area_m2), Tank::sink("below")];
        let weir = Law::Strips(Strips::rectangle(cd, 0.0, f64::INFINITY, width_m));
        let t_s = time(tanks, weir, [0.03, -100.0], None, at_m)?;
        let inputs =
            json!({"area_m2": area_m2, "cd": cd, "b_m": width_m, "h0_m": 0.03, "h1_m": at_m});
        println!("{}", json!({"case": "weir drain", "inputs": inputs, "t_s": t_s}));
    }
    for at_m in [0.1, 0.01, 0.001, 0.0001] {
        let tanks = vec![Tank::prism("high", 0.0, 0.1), Tank::prism("low", 0.0, 0.2)];
        let t_s = time(tanks, orifice(), [0.35, 0.15], Some(1), at_m)?;
        let inputs = json!({"a1_m2": 0.1, "a2_m2": 0.2, "k": k, "d0_m": 0.2, "d1_m": at_m});
        println!("{}", json!({"case": "two tanks", "inputs": inputs, "t_s": t_s}));
    }
    Ok(())
}

fn time(
    tanks: Vec<Tank>,
    law: Law,
    levels_m: [f64; 2],
    over: Option<usize>,
    at_m: f64,
) -> Result<f64, Failed> {
    let mut network = Network { tanks, elements: vec![element("way", [0, 1], law, 1.0)] };
    let volumes = network.volumes(&levels_m);
    let mut plan = Until { over, at_m, reached_s: None };
    transient(&mut network, &volumes, 1000.0, &mut plan, &OPTIONS)?;
    plan.reached_s.ok_or_else(|| "the level was never reached".into())
}

const PUMP: usize = 0;
const SIPHON: usize = 1;
const POINTS_L_H: [(f64, f64); 6] =
    [(0.0, 5.0), (2e3, 4.6), (4e3, 3.9), (6e3, 2.8), (8e3, 1.2), (9e3, 0.0)];
const HOLE_M: f64 = 1.270;

fn line(loss_k: f64) -> PipeLine {
    let (roughness_m, viscosity_m2_s) = (1.5e-6, 0.937_31e-6);
    PipeLine { bore_m: 0.0262, length_m: 2.5, loss_k, roughness_m, viscosity_m2_s }
}

/// A display over a first and a second chamber and one with the pump. Its weirs are plain, `C` = 0.62, and
/// when drowned follow Dubuat: the library has no plain weir after Villemonte.
fn case() -> Result<Network, Failed> {
    let curve = PumpCurve::new(&POINTS_L_H.map(|(q, h)| (q * M3_S_PER_L_H, h)))?;
    let pump = Law::pump(0.0, None, Arc::new(curve.table(&line(4.0), 513)));
    let siphon = Law::pipe(-1.0, None, Arc::new(line(10.0).flow_table(1.6, 513)));
    let weir = |z_m, width_m| Law::Strips(Strips::rectangle(0.62, z_m, f64::INFINITY, width_m));
    let gap = Law::Strips(Strips::rectangle(0.61, 0.0, 0.020, 0.38));
    let tanks = [("display", 0.6), ("first", 0.12), ("second", 0.14), ("return", 0.10)];
    Ok(Network {
        tanks: tanks.map(|(name, area_m2)| Tank::prism(name, 0.0, area_m2)).to_vec(),
        elements: vec![
            element("pump", [3, 0], pump, 1.0),
            element("siphon", [0, 3], siphon, 0.0),
            element("overflow", [0, 1], weir(1.300, 0.40), 1.0),
            element("weir", [1, 2], weir(0.250, 0.38), 1.0),
            element("gap", [2, 3], gap, 1.0),
        ],
    })
}

/// The pump stops, and its line runs back until the display has come down to the hole.
struct Hole {
    broke_s: Option<f64>,
}

impl Plan for Hole {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(if self.broke_s.is_some() { -1.0 } else { HOLE_M - levels_m[0] });
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

fn cut(volumes_m3: &[f64], end_s: f64) -> Result<(Run, Option<f64>), Failed> {
    let mut network = case()?;
    let mut plan = Hole { broke_s: None };
    let options = TransientOptions { level_m: 1e-7, time_s: 1e-4, ..OPTIONS };
    let run = transient(&mut network, volumes_m3, end_s, &mut plan, &options)?;
    Ok((run, plan.broke_s))
}

fn worked_case() -> Result<(), Failed> {
    let network = case()?;
    let held = [false, false, false, true];
    let mut levels = [1.3, 0.2, 0.2, 0.18];
    start_levels(&network, &held, &[2, 1, 0], 1.4e-3, &mut levels);
    let levels_m = steady(&network, &held, &levels, &SteadyOptions::default())?.levels_m;
    let q = network.elements[PUMP].flow(levels_m[3], levels_m[0]).q;
    println!("{}", json!({"case": "worked case", "levels_m": levels_m, "q_m3_s": q}));
    let volumes = network.volumes(&levels_m);
    for t_s in [5.0, 10.0, 20.0, 30.0, 334.0] {
        let (run, broke_s) = cut(&volumes, t_s)?;
        let told = json!({
            "case": "worked case cut", "t_s": t_s, "levels_m": run.levels_m, "broke_s": broke_s
        });
        println!("{told}");
    }
    Ok(())
}

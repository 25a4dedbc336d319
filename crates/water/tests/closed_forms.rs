//! Times against closed forms. In each the law is exactly the one that the form is derived from, so only the
//! integration is tested: `dV/dt = −Q` with a prism's `V = A h`, separated and integrated by hand.

use std::sync::Arc;

use water::law::Strips;
use water::{
    Element, Event, G, Kind, Law, Network, Plan, Run, Stop, Table, Tank, TransientOptions,
    transient,
};

/// Waits until the level of tank 0, over that of another tank if there is one, has fallen to `at_m`.
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

fn network(tanks: Vec<Tank>, law: Law) -> Network {
    let (name, kind) = (String::from("way"), Kind::Given);
    Network {
        tanks,
        elements: vec![Element { name, kind, up: 0, down: 1, law, scale: 1.0, lean: 0.0 }],
    }
}

fn time_until(
    network: &Network,
    start_m: [f64; 2],
    over: Option<usize>,
    at_m: f64,
    level_m: f64,
) -> (f64, Run) {
    let mut network = network.clone();
    let volumes = network.volumes(&start_m);
    let mut plan = Until { over, at_m, reached_s: None };
    let options = TransientOptions { level_m, ..TransientOptions::default() };
    let run = transient(&mut network, &volumes, 1000.0, &mut plan, &options).expect("sound");
    assert_eq!(run.stop, Stop::End);
    assert!(run.drift_m3 < 1e-12, "{} m³ drift", run.drift_m3);
    (plan.reached_s.expect("reached"), run)
}

/// `Q = k √Δh`: a table over √Δh of two points is that line.
fn orifice(k: f64, out_m: f64) -> Law {
    Law::pipe(out_m, None, Arc::new(Table::build(0.0, 1.0, 2, |u| (k * u, k))))
}

/// `k = Cd a √(2g)` of a hole of 20 mm with Cd = 0.61.
fn hole() -> f64 {
    0.61 * std::f64::consts::PI * 0.01 * 0.01 * (2.0 * G).sqrt()
}

#[track_caller]
fn check(found_s: f64, wanted_s: f64) {
    let off = (found_s / wanted_s - 1.0).abs();
    assert!(off < 1e-6, "{found_s} s instead of {wanted_s} s, off by {off:.1e}");
}

#[test]
fn a_tank_drains_through_a_hole() {
    // A dh/dt = −k √h:  t = 2A/k (√h₀ − √h₁).
    let (area, k) = (0.15, hole());
    let network =
        network(vec![Tank::prism("tank", 0.0, area), Tank::sink("floor")], orifice(k, 0.0));
    for h in [0.25, 0.1, 0.05] {
        let wanted = 2.0 * area / k * (0.30_f64.sqrt() - f64::sqrt(h));
        check(time_until(&network, [0.30, -100.0], None, h, 1e-8).0, wanted);
    }
}

#[test]
fn a_tank_drains_over_a_weir() {
    // A dh/dt = −c h^1.5 with c = 2/3 Cd √(2g) b:  t = 2A/c (h₁^−½ − h₀^−½). It never ends.
    let (area, width, cd) = (0.15, 0.3, 0.61);
    let law = Law::Strips(Strips::rectangle(cd, 0.1, f64::INFINITY, width));
    let c = 2.0 / 3.0 * cd * (2.0 * G).sqrt() * width;
    let network = network(vec![Tank::prism("tank", 0.0, area), Tank::sink("floor")], law);
    for h in [0.010_f64, 0.005, 0.002, 0.001] {
        let wanted = 2.0 * area / c * (1.0 / h.sqrt() - 1.0 / 0.03_f64.sqrt());
        check(time_until(&network, [0.13, -100.0], None, 0.1 + h, 1e-8).0, wanted);
    }
}

#[test]
fn two_tanks_become_equal() {
    // Δ = h₁ − h₂, dΔ/dt = −k √Δ (1/A₁ + 1/A₂):  t = 2 (√Δ₀ − √Δ₁) / (k (1/A₁ + 1/A₂)).
    let (a1, a2, k) = (0.1, 0.2, hole());
    let tanks = vec![Tank::prism("high", 0.0, a1), Tank::prism("low", 0.0, a2)];
    let network = network(tanks, orifice(k, 0.0));
    for at_m in [0.1, 0.01, 1e-3, 1e-4] {
        let wanted = 2.0 * (0.2_f64.sqrt() - f64::sqrt(at_m)) / (k * (1.0 / a1 + 1.0 / a2));
        let (found, run) = time_until(&network, [0.35, 0.15], Some(1), at_m, 1e-8);
        check(found, wanted);
        // A₁ h₁ + A₂ h₂ stays.
        let level = (a1 * 0.35 + a2 * 0.15 + a2 * at_m) / (a1 + a2);
        assert!((run.levels_m[0] - level).abs() < 1e-8);
    }
}

#[test]
fn two_tanks_with_a_submerged_slot_end_on_one_level() {
    // Fully under water a slot passes Q = k √Δh up to the rounding of the root at 0.01 mm.
    let slot = Law::Strips(Strips::rectangle(0.61, 0.0, 0.02, 0.05));
    let tanks = vec![Tank::prism("high", 0.0, 0.1), Tank::prism("low", 0.0, 0.2)];
    let network = network(tanks, slot);
    let k = 0.61 * 0.02 * 0.05 * (2.0 * G).sqrt();
    let wanted = 2.0 * (0.2_f64.sqrt() - 0.1_f64.sqrt()) / (k * (1.0 / 0.1 + 1.0 / 0.2));
    check(time_until(&network, [0.35, 0.15], Some(1), 0.1, 1e-7).0, wanted);

    let mut network = network;
    let volumes = network.volumes(&[0.35, 0.15]);
    let run = transient(&mut network, &volumes, 3600.0, &mut (), &TransientOptions::default());
    let run = run.expect("sound");
    for z in run.levels_m {
        assert!((z - (0.1 * 0.35 + 0.2 * 0.15) / 0.3).abs() < 1e-9, "{z} m");
    }
}

#[test]
fn a_given_rate_fills_to_the_instant() {
    // V = V₀ + q t, linear, so the instant is exact but for rounding.
    let tanks = vec![Tank::prism("reservoir", 0.0, 0.04), Tank::prism("return", 0.0, 0.1)];
    let network = network(tanks, Law::rate(1e-6, None));
    let (found, _) = time_until(&network, [0.3, 0.1], None, 0.295, 1e-5);
    assert!((found - 0.005 * 0.04 / 1e-6).abs() < 1e-6, "{found} s");
}

#[test]
fn the_error_falls_with_the_tolerance_as_the_order_says() {
    // An order of four: the error of a step goes with the fifth power of its length, and step control makes
    // it the tolerance, so the steps grow with the fourth root of a tighter tolerance at most.
    let network = network(
        vec![Tank::prism("high", 0.0, 0.1), Tank::prism("low", 0.0, 0.2)],
        orifice(hole(), 0.0),
    );
    let run = |level_m| time_until(&network, [0.35, 0.15], Some(1), 1e-3, level_m);
    let wanted = 2.0 * (0.2_f64.sqrt() - 1e-3_f64.sqrt()) / (hole() * 15.0);
    let ((coarse, a), (fine, b)) = (run(1e-5), run(1e-9));
    let (coarse, fine) = ((coarse - wanted).abs(), (fine - wanted).abs());
    println!("{} steps: {coarse:.1e} s off; {} steps: {fine:.1e} s off", a.steps, b.steps);
    assert!(coarse < 1e-3 && fine < 1e-2 * coarse.max(1e-6));
    assert!(b.steps < 12 * a.steps, "{} and {} steps", a.steps, b.steps);
}

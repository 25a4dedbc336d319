//! What happens in time: nothing is lost, everything ends at rest, events come at their instants, and the
//! number of steps stays what it is.

#[path = "cases/layouts.rs"]
mod layouts;
#[path = "cases/sump.rs"]
mod sump;

use layouts::{Dice, Layout, layout};
use sump::{BOX, DISPLAY, FLOW_M3_S, HELD, ORDER, RETURN, START_M, sump};
use water::{
    Element, Event, Kind, Law, Leapt, Network, Plan, Run, SteadyOptions, Stop, Tank, Trace,
    TransientError, TransientOptions, start_levels, steady, transient,
};

const RESERVOIR: usize = 7;
const DAY_S: f64 = 86_400.0;

fn at_rest(network: &Network) -> Vec<f64> {
    let mut levels = START_M;
    start_levels(network, &HELD, &ORDER, FLOW_M3_S, &mut levels);
    steady(network, &HELD, &levels, &SteadyOptions::default()).expect("balanced").levels_m
}

fn set(elements: &mut [Element], name: &str, scale: f64) {
    let element = elements.iter_mut().find(|e| e.name == name).expect("there is such an element");
    element.scale = scale;
}

#[track_caller]
fn run(network: &mut Network, start_m: &[f64], end_s: f64, plan: &mut dyn Plan) -> Run {
    let volumes = network.volumes(start_m);
    let options = TransientOptions::default();
    let run = transient(network, &volumes, end_s, plan, &options).expect("sound");
    assert_eq!(run.stop, Stop::End);
    assert!(run.drift_m3 < 1e-12, "{} m³ drift", run.drift_m3);
    run
}

/// The pump stops, water comes down and siphons back until the display's line draws air; later it starts.
struct Cut {
    off_s: f64,
    on_s: f64,
    break_m: f64,
    is_siphoning: bool,
    log: Vec<(f64, Event)>,
    lowest_m: f64,
    highest_m: f64,
    last_s: f64,
}

impl Cut {
    fn new(off_s: f64, on_s: f64) -> Self {
        let (lowest_m, highest_m) = (f64::INFINITY, f64::NEG_INFINITY);
        let (is_siphoning, log, last_s) = (false, Vec::new(), 0.0);
        Self { off_s, on_s, break_m: 1.270, is_siphoning, log, lowest_m, highest_m, last_s }
    }
}

impl Plan for Cut {
    fn next_time_s(&self, after_s: f64) -> f64 {
        let times = [self.off_s, self.on_s];
        times.into_iter().filter(|t| after_s < *t).fold(f64::INFINITY, f64::min)
    }

    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(if self.is_siphoning { self.break_m - levels_m[DISPLAY] } else { -1.0 });
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        self.log.push((t_s, event));
        match event {
            Event::Start => return,
            Event::Clock => self.is_siphoning = t_s < self.on_s,
            Event::Watch(_) => self.is_siphoning = false,
        }
        let is_off = self.off_s <= t_s && t_s < self.on_s;
        set(elements, "pump", if is_off { 0.0 } else { 1.0 });
        set(elements, "back-siphon", if self.is_siphoning { 1.0 } else { 0.0 });
    }

    fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        assert!(self.last_s <= t_s, "time goes back from {} s to {t_s} s", self.last_s);
        self.last_s = t_s;
        self.lowest_m = self.lowest_m.min(levels_m[RETURN]);
        self.highest_m = self.highest_m.max(levels_m[RETURN]);
    }
}

#[test]
fn a_power_cut_drains_back_and_the_pump_takes_it_up_again() {
    let mut network = sump();
    let start_m = at_rest(&network);
    let mut plan = Cut::new(60.0, 660.0);
    let run = run(&mut network, &start_m, DAY_S, &mut plan);
    let [start, off, siphon, on] = plan.log[..] else { panic!("{:?}", plan.log) };
    assert_eq!(start, (0.0, Event::Start));
    assert_eq!(off, (60.0, Event::Clock));
    assert_eq!(siphon.1, Event::Watch(0));
    assert!(60.0 < siphon.0 && siphon.0 < 660.0);
    assert_eq!(on, (660.0, Event::Clock));
    assert!(start_m[RETURN] + 0.05 < plan.highest_m, "it came down");
    assert!(plan.highest_m < 0.380, "and stayed in");
    // In the end it is as if nothing had happened.
    let undisturbed = self::run(&mut sump(), &start_m, DAY_S, &mut ());
    for (a, b) in run.levels_m.iter().zip(&undisturbed.levels_m) {
        assert!((a - b).abs() < 1e-5, "{a} and {b} m");
    }
    println!("{} steps, {} rejected", run.steps, run.rejected);
    assert!(run.steps <= 250, "{} steps", run.steps);
    assert!(3 * run.rejected <= run.steps, "{} rejected", run.rejected);
}

#[test]
fn a_day_takes_a_few_dozen_steps() {
    let running = sump();
    let start_m = at_rest(&running);
    for (name, changes, most) in [
        ("evaporation alone", &[][..], 25),
        ("main drain blocked", &[("main drain", 0.0)][..], 60),
        ("pump off", &[("pump", 0.0), ("main drain", 0.35)][..], 115),
        ("seam leaks", &[("seam", 1.0)][..], 250),
    ] {
        let mut network = running.clone();
        for (element, scale) in changes {
            set(&mut network.elements, element, *scale);
        }
        let run = run(&mut network, &start_m, DAY_S, &mut ());
        println!("{name}: {} steps, {} rejected, {:e} m³", run.steps, run.rejected, run.drift_m3);
        assert!(run.steps <= most, "{name}: {} steps", run.steps);
    }
}

#[test]
fn what_only_collects_does_not_hold_up_the_steps() {
    let mut network = sump();
    let start_m = at_rest(&network);
    set(&mut network.elements, "pump", 0.0);
    let with_sinks = run(&mut network.clone(), &start_m, DAY_S, &mut ());
    for tank in &mut network.tanks {
        tank.is_sink = false;
    }
    let without = run(&mut network, &start_m, DAY_S, &mut ());
    assert!(with_sinks.steps <= without.steps);
    for (a, b) in with_sinks.levels_m.iter().zip(&without.levels_m).take(8) {
        assert!((a - b).abs() < 1e-6);
    }
}

#[test]
fn random_layouts_left_to_run_end_at_rest() {
    let mut steps = 0;
    for seed in 0..200 {
        let layout = layout(seed);
        let Layout { network, held, order, flow_m3_s, return_tank, source, .. } = &layout;
        let mut start_m = layout.start_m.clone();
        start_levels(network, held, order, *flow_m3_s, &mut start_m);
        let mut dice = Dice::new(seed);
        for z in &mut start_m[2..*return_tank] {
            *z += dice.between(-0.02, 0.05);
        }
        // Off for a day, in which some litres come in from outside, then on for a day.
        let mut off = network.clone();
        off.elements[0].scale = 0.0;
        off.elements[*source].scale = 1e-3;
        let first = run(&mut off, &start_m, DAY_S, &mut ());
        let second = run(&mut network.clone(), &first.levels_m, DAY_S, &mut ());
        steps += first.steps + second.steps;
        let end_m = &second.levels_m;
        let rest = steady(network, held, end_m, &SteadyOptions::default()).expect("balanced");
        for e in &network.elements {
            let q = |z: &[f64]| e.flow(z[e.up], z[e.down]).q;
            let differ = (q(end_m) - q(&rest.levels_m)).abs();
            assert!(differ < 1e-8, "layout {seed}, {}: {differ:e} m³/s", e.name);
        }
    }
    println!("{} steps a day", f64::from(u32::try_from(steps).expect("few")) / 400.0);
    assert!(steps < 400 * 95, "{steps} steps for 400 days");
}

#[test]
fn more_water_in_one_chamber_never_lowers_another_later() {
    for seed in 0..100 {
        let layout = layout(seed);
        let Layout { network, held, order, flow_m3_s, return_tank, .. } = &layout;
        let mut less_m = layout.start_m.clone();
        start_levels(network, held, order, *flow_m3_s, &mut less_m);
        let mut more_m = less_m.clone();
        let mut dice = Dice::new(seed);
        more_m[2 + dice.below(return_tank - 1)] += 0.02;
        for end_s in [1.0, 30.0, 600.0] {
            let less = run(&mut network.clone(), &less_m, end_s, &mut ());
            let more = run(&mut network.clone(), &more_m, end_s, &mut ());
            for (i, (a, b)) in less.levels_m.iter().zip(&more.levels_m).enumerate() {
                // Both are computed; each step may err by 0.01 mm.
                assert!(
                    a - 3e-5 < *b,
                    "layout {seed}, tank {i} after {end_s} s: {a} m, then {b} m"
                );
            }
        }
    }
}

#[test]
fn the_width_of_the_arrays_changes_nothing() {
    let running = sump();
    let start_m = at_rest(&running);
    let with = |more: usize| {
        let mut network = running.clone();
        let mut start_m = start_m.clone();
        for i in 0..more {
            network.tanks.push(Tank::prism(format!("beside {i}"), 0.0, 0.1));
            start_m.push(0.1);
        }
        let held: Vec<bool> =
            (0..10 + more).map(|i| HELD.get(i).copied().unwrap_or(false)).collect();
        let rest = steady(&network, &held, &start_m, &SteadyOptions::default()).expect("balanced");
        set(&mut network.elements, "pump", 0.0);
        let run = run(&mut network, &rest.levels_m, 3600.0, &mut ());
        (run.steps, run.levels_m)
    };
    let (steps, levels_m) = with(0);
    for more in [6, 10, 20, 50, 118] {
        let (other_steps, other) = with(more);
        assert_eq!(steps, other_steps, "with {more} more");
        for (a, b) in levels_m.iter().zip(&other) {
            assert!((a - b).abs() < 1e-12, "{a} and {b} m with {more} more");
        }
    }
}

/// A siphon that is stronger than the pump: it breaks and primes for ever.
struct Hunting {
    is_primed: bool,
    /// Watches the reservoir too, and notes when it comes down to this.
    float_m: Option<f64>,
    float_at: Option<f64>,
    low_m: f64,
    high_m: f64,
}

impl Hunting {
    fn new(float_m: Option<f64>) -> Self {
        let (low_m, high_m) = (f64::INFINITY, f64::NEG_INFINITY);
        Self { is_primed: true, float_m, float_at: None, low_m, high_m }
    }
}

impl Plan for Hunting {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(if self.is_primed { 1.164 - levels_m[BOX] } else { -1.0 });
        values.push(if self.is_primed { -1.0 } else { levels_m[BOX] - 1.19 });
        let is_waiting = self.float_at.is_none();
        values.push(self.float_m.filter(|_| is_waiting).map_or(-1.0, |z| z - levels_m[RESERVOIR]));
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        match event {
            Event::Start | Event::Clock => {}
            Event::Watch(0) => self.is_primed = false,
            Event::Watch(1) => self.is_primed = true,
            Event::Watch(_) => self.float_at = Some(t_s),
        }
        set(elements, "main drain", if self.is_primed { 1.0 } else { 0.35 });
    }

    fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        if 600.0 < t_s {
            self.low_m = self.low_m.min(levels_m[BOX]);
            self.high_m = self.high_m.max(levels_m[BOX]);
        }
    }
}

fn hunting(end_s: f64, plan: &mut Hunting, leaps: bool) -> Run {
    let mut network = sump();
    let start_m = at_rest(&network);
    set(&mut network.elements, "second drain", 0.0);
    set(&mut network.elements, "pump", 0.6);
    set(&mut network.elements, "dosing", 1.0);
    let volumes = network.volumes(&start_m);
    let options = TransientOptions { leaps, max_events: 100_000, ..TransientOptions::default() };
    let run = transient(&mut network, &volumes, end_s, plan, &options).expect("sound");
    assert_eq!(run.stop, Stop::End);
    assert!(run.drift_m3 < 1e-11, "{} m³ drift", run.drift_m3);
    run
}

#[test]
fn a_hunting_siphon_is_leapt_over_and_told() {
    let mut plan = Hunting::new(None);
    let day = hunting(DAY_S, &mut plan, true);
    println!("{} steps, {} events, {} leaps", day.steps, day.events, day.leaps);
    assert!(day.steps < 9500 && day.events < 950, "{} steps, {} events", day.steps, day.events);
    assert!(!day.cycles.is_empty());
    for cycle in &day.cycles {
        println!("{cycle:?}");
        assert!(1.0 < cycle.period_s && cycle.period_s < 30.0, "{} s", cycle.period_s);
        // Between the level at which it breaks and that at which it primes.
        assert!((cycle.swing_m[BOX] - 0.026).abs() < 1e-4, "{} m", cycle.swing_m[BOX]);
        assert!(cycle.swing_m[RETURN] < 0.01);
        assert!(cycle.mismatch_m < 3e-4, "{} m", cycle.mismatch_m);
    }
    let leapt: f64 = day.cycles.iter().map(|c| c.leapt * c.period_s).sum();
    assert!(0.8 * DAY_S < leapt, "{leapt} s leapt");
}

#[test]
fn leaps_change_neither_levels_nor_instants() {
    // Dosing takes 2e-8 m³/s out of a reservoir of 0.04 m²: it falls by 1 mm in 2000 s.
    let float_m = Some(START_M[RESERVOIR] - 1e-3);
    let (mut with, mut without) = (Hunting::new(float_m), Hunting::new(float_m));
    let leaping = hunting(4000.0, &mut with, true);
    let plain = hunting(4000.0, &mut without, false);
    assert!(0 < leaping.leaps && plain.leaps == 0);
    assert!(5 * leaping.steps < plain.steps, "{} of {} steps", leaping.steps, plain.steps);
    for plan in [&with, &without] {
        let t = plan.float_at.expect("it came down");
        assert!((t - 2000.0).abs() < 1e-3, "{t} s");
    }
    assert!((with.low_m - without.low_m).abs() < 5e-5);
    assert!((with.high_m - without.high_m).abs() < 5e-5);
}

/// A float keeps the return's level against evaporation; the reservoir is watched as it comes down.
struct ToppedUp {
    is_on: bool,
    mark_m: f64,
    marked_s: Option<f64>,
    switched_s: Vec<f64>,
    /// Lowest and highest level of the return.
    range_m: [f64; 2],
}

impl ToppedUp {
    fn new(mark_m: f64) -> Self {
        let range_m = [f64::INFINITY, f64::NEG_INFINITY];
        Self { is_on: false, mark_m, marked_s: None, switched_s: Vec::new(), range_m }
    }
}

impl Plan for ToppedUp {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(if self.is_on { -1.0 } else { 0.179 - levels_m[RETURN] });
        values.push(if self.is_on { levels_m[RETURN] - 0.181 } else { -1.0 });
        let is_waiting = self.marked_s.is_none();
        values.push(if is_waiting { self.mark_m - levels_m[RESERVOIR] } else { -1.0 });
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        match event {
            Event::Start | Event::Clock => {}
            Event::Watch(2) => self.marked_s = Some(t_s),
            Event::Watch(k) => {
                self.is_on = k == 0;
                self.switched_s.push(t_s);
            }
        }
        set(elements, "dosing", if self.is_on { 100.0 } else { 0.0 });
    }

    fn leapt(&mut self, leap: &Leapt<'_>) {
        let from_s = leap.t_s - leap.period_s * (1.0 - 1e-9);
        let period: Vec<f64> = self.switched_s.iter().copied().filter(|t| from_s < *t).collect();
        for n in 1..=leap.count {
            self.switched_s.extend(period.iter().map(|t| t + f64::from(n) * leap.period_s));
        }
        let falls_m = -leap.rise_m[RESERVOIR];
        assert!(0.005 < falls_m && falls_m < 0.015, "by {falls_m} m in a period");
    }

    fn see(&mut self, _t_s: f64, levels_m: &[f64]) {
        let [low, high] = self.range_m;
        self.range_m = [low.min(levels_m[RETURN]), high.max(levels_m[RETURN])];
    }
}

#[test]
fn leaps_over_topping_up_change_neither_levels_nor_volumes() {
    let start_m = at_rest(&sump());
    let run = |plan: &mut ToppedUp, leaps: bool| {
        let mut network = sump();
        let volumes = network.volumes(&start_m);
        let options = TransientOptions { leaps, ..TransientOptions::default() };
        let run = transient(&mut network, &volumes, 2.0 * DAY_S, plan, &options).expect("sound");
        assert_eq!(run.stop, Stop::End);
        assert!(run.drift_m3 < 1e-12, "{} m³ drift", run.drift_m3);
        run
    };
    let (mut with, mut without) = (ToppedUp::new(0.25), ToppedUp::new(0.25));
    let (leaping, plain) = (run(&mut with, true), run(&mut without, false));
    println!("{} and {} steps, {} leaps", leaping.steps, plain.steps, leaping.leaps);
    assert!(0 < leaping.leaps && 2 * leaping.steps < plain.steps);
    // Peaks and lows, the end, the reservoir.
    for (a, b) in with.range_m.iter().zip(&without.range_m) {
        assert!((a - b).abs() < 5e-5, "{a} and {b} m");
    }
    for (a, b) in leaping.levels_m.iter().zip(&plain.levels_m).take(8) {
        assert!((a - b).abs() < 5e-5, "{a} and {b} m");
    }
    let taken_m3 = |run: &Run| (START_M[RESERVOIR] - run.levels_m[RESERVOIR]) * 0.04;
    assert!((taken_m3(&leaping) / taken_m3(&plain) - 1.0).abs() < 1e-3);
    // Every switching is told, at its instant; what else is watched comes at its own.
    assert!(40 < without.switched_s.len());
    assert_eq!(with.switched_s.len(), without.switched_s.len());
    for (a, b) in with.switched_s.iter().zip(&without.switched_s) {
        assert!((a - b).abs() < 1.0, "{a} and {b} s");
    }
    let (a, b) = (with.marked_s.expect("it came"), without.marked_s.expect("it came"));
    assert!((a - b).abs() < 0.1, "{a} and {b} s");
}

/// Fills a tank through a rate while another rate empties it from `turn_s` on.
struct Watched {
    clock: Vec<f64>,
    marks_m: Vec<f64>,
    fired: Vec<(f64, Event)>,
}

impl Plan for Watched {
    fn next_time_s(&self, after_s: f64) -> f64 {
        self.clock.iter().copied().filter(|t| after_s < *t).fold(f64::INFINITY, f64::min)
    }

    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.extend(self.marks_m.iter().map(|mark| levels_m[1] - mark));
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], _elements: &mut [Element]) {
        self.fired.push((t_s, event));
    }
}

fn filling() -> Network {
    let tanks = vec![Tank::prism("full", 0.0, 1.0), Tank::prism("filled", 0.0, 0.1)];
    let law = Law::rate(1e-5, None);
    let name = String::from("rate");
    let element = Element { name, kind: Kind::Given, up: 0, down: 1, law, scale: 1.0, lean: 0.0 };
    Network { tanks, elements: vec![element] }
}

#[test]
fn events_at_one_instant_all_come_and_each_but_once() {
    // The level is 1e-4 t: marks at 1000 s, twice, and at 2000 s, which is an instant of the clock as well.
    let mut plan = Watched {
        clock: vec![0.0, 0.1 + 0.2, 2000.0, 1e9],
        marks_m: vec![0.1, 0.2, 0.1],
        fired: vec![],
    };
    run(&mut filling(), &[1.0, 0.0], 3000.0, &mut plan);
    let events: Vec<Event> = plan.fired.iter().map(|(_, event)| *event).collect();
    use Event::{Clock, Start, Watch};
    let mut expected = vec![Start, Clock, Clock, Watch(0), Watch(2), Watch(1), Clock];
    if events[5] == Clock {
        expected.swap(5, 6); // which of two at one instant is first is a matter of rounding
    }
    assert_eq!(events, expected);
    let times: Vec<f64> = plan.fired.iter().map(|(t, _)| *t).collect();
    // The clock's instants to the last bit.
    assert_eq!(times[1].to_bits(), 0.0_f64.to_bits());
    assert_eq!(times[2].to_bits(), (0.1_f64 + 0.2).to_bits());
    let clock = plan.fired.iter().rfind(|(_, event)| *event == Clock).expect("it came");
    assert_eq!(clock.0.to_bits(), 2000.0_f64.to_bits());
    for (t, wanted) in [(times[3], 1000.0), (times[4], 1000.0), (times[5], 2000.0)] {
        assert!((t - wanted).abs() < 1e-6, "{t} s");
    }
}

/// Notes the highest level of the middle tank, and when it rises to a mark.
struct Wave {
    mark_m: f64,
    peak: (f64, f64),
    fired_s: Vec<f64>,
}

impl Plan for Wave {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        values.push(levels_m[1] - self.mark_m);
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], _elements: &mut [Element]) {
        if event != Event::Start {
            self.fired_s.push(t_s);
        }
    }

    fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        if self.peak.1 < levels_m[1] {
            self.peak = (t_s, levels_m[1]);
        }
    }
}

/// A tank that is filled from one above and drains into one below: it rises, turns and falls.
fn wave(mark_m: f64, level_m: f64) -> Wave {
    let names = [("above", 0.5), ("middle", 0.0), ("below", -1.0)];
    let tanks = names.map(|(name, floor_m)| Tank::prism(name, floor_m, 0.1)).to_vec();
    let element = |up: usize| Element {
        name: format!("way {up}"),
        kind: Kind::Given,
        up,
        down: up + 1,
        law: Law::rectangle(if up == 0 { 0.5 } else { 0.0 }, f64::INFINITY, 0.01),
        scale: 1.0,
        lean: 0.0,
    };
    let mut network = Network { tanks, elements: vec![element(0), element(1)] };
    let volumes = network.volumes(&[0.8, 0.0, -1.0]);
    let mut plan = Wave { mark_m, peak: (0.0, f64::NEG_INFINITY), fired_s: vec![] };
    let options = TransientOptions { level_m, ..TransientOptions::default() };
    transient(&mut network, &volumes, 2000.0, &mut plan, &options).expect("sound");
    plan
}

#[test]
fn a_peak_between_two_steps_is_seen_and_fires() {
    let exact = wave(1.0, 1e-9);
    let usual = wave(1.0, 1e-5);
    assert!(exact.fired_s.is_empty() && usual.fired_s.is_empty());
    assert!((exact.peak.1 - usual.peak.1).abs() < 1e-5, "{:?} {:?}", exact.peak, usual.peak);
    // It stands above this mark for less than a step, and comes up to it but once.
    let touched = wave(usual.peak.1 - 1e-6, 1e-5);
    let [t] = touched.fired_s[..] else { panic!("fired at {:?} s", touched.fired_s) };
    assert!((t - usual.peak.0).abs() < 3.0, "{t} s, peak at {} s", usual.peak.0);
}

#[test]
fn runs_that_are_given_up_say_why_and_how_far_they_came() {
    let network = filling();
    let volumes = network.volumes(&[1.0, 0.0]);
    let stop = |options: TransientOptions| {
        let clock = (1..100).map(f64::from).collect();
        let mut plan = Watched { clock, marks_m: vec![], fired: vec![] };
        transient(&mut network.clone(), &volumes, 1000.0, &mut plan, &options).expect("sound")
    };
    let run = stop(TransientOptions { max_events: 10, ..TransientOptions::default() });
    assert_eq!((run.stop, run.events), (Stop::TooManyEvents, 10));
    assert!((run.t_s - 10.0).abs() < 1e-12 && (run.levels_m[1] - 1e-3).abs() < 1e-12);
    let run = stop(TransientOptions { max_steps: 10, ..TransientOptions::default() });
    assert_eq!((run.stop, run.steps), (Stop::TooManySteps, 10));
    assert!(0.0 < run.t_s && run.t_s < 100.0);

    // A network without any discharge that is a number cannot take a step.
    let mut broken = network.clone();
    broken.elements[0].law = Law::rate(f64::NAN, None);
    let run = transient(&mut broken, &volumes, 1.0, &mut (), &TransientOptions::default());
    assert_eq!(run.expect("sound").stop, Stop::StepTooSmall);
}

#[test]
fn plans_that_break_the_rules_are_refused() {
    struct Back;
    impl Plan for Back {
        fn next_time_s(&self, _after_s: f64) -> f64 {
            5.0
        }
    }
    struct Away;
    impl Plan for Away {
        fn fire(&mut self, _event: Event, _t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
            elements[0].down = 7;
        }
    }
    let volumes = filling().volumes(&[1.0, 0.0]);
    let options = TransientOptions::default();
    let back = transient(&mut filling(), &volumes, 10.0, &mut Back, &options);
    assert!(matches!(back, Err(TransientError::Clock { .. })), "{back:?}");
    let endless = transient(&mut filling(), &volumes, f64::INFINITY, &mut (), &options);
    assert!(matches!(endless, Err(TransientError::Endless { .. })), "{endless:?}");
    let away = transient(&mut filling(), &volumes, 10.0, &mut Away, &options);
    assert!(matches!(away, Err(TransientError::Network(_))), "{away:?}");
}

/// Keeps a curve.
#[derive(Default)]
struct Curve(Trace);

impl Plan for Curve {
    fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        self.0.see(t_s, levels_m);
    }

    fn resolution_m(&self) -> f64 {
        1e-3
    }
}

#[test]
fn a_curve_is_dense_enough_to_draw() {
    let mut network = sump();
    let start_m = at_rest(&network);
    set(&mut network.elements, "pump", 0.0);
    let mut plan = Curve::default();
    let end_m = run(&mut network, &start_m, 3600.0, &mut plan).levels_m;
    let samples = plan.0.into_samples();
    assert!(50 < samples.len() && samples.len() <= 2001, "{} samples", samples.len());
    let last = samples.last().expect("some");
    assert!(
        (last.t_s - 3600.0).abs() < 1e-9 && (last.levels_m[RETURN] - end_m[RETURN]).abs() < 1e-12
    );
    for pair in samples.windows(2) {
        for (a, b) in pair[0].levels_m.iter().zip(&pair[1].levels_m) {
            // A part of a step may be crooked, so it is not exact.
            assert!((a - b).abs() < 3e-3, "{a} to {b} m at {} s", pair[1].t_s);
        }
    }
}

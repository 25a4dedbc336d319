//! How long levels at rest take from a cold and from a warm start, and how long a day takes, for a sump of
//! ten tanks. At least 250,000 warm states a second on one core are wanted.

#[path = "../tests/cases/sump.rs"]
mod sump;

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sump::{BOX, DISPLAY, FLOW_M3_S, HELD, ORDER, RETURN, START_M, sump};
use water::{
    Network, SteadyOptions, SteadySolver, TransientOptions, start_levels, steady, transient,
};

const DAY_S: f64 = 86_400.0;

fn at_rest(network: &Network) -> Vec<f64> {
    let mut levels = START_M;
    start_levels(network, &HELD, &ORDER, FLOW_M3_S, &mut levels);
    steady(network, &HELD, &levels, &SteadyOptions::default()).expect("balanced").levels_m
}

fn rest(c: &mut Criterion) {
    let network = sump();
    let options = SteadyOptions::default();
    let rest = at_rest(&network);
    assert!(rest[BOX] < rest[DISPLAY]);
    let mut solver = SteadySolver::new(&network).expect("a sound network");
    let mut group = c.benchmark_group("rest");
    group.throughput(Throughput::Elements(1));
    let mut i = 0_u32;
    let mut next_return_m = || {
        i = (i + 1) % 1000;
        0.14 + 0.06 * f64::from(i) / 1000.0
    };
    group.bench_function("cold", |b| {
        b.iter(|| {
            let mut levels = START_M;
            levels[RETURN] = next_return_m();
            start_levels(&network, &HELD, &ORDER, FLOW_M3_S, &mut levels);
            solver.solve(black_box(&network), &HELD, &mut levels, &options)
        });
    });
    let mut levels = rest;
    group.bench_function("warm", |b| {
        b.iter(|| {
            levels[RETURN] = next_return_m();
            solver.solve(black_box(&network), &HELD, &mut levels, &options)
        });
    });
    group.finish();
}

fn day(c: &mut Criterion) {
    let running = sump();
    let volumes = running.volumes(&at_rest(&running));
    let scaled = |changes: &[(&str, f64)]| {
        let mut network = running.clone();
        for (name, scale) in changes {
            for e in network.elements.iter_mut().filter(|e| e.name == *name) {
                e.scale = *scale;
            }
        }
        network
    };
    let mut group = c.benchmark_group("day");
    group.sample_size(20);
    for (name, network) in [
        ("pump off", scaled(&[("pump", 0.0), ("main drain", 0.35)])),
        ("main drain blocked", scaled(&[("main drain", 0.0)])),
        ("evaporation", running.clone()),
    ] {
        group.bench_function(name, |b| {
            b.iter(|| {
                let mut network = network.clone();
                transient(&mut network, &volumes, DAY_S, &mut (), &TransientOptions::default())
            });
        });
    }
    group.finish();
}

criterion_group!(benches, rest, day);
criterion_main!(benches);

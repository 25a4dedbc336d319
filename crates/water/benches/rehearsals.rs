//! How long the rehearsals of the largest demo take, once and with bands, and how many levels at rest are
//! found a second from a warm start, on one thread and on two. Wanted on one core: all rehearsals in 15 ms
//! without bands and in 100 ms with them; on two cores 500,000 levels at rest a second.
//!
//! To compare with another implementation of the same model, run the example `speed` with a parameter file:
//! it prints the same as one line of JSON, the best of several rounds.

use std::hint::black_box;
use std::thread;
use std::time::{Duration, Instant};

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use design::Waterworks;
use water::{Failure, Running, Setting, SteadyOptions, SteadySolver, rehearse, rehearse_once};

const FRAGFARM: &str = include_str!("../../../params/fragfarm.toml");

/// What the file says of its water.
fn works() -> Waterworks {
    let file = params::read(FRAGFARM).file.expect("the demo is sound");
    design::resolve(&file).design.expect("the demo resolves").waterworks
}

fn playing(c: &mut Criterion) {
    let works = works();
    let running = Running::new(&works, Setting::default()).expect("the demo runs");
    let failures = water::standing(&works);
    let mut group = c.benchmark_group("all rehearsals");
    group.sample_size(10);
    group.throughput(Throughput::Elements(failures.len() as u64));
    let all = |play: &dyn Fn(&Failure)| failures.iter().for_each(play);
    group.bench_function("once", |b| {
        b.iter(|| all(&|failure| drop(black_box(rehearse_once(&running, failure)))));
    });
    group.bench_function("with bands", |b| {
        b.iter(|| all(&|failure| drop(black_box(rehearse(&running, failure)))));
    });
    group.finish();
}

/// So many levels at rest while the level kept in the return chamber wanders over 10 mm.
fn states(running: &Running<'_>, count: u64) {
    let network = &running.system.network;
    let mut solver = SteadySolver::new(network).expect("the network is sound");
    let (held, returning) = (running.system.held(), running.system.tanks.returning);
    let options = SteadyOptions::default();
    let mut levels_m = running.levels_m.clone();
    let kept_m = levels_m[returning];
    for i in 0..count {
        levels_m[returning] = kept_m - 1e-5 * (i % 1000) as f64;
        let settled = solver.solve(network, &held, &mut levels_m, &options);
        black_box(settled).expect("the flows balance");
    }
}

fn resting(c: &mut Criterion) {
    let works = works();
    let running = Running::new(&works, Setting::default()).expect("the demo runs");
    let mut group = c.benchmark_group("levels at rest");
    group.throughput(Throughput::Elements(1));
    let time = |work: &dyn Fn()| -> Duration {
        let begun = Instant::now();
        work();
        begun.elapsed()
    };
    group.bench_function("warm, one thread", |b| {
        b.iter_custom(|count| time(&|| states(&running, count)));
    });
    group.bench_function("warm, two threads", |b| {
        b.iter_custom(|count| {
            time(&|| {
                thread::scope(|scope| {
                    scope.spawn(|| states(&running, count / 2));
                    scope.spawn(|| states(&running, count - count / 2));
                });
            })
        });
    });
    group.finish();
}

criterion_group!(benches, playing, resting);
criterion_main!(benches);

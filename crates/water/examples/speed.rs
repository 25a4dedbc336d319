//! How fast water is computed for one parameter file: `cargo run --release -p water --example speed FILE`.
//!
//! Prints one line of JSON for comparison with other implementations of the same model:
//! `once_ms`, all standing rehearsals as best estimates; `bands_ms`, the same with bands; `steady_per_s`,
//! levels at rest from a warm start on one thread; `steady_per_s_two_threads`. Times are the best of
//! several, since other work on the machine only ever adds to them.

#![expect(clippy::print_stdout, reason = "the line is its output")]

use std::hint::black_box;
use std::process::ExitCode;
use std::time::Instant;

use water::{Failure, Running, Setting, SteadyOptions, SteadySolver, rehearse, rehearse_once};

/// Measured so often.
const ROUNDS: usize = 7;
/// Levels at rest in one measurement.
const STATES: u32 = 100_000;

fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        println!("give the path of a parameter file");
        return ExitCode::FAILURE;
    };
    let read = std::fs::read_to_string(&path).map_err(|error| error.to_string());
    match read.and_then(|text| measure(&text)) {
        Ok(line) => {
            println!("{line}");
            ExitCode::SUCCESS
        }
        Err(why) => {
            println!("{path}: {why}");
            ExitCode::FAILURE
        }
    }
}

fn measure(text: &str) -> Result<String, String> {
    let file = params::read(text).file.ok_or("the file cannot be read")?;
    let design = design::resolve(&file).design.ok_or("the file cannot be resolved")?;
    let running = Running::new(&design.waterworks, Setting::default());
    let running = running.map_err(|error| error.to_string())?;
    let failures = water::standing(&design.waterworks);
    let mut steps = 0;
    let once_ms = best_ms(|| {
        steps = failures.iter().map(|f| steps_of(&running, f)).sum();
    });
    let bands_ms = best_ms(|| {
        for failure in &failures {
            let _ = black_box(rehearse(&running, failure));
        }
    });
    let one = f64::from(STATES) / best_ms(|| states(&running)) * 1e3;
    let two = 2.0 * f64::from(STATES) / 1e-3 / best_ms(|| two_threads(&running));
    Ok(format!(
        "{{\"rehearsals\": {}, \"steps\": {steps}, \"once_ms\": {once_ms:.3}, \
         \"bands_ms\": {bands_ms:.3}, \"steady_per_s\": {one:.0}, \
         \"steady_per_s_two_threads\": {two:.0}}}",
        failures.len()
    ))
}

fn steps_of(running: &Running<'_>, failure: &Failure) -> usize {
    black_box(rehearse_once(running, failure)).map_or(0, |outcome| outcome.steps)
}

fn best_ms(mut work: impl FnMut()) -> f64 {
    let once = |_| {
        let begun = Instant::now();
        work();
        begun.elapsed().as_secs_f64() * 1e3
    };
    (0..ROUNDS).map(once).fold(f64::INFINITY, f64::min)
}

/// Levels at rest again and again while the level kept in the return chamber wanders over 10 mm.
fn states(running: &Running<'_>) {
    let network = &running.system.network;
    let Ok(mut solver) = SteadySolver::new(network) else { return };
    let (held, returning) = (running.system.held(), running.system.tanks.returning);
    let options = SteadyOptions::default();
    let mut levels_m = running.levels_m.clone();
    for i in 0..STATES {
        levels_m[returning] = running.levels_m[returning] - 0.01 * f64::from(i % 1000) / 1000.0;
        let _ = black_box(solver.solve(network, &held, &mut levels_m, &options));
    }
}

fn two_threads(running: &Running<'_>) {
    std::thread::scope(|scope| {
        scope.spawn(|| states(running));
        scope.spawn(|| states(running));
    });
}

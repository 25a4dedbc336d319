//! Times, on one thread, how long all panels of some files take to be bent by all their loads, once for each way that their seams
//! can be held, without trials of other sheets and rims:
//!
//! `cargo run --release -p strength --example pace -- params/seahorse.toml params/fragfarm.toml`
//!
//! The least of many runs counts: others that run on the machine only make it longer. Levels and heads are made up so that every
//! load there can be is there. The second figure is that of the panels twice over.
#![expect(clippy::print_stdout, reason = "it tells what it has measured")]

use std::hint::black_box;
use std::time::Instant;

use bending::bend;
use design::Design;
use strength::{Head, Levels, Task, Waters, tasks};

/// So often each is timed.
const RUNS: usize = 40;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    for path in std::env::args().skip(1) {
        let read = params::read(&std::fs::read_to_string(&path)?);
        let file = read.file.ok_or("it is not read: check it first")?;
        let design = design::resolve(&file).design.ok_or("it has no design: check it first")?;
        let all = tasks(&file, &design, &waters(&design));
        let loads: usize = all.iter().map(|task| task.loads.len()).sum();
        let twice = [all.clone(), all.clone()].concat();
        let (once_ms, twice_ms) = (least_ms(&all)?, least_ms(&twice)?);
        println!(
            "{path}: {} plates, {loads} loads on them: {once_ms:.1} ms; twice over {twice_ms:.1} ms, {:.2} times",
            all.len(),
            twice_ms / once_ms
        );
    }
    Ok(())
}

fn least_ms(tasks: &[Task]) -> Result<f64, bending::Error> {
    let mut least = f64::INFINITY;
    for _ in 0..RUNS {
        let begun = Instant::now();
        for task in tasks {
            black_box(bend(black_box(&task.plate), &task.loads)?);
        }
        least = least.min(1e3 * begun.elapsed().as_secs_f64());
    }
    Ok(least)
}

/// Levels and rehearsals such that every load there can be is there.
fn waters(design: &Design) -> Waters {
    let basins = &design.waterworks.basins;
    let name = "a rehearsal";
    let levels = basins.iter().map(|basin| Levels {
        running_mm: 0.6 * basin.rim_mm,
        running_low_mm: 0.55 * basin.rim_mm,
        highest_mm: 0.8 * basin.rim_mm,
        highest_in: name.to_owned(),
    });
    let pairs = (0..basins.len()).flat_map(|a| (0..basins.len()).map(move |b| [a, b]));
    let heads = pairs.filter(|[a, b]| a != b).map(|basins| Head {
        basins,
        levels_mm: [200.0, 100.0],
        name: name.to_owned(),
    });
    Waters { density_kg_m3: 1025.0, basins: levels.collect(), heads: heads.collect() }
}

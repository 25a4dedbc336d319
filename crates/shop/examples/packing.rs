//! Packs problems whose best results are known, and prints a table of ours beside them.
//!
//! `cargo run --release -p shop --example packing tests/outside/packing/*.txt [--rounds N] [--seeds N]`
//!
//! Each problem with sheets is packed as often as `--seeds` says, with other dice, and the best is told: so the best
//! known prices in `best_known.txt` were made.

#![expect(clippy::print_stdout, reason = "it is run to be read")]

mod bench;

use std::time::Instant;

use bench::{Bench, Problem, Task};
use shop::nest::{Item, Kind, Nest, Rules, least_height, nest};

/// Rounds for a problem with sheets with each of its dice: a second for a hundred items.
const ROUNDS: usize = 100_000;
/// So many dice: some problems are stuck with one, however long they are thrown.
const SEEDS: usize = 8;

fn main() {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let mut option = |name: &str, default: usize| {
        let Some(at) = arguments.iter().position(|argument| argument == name) else {
            return default;
        };
        let value = arguments.drain(at..at + 2).nth(1).and_then(|value| value.parse().ok());
        value.unwrap_or_else(|| panic!("{name} takes a number"))
    };
    let (rounds, seeds) = (option("--rounds", ROUNDS), option("--seeds", SEEDS));
    let bench = Bench::read(arguments.iter());
    println!("name                 items     ours  best known    bound   ratio  seconds");
    for Problem { name, task } in &bench.problems {
        let begin = Instant::now();
        let (items, ours, known, bound) = match task {
            Task::Strip { width, wanted, optimum } => {
                let (height, _) =
                    least_height(*width, wanted).expect("none is wider than the strip");
                (wanted.len(), f(height), Some(f(*optimum)), f(*optimum))
            }
            Task::Sheets { kinds, items } => {
                let best = best_of(items, kinds, rounds, seeds);
                let known = bench.best_known.get(name).map(|cost| *cost as f64);
                (items.len(), best.cost as f64, known, best.bound as f64)
            }
        };
        let (beside, shown) =
            known.map_or((bound, "-".to_owned()), |known| (known, known.to_string()));
        let seconds = begin.elapsed().as_secs_f64();
        println!(
            "{name:20} {items:5} {ours:8} {shown:>11} {bound:8} {:7.4} {seconds:8.2}",
            ours / beside
        );
    }
}

fn best_of(items: &[Item], kinds: &[Kind], rounds: usize, seeds: usize) -> Nest {
    let one = |seed| {
        let rules = Rules { rounds, tidying: 0, seed: seed as u64, is_guillotine: false };
        nest(items, kinds, rules).expect("it has sheets enough")
    };
    (1..=seeds).map(one).min_by_key(|nest| nest.cost).expect("at least one")
}

fn f(height: i32) -> f64 {
    f64::from(height)
}

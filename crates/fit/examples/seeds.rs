//! Whether parameter files are judged alike whatever the dice of the search: for each file what comes out, and after
//! what, with ten seeds. Ends with an error where any seed differs from the first.
//!
//! `cargo run --release -p fit --example seeds params/*.toml`
//!
//! Two things are told apart. *Whether* a part comes out at all must never differ. *After what* it does may still be
//! luck where a way is narrow: a search that misses it finds a way after others have gone.

#![expect(clippy::print_stdout, reason = "it is run to be read")]

use std::process::ExitCode;
use std::time::Instant;

use fit::Fit;
use rayon::prelude::*;

const SEEDS: u32 = 10;

/// What is said of one part: its name, and what comes out for it, in order; nothing when no way is known.
type Said = (String, Vec<String>);

fn main() -> ExitCode {
    let mut n_differing = 0;
    for path in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&path).expect("a file");
        let begin = Instant::now();
        let all: Vec<Vec<Said>> =
            (1..=SEEDS).into_par_iter().map(|seed| said(&text, seed)).collect();
        let took_s = begin.elapsed().as_secs_f64() / f64::from(SEEDS);
        let [verdicts, orders] = [is_other_verdict, is_other_order].map(|is_other| {
            let differs = |of: &&Vec<Said>| of.iter().zip(&all[0]).any(|(a, b)| is_other(a, b));
            all.iter().filter(differs).count()
        });
        println!(
            "{path}: {} parts, {took_s:.2} s a seed; of {SEEDS} seeds {verdicts} with another verdict, {orders} with another order",
            all[0].len()
        );
        for (seed, of) in (1..).zip(&all) {
            for (is, first) in of.iter().zip(&all[0]).filter(|(is, first)| is != first) {
                println!("  seed {seed}: {}: {:?}, not {:?}", is.0, is.1, first.1);
            }
        }
        n_differing += verdicts + orders;
    }
    if n_differing == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn is_other_verdict((_, a): &Said, (_, b): &Said) -> bool {
    a.is_empty() != b.is_empty()
}

fn is_other_order((_, a): &Said, (_, b): &Said) -> bool {
    a != b
}

fn said(text: &str, seed: u32) -> Vec<Said> {
    let read = params::read(text);
    let mut file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
    file.fit.seed = seed;
    let design = design::resolve(&file).design.expect("it resolves");
    let name = |way: &fit::Way| design.removables[way.removable].name.clone();
    let steps = |way: &fit::Way| way.steps.iter().map(|step| step.name.clone()).collect();
    Fit::of(&design).report.ways.iter().map(|way| (name(way), steps(way))).collect()
}

//! Tells of a parameter file what comes out, how, and how long it took to find.
//!
//! `cargo run --release -p fit --example ways params/seahorse.toml`

#![expect(clippy::print_stdout, reason = "it is run to be read")]

use std::time::Instant;

use fit::{Cure, Fit, Verdict, World};

fn main() {
    for path in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&path).expect("a file");
        let read = params::read(&text);
        let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
        let design = design::resolve(&file).design.expect("it resolves");
        let begin = Instant::now();
        let world = World::of(&design);
        let world_s = begin.elapsed().as_secs_f64();
        let begin = Instant::now();
        let fit = Fit::of(&design);
        println!(
            "{path}: {} things, {} pieces; world {world_s:.3} s, all {:.3} s",
            world.things.len(),
            world.things.iter().map(|t| t.coarse.len()).sum::<usize>(),
            begin.elapsed().as_secs_f64()
        );
        for way in &fit.report.ways {
            let name = &design.removables[way.removable].name;
            let alone = match &way.alone {
                Verdict::Found(_) => "free".to_owned(),
                Verdict::StartsInClash { with } => {
                    let names: Vec<_> = with.iter().map(|t| &world.things[*t].name).collect();
                    format!("starts in clash with {names:?}")
                }
                Verdict::NotFound { steps } => format!("none in {steps} steps"),
                Verdict::ProvedNone(proof) => format!("proved none: {proof:?}"),
            };
            println!("  {name}: {alone}");
            if way.steps.len() > 1 {
                let names: Vec<_> = way.steps.iter().map(|s| s.name.as_str()).collect();
                println!("    {} {}", names.join(" > "), way.is_shortest);
            }
            if let Some(step) = way.steps.last() {
                println!("    {} (least gap {:.2})", step.sentence(), step.least_gap_mm);
            } else {
                println!(
                    "    blocked by {:?}; cure {:?}",
                    way.blocked_by,
                    way.cure.as_ref().map(cure)
                );
            }
        }
        let names: Vec<_> = fit.report.emptying.iter().map(|s| s.name.as_str()).collect();
        println!("  emptying: {}", names.join(" > "));
        for finding in fit::grade(&fit, &design) {
            println!("{finding}");
        }
    }
}

fn cure(cure: &Cure) -> String {
    serde_json::to_string(cure).expect("plain data")
}

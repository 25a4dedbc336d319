//! Writes random plates as STEP files, with what a reader must find in them, for
//! `tests/outside/step_judge.py`:
//!
//! `cargo run --release -p export --example random_plates -- FOLDER COUNT`
#![expect(clippy::print_stdout, reason = "it tells what it has written")]

use export::step::{Assembly, Expectations, Product, write};
use plate::{Shape, sample};
use solid::{Error, checked};
use std::error::Error as StdError;
use std::path::Path;

const TIME_STAMP: &str = "2000-01-01T00:00:00";
const CHORD_ERROR_MM: f64 = 0.1;

fn main() -> Result<(), Box<dyn StdError>> {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, folder, count] = arguments.as_slice() else {
        return Err("which folder, and how many plates?".into());
    };
    let (folder, count) = (Path::new(folder), count.parse::<usize>()?);
    std::fs::create_dir_all(folder.join("checks"))?;
    let mut parts = Vec::new();
    let mut seed = 0;
    while parts.len() < count {
        parts.extend(part(folder, seed)?);
        seed += 1;
    }
    let title = format!("{count} random plates");
    let all = Expectations { assembly: None, title, parts, instances: vec![], glued: vec![] };
    std::fs::write(folder.join("checks/solids.json"), serde_json::to_string_pretty(&all)?)?;
    println!("{count} plates; {} more were refused by name", seed - count as u64);
    Ok(())
}

/// Writes one plate; nothing if it is refused by name.
fn part(
    folder: &Path,
    seed: u64,
) -> Result<Vec<export::step::PartExpectations>, Box<dyn StdError>> {
    let made = match checked(&Shape::Sheet(sample::plate(seed)), CHORD_ERROR_MM) {
        Ok(made) => made,
        Err(Error::Plate(_) | Error::Defect(_) | Error::Unmeshable { .. }) => return Ok(vec![]),
        Err(error) => return Err(error.into()),
    };
    let name = format!("plate {seed:05}");
    let file = format!("{seed:05}.step");
    let products = vec![Product { name: &name, colour: [0, 128, 255], solid: &made.solid }];
    let assembly = Assembly { title: &name, time_stamp: TIME_STAMP, products, instances: vec![] };
    std::fs::write(folder.join(&file), write(&assembly)?)?;
    Ok(Expectations::new(&assembly, None, &[("", &file)], vec![]).parts)
}

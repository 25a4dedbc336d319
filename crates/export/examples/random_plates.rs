//! Writes random plates, and a tenth as many turned bodies, as STEP files, with what a reader must
//! find in them, for `tests/outside/step_judge.py`:
//!
//! `cargo run --release -p export --example random_plates -- FOLDER COUNT`
#![expect(clippy::print_stdout, reason = "it tells what it has written")]

use export::step::{Assembly, Expectations, PartExpectations, Product, write};
use plate::{Shape, sample};
use solid::{Error, Solid, checked};
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
    let plate = |seed| Shape::Sheet(sample::plate(seed));
    let turned = |seed| Shape::Turned(sample::turned(seed));
    let mut parts = some_parts(folder, "plate", plate, count)?;
    parts.extend(some_parts(folder, "body", turned, count.div_ceil(10))?);
    let title = "random parts".to_owned();
    let all = Expectations { assembly: None, title, parts, instances: vec![], glued: vec![] };
    std::fs::write(folder.join("checks/solids.json"), serde_json::to_string_pretty(&all)?)?;
    Ok(())
}

/// Writes `count` parts that are not refused.
fn some_parts(
    folder: &Path,
    kind: &str,
    shape: impl Fn(u64) -> Shape,
    count: usize,
) -> Result<Vec<PartExpectations>, Box<dyn StdError>> {
    let mut parts = Vec::new();
    let mut refused = 0;
    for seed in 0.. {
        if parts.len() == count {
            break;
        }
        match checked(&shape(seed), CHORD_ERROR_MM) {
            Ok(made) => {
                parts.push(write_part(folder, &format!("{kind} {seed:05}"), &made.solid)?);
            }
            Err(
                Error::Plate(_) | Error::Turned(_) | Error::Defect(_) | Error::Unmeshable { .. },
            ) => refused += 1,
            Err(error) => return Err(error.into()),
        }
    }
    println!("{kind}: {count} written, {refused} refused by name");
    Ok(parts)
}

fn write_part(
    folder: &Path,
    name: &str,
    solid: &Solid,
) -> Result<PartExpectations, Box<dyn StdError>> {
    let file = format!("{}.step", name.replace(' ', "-"));
    let product = Product { name, colour: [0, 128, 255], solid };
    let assembly = Assembly {
        title: name,
        time_stamp: TIME_STAMP,
        products: vec![product],
        instances: vec![],
    };
    std::fs::write(folder.join(&file), write(&assembly)?)?;
    Ok(PartExpectations::new(&product, "", &file))
}

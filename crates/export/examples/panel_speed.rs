//! Times one panel from its description to its STL and STEP files, for `tests/outside/speed_ratio.py`:
//!
//! `cargo run --release -p export --example panel_speed -- FOLDER N…`
//!
//! For every N, a sheet with N × N slots; prints a line of JSON with milliseconds, the best of five.
#![expect(clippy::print_stdout, reason = "it tells what it has measured")]

#[path = "../benches/slotted/mod.rs"]
mod slotted;

use export::step::{Assembly, Product, write};
use export::stl;
use plate::{Plate, Tolerance, arrange};
use slotted::slotted;
use solid::Solid;
use std::error::Error;
use std::path::Path;
use std::time::{Duration, Instant};

const CHORD_ERROR_MM: f64 = 0.05;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (folder, sizes) =
        arguments.split_first().ok_or("which folder, and how many slots along a side?")?;
    for size in sizes {
        let plate = slotted(size.parse()?);
        let mut best = times(&plate, Path::new(folder))?;
        for _ in 0..4 {
            let again = times(&plate, Path::new(folder))?;
            best = if again.total() < best.total() { again } else { best };
        }
        println!("{}", best.as_json(plate.cuts.len()));
    }
    Ok(())
}

struct Times {
    build: Duration,
    mesh: Duration,
    stl: Duration,
    step: Duration,
    volume_mm3: f64,
    triangles: usize,
}

impl Times {
    fn total(&self) -> Duration {
        self.build + self.mesh + self.stl + self.step
    }

    fn as_json(&self, slots: usize) -> String {
        let ms = |time: Duration| 1e3 * time.as_secs_f64();
        let [build, mesh, stl, step] = [self.build, self.mesh, self.stl, self.step].map(ms);
        serde_json::json!({
            "slots": slots, "build_ms": build, "mesh_ms": mesh, "stl_ms": stl, "step_ms": step,
            "volume_mm3": self.volume_mm3, "triangles": self.triangles,
        })
        .to_string()
    }
}

/// Everything that `make` does with a panel's solid, its checks included.
fn times(plate: &Plate, folder: &Path) -> Result<Times, Box<dyn Error>> {
    let start = Instant::now();
    let solid = Solid::of_plate(&arrange(plate, &Tolerance::default())?)?;
    let build = start.elapsed();
    let start = Instant::now();
    let mesh = solid.checked_mesh(CHORD_ERROR_MM)?;
    let mesh_time = start.elapsed();
    let start = Instant::now();
    std::fs::write(folder.join("panel.stl"), stl::write(&mesh, "panel"))?;
    let stl = start.elapsed();
    let start = Instant::now();
    let products = vec![Product { name: "panel", colour: [200, 220, 240], solid: &solid }];
    let assembly =
        Assembly { title: "panel", time_stamp: "2000-01-01T00:00:00", products, instances: vec![] };
    std::fs::write(folder.join("panel.step"), write(&assembly)?)?;
    let step = start.elapsed();
    let (volume_mm3, triangles) = (solid.volume_mm3(), mesh.triangles.len());
    Ok(Times { build, mesh: mesh_time, stl, step, volume_mm3, triangles })
}

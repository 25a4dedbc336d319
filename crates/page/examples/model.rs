//! Writes the model of a parameter file with every way out as GLB:
//! `cargo run -p page --example model params/mangrove.toml mangrove.glb`.
#![allow(
    clippy::print_stdout,
    clippy::allow_attributes,
    reason = "an example talks to its terminal"
)]

mod common;

use std::path::Path;

use page::glb;

fn main() -> Result<(), common::Reason> {
    let mut arguments = std::env::args().skip(1);
    let [from, to] = [arguments.next(), arguments.next()].map(Option::unwrap_or_default);
    let (scene, show, ..) = common::shown(Path::new(&from))?;
    let bytes = glb::write(&scene, &glb::animations(&show));
    std::fs::write(&to, &bytes)?;
    println!("{to}: {} kB", bytes.len() / 1000);
    Ok(())
}

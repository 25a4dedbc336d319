//! Writes the page of a parameter file: `cargo run -p page --example page params/mangrove.toml mangrove.html`.
#![allow(
    clippy::print_stdout,
    clippy::allow_attributes,
    reason = "an example talks to its terminal"
)]

mod common;

use std::path::Path;

use page::{glb, html};

fn main() -> Result<(), common::Reason> {
    let mut arguments = std::env::args().skip(1);
    let [from, to] = [arguments.next(), arguments.next()].map(Option::unwrap_or_default);
    let (scene, show, section, bending) = common::shown(Path::new(&from))?;
    let model = glb::write(&scene, &[]);
    let text = html::write(&show, &model, &section, &bending);
    std::fs::write(&to, &text)?;
    println!(
        "{to}: {} kB, of it the model {} kB before packing",
        text.len() / 1000,
        model.len() / 1000
    );
    Ok(())
}

//! The live window.
fn main() {}

//! The worlds of the demos.

use std::path::Path;

use design::Design;

use super::*;

pub(crate) fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let read = params::read(&text);
    let file = read.file.unwrap_or_else(|| panic!("{name}: {:#?}", read.findings));
    let resolved = design::resolve(&file);
    resolved.design.unwrap_or_else(|| panic!("{name}: {:#?}", resolved.findings))
}

pub(crate) const DEMOS: [&str; 4] =
    ["brook.toml", "fragfarm.toml", "mangrove.toml", "seahorse.toml"];

#[test]
fn demos_come_to_few_pieces() {
    for name in DEMOS {
        let design = demo(name);
        let world = World::of(&design);
        let counts = |pieces: fn(&Thing) -> usize| world.things.iter().map(pieces).sum::<usize>();
        let (coarse, fine) = (counts(|t| t.coarse.len()), counts(|t| t.fine.len()));
        let most = world.things.iter().max_by_key(|t| t.coarse.len());
        let most = most.map(|t| (&t.name, t.coarse.len()));
        println!("{name}: {} things, {coarse} coarse, {fine} fine, {most:?}", world.things.len());
        let mut all: Vec<_> = world.things.iter().map(|t| (t.coarse.len(), &t.name)).collect();
        all.sort();
        println!("{:?}", all.iter().rev().take(14).collect::<Vec<_>>());
        println!("{:?}", world.exits);
        assert!(coarse <= 400, "{name}: {coarse}");
    }
}

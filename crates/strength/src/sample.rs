//! Sumps that tests are made on.

use design::Design;
use params::File;

/// A plain sump with one loose leaf, one glued one with a door, a sock and a pump. Sheet of just 8 mm.
pub(crate) const PLAIN: &str = r#"
format = 1
title = "Plain"
[sheet.clear]
material = "cast acrylic"
thickness = 8
measured = 8
[box]
outside = { length = 800, width = 400, height = 380 }
sheet = "clear"
rim = { width = 40, braces = [{ at = 400, width = 60 }] }
[leaf.gate]
crest = { height = 280 }
[leaf.gate.door]
bottom = 120
width = 140
height = 100
lowest = 160
highest = 210
[leaf.loose]
mount = "lift-out"
crest = { height = 240, teeth = { width = 8, gap = 8, depth = 30 } }
[[along]]
chamber = "inlet"
length = 240
[[along]]
divider = "first"
slot = ["loose"]
[[along]]
chamber = "middle"
[[along]]
divider = "second"
leaf = "gate"
[[along]]
chamber = "return"
length = 220
level = 120
[[sock_holder]]
chamber = "inlet"
height = 300
socks = 1
sock = { diameter = 100, length = 200 }
bypass = { width = 100, depth = 30 }
[[equipment]]
name = "pump"
kind = "pump"
chamber = "return"
box = [100, 80, 100]
at = [110, 100]
"#;

/// The plain sump with some of its text changed.
pub(crate) fn changed(changes: &[(&str, &str)]) -> (File, Design) {
    let change = |text: String, (from, to): &(&str, &str)| {
        assert!(text.contains(from), "the plain sump has no `{from}`");
        text.replacen(from, to, 1)
    };
    of_text(&changes.iter().fold(PLAIN.to_owned(), change))
}

/// What a text reads and resolves to.
pub(crate) fn of_text(text: &str) -> (File, Design) {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("not read: {:#?}", read.findings));
    let design = design::resolve(&file).design.expect("it resolves");
    (file, design)
}

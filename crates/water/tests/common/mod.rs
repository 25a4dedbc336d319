//! A small sump with its display as a parameter file, and the way from a file to a running system.

#![allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]

use design::Waterworks;
use water::{NotRunning, Running, Setting};

/// A sump of three chambers under a display; cases change one line of it.
pub(crate) const SMALL: &str = r#"
format = 1
title = "Small"
[sheet.clear]
material = "cast acrylic"
thickness = 8
measured = 8
[box]
outside = { length = 800, width = 400, height = 380 }
sheet = "clear"
rim = { width = 40 }
[leaf.first]
crest = { height = 240 }
[leaf.second]
crest = { height = 200 }
[[along]]
chamber = "inlet"
length = 200
[[along]]
divider = "a"
leaf = "first"
[[along]]
chamber = "middle"
[[along]]
divider = "b"
leaf = "second"
[[along]]
chamber = "return"
length = 250
level = 140
[display]
inside = { length = 900, width = 450, height = 500 }
stands = 900
[display.overflow]
crest = { height = 430, width = 400 }
box = { length = 300, width = 100, depth = 200 }
[[drain]]
name = "main"
duty = "main"
chamber = "inlet"
diameter = 40
end = 200
intake = 260
[[drain]]
name = "secondary"
duty = "secondary"
chamber = "inlet"
diameter = 50
at = [50, 60]
end = 200
intake = 370
[[drain]]
name = "emergency"
duty = "emergency"
chamber = "inlet"
diameter = 50
at = [50, 200]
end = 200
intake = 390
[[equipment]]
name = "pump"
kind = "pump"
chamber = "return"
box = [100, 80, 100]
flow = 4000
head = 3500
intake = 30
[[return_line]]
pump = "pump"
bore = 25
length = 2000
outlet = 400
break_hole = 410
[top_up]
reservoir = 10
rate = 6
"#;

/// A file with some lines replaced, each of which must be there once.
pub(crate) fn changed(text: &str, changes: &[(&str, &str)]) -> String {
    let mut text = text.to_owned();
    for (from, to) in changes {
        assert_eq!(text.matches(from).count(), 1, "`{from}` must be there once");
        text = text.replacen(from, to, 1);
    }
    text
}

/// What a file says of its water.
#[track_caller]
pub(crate) fn works(text: &str) -> Waterworks {
    let read = params::read(text);
    let Some(file) = read.file else { panic!("{:?}", read.findings) };
    let resolved = design::resolve(&file);
    resolved.design.unwrap_or_else(|| panic!("{:?}", resolved.findings)).waterworks
}

/// The system of waterworks as the file sets it.
pub(crate) fn run(works: &Waterworks) -> Result<Running<'_>, NotRunning> {
    Running::new(works, Setting::default())
}

//! A plain sump, and what a maker is told when one line of it is another.

use crate::common::found_in;

/// A plain sump that resolves without findings; cases change one line of it.
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
[[wall_fitting]]
name = "out"
wall = "far-end"
at = 200
height = 250
hole = 40
flange = 60
[[equipment]]
name = "pump"
kind = "pump"
chamber = "return"
box = [100, 80, 100]
at = [110, 100]
[[level_marks]]
chamber = "return"
from = 50
to = 250
"#;

/// Changes pieces of the plain sump and returns grade, code and parameter of all that is wrong, a line each.
pub(crate) fn found(from: &str, to: &str) -> String {
    assert!(from.is_empty() || PLAIN.contains(from), "the plain sump has no `{from}`");
    found_in(&PLAIN.replacen(from, to, 1))
}

/// The case must find exactly these codes with these parameters.
#[track_caller]
pub(crate) fn check(from: &str, to: &str, expected: &[(&str, &str)]) {
    let text = found(from, to);
    let heads: Vec<(&str, &str)> = text
        .lines()
        .filter_map(|line| {
            let mut words = line.split(' ').skip(1);
            Some((words.next()?, words.next()?.trim_end_matches(':')))
        })
        .collect();
    assert_eq!(heads, expected, "\n{text}");
}

//! Level directions as the keeper names them.

use glam::DVec2;
use units::System;

use super::length::length;
use super::{ALONG_DEG, NO_SLIDE_MM, degrees};

/// Names of the two directions along x and along y, backwards and forwards.
const NAMES: [[&str; 2]; 2] = [["the inlet end", "the far end"], ["the front", "the back"]];

fn name(axis: usize, value: f64) -> &'static str {
    NAMES[axis][usize::from(0.0 < value)]
}

/// A level slide: `120 mm towards the inlet end`, or by both its parts, the longer first.
pub(crate) fn along(by: DVec2, system: System) -> String {
    let [first, second] = by_size(by);
    let part = |axis: usize| {
        format!("{} towards {}", length(by[axis].abs(), system), name(axis, by[axis]))
    };
    let is_second_heard = is_heard(by, second) && NO_SLIDE_MM < by[second].abs();
    if is_second_heard { format!("{} and {}", part(first), part(second)) } else { part(first) }
}

/// A level direction: `the front`, or between two `the corner of the front and the far end, 27° off the front`, the
/// nearer first.
pub(super) fn level_words(direction: DVec2) -> String {
    let [first, second] = by_size(direction);
    let near = name(first, direction[first]);
    if is_heard(direction, second) {
        let far = name(second, direction[second]);
        let off = libm::atan2(direction[second].abs(), direction[first].abs()).to_degrees();
        format!("the corner of {near} and {far}, {} off {near}", degrees(off))
    } else {
        near.to_owned()
    }
}

/// The edge of something that lies, on that side: `its back edge`, `its edge at the far end`, or a corner.
pub(super) fn edge(side: DVec2) -> String {
    let [first, second] = by_size(side);
    match name(first, side[first]) {
        _ if is_heard(side, second) => {
            let corner = level_words(side);
            format!("its side towards {corner},")
        }
        "the front" => "its front edge".to_owned(),
        "the back" => "its back edge".to_owned(),
        end => format!("its edge at {end}"),
    }
}

/// The axes, the one with more first.
fn by_size(v: DVec2) -> [usize; 2] {
    if v.x.abs() < v.y.abs() { [1, 0] } else { [0, 1] }
}

/// Whether the lesser part is worth a word.
fn is_heard(v: DVec2, second: usize) -> bool {
    libm::sin(ALONG_DEG.to_radians()) * v.length() < v[second].abs()
}

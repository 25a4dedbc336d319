//! Level marks with numbers, engraved on a wall at their true heights.

mod safe_level;

use findings::Finding;
use glam::{DVec2, DVec3};
use params::{LevelMarks, MarkUnit, Reading, Wall};
use plate::Engraving;

use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::resolve::SafeLevel;
use crate::spaces::{Layout, Space};
use safe_level::Room;

/// Height of the numbers, mm; 5 mm lettering reads at arm's length (ISO 3098 series 2.5/3.5/5/7).
const NUMBER_MM: f64 = 5.0;

/// Engraves the scales, and on those of its chamber the highest safe running level, if it is known.
pub(crate) fn build(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    highest_safe: Option<&SafeLevel>,
) {
    for (i, marks) in b.file.level_marks.iter().enumerate() {
        if let Some(chamber) = layout.chamber(&marks.chamber) {
            let highest_safe = highest_safe.filter(|level| level.chamber == marks.chamber);
            engrave(b, enclosure, chamber, marks, highest_safe, &format!("level_marks[{i}]"));
        }
    }
}

fn engrave(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    chamber: &Space,
    marks: &LevelMarks,
    highest_safe: Option<&SafeLevel>,
    parameter: &str,
) {
    let host = enclosure.wall(marks.wall);
    let [inside_lo, inside_hi] = enclosure.inside;
    let borders = match marks.wall {
        Wall::Front => chamber.min.y <= inside_lo.y,
        Wall::Back => chamber.max.y >= inside_hi.y,
        Wall::InletEnd => chamber.min.x <= inside_lo.x,
        Wall::FarEnd => chamber.max.x >= inside_hi.x,
    };
    if !borders {
        let message = format!("chamber `{}` does not touch this wall", chamber.name);
        b.find(
            Finding::fails("marks-on-other-wall", format!("{parameter}.wall"), message)
                .with_hint("choose a wall of the box that the chamber touches"),
        );
        return;
    }
    let mut scale = strokes(marks);
    if !check_heights(b, &scale, enclosure.inside_height_mm(), parameter) {
        return;
    }
    let sheet_is_clear = b.sheet(None).look.is_clear;
    // The back wall stands away from the keeper, and nobody reads through an opaque one.
    let natural =
        if sheet_is_clear && marks.wall != Wall::Back { Reading::Outside } else { Reading::Inside };
    let read_from = marks.read_from.unwrap_or(natural);
    if read_from == Reading::Outside && !sheet_is_clear {
        let message = "marks cannot be read through a sheet that is not clear";
        b.find(
            Finding::fails("marks-behind-sheet", format!("{parameter}.read_from"), message)
                .with_hint("set `read_from = \"inside\"`"),
        );
    }
    let near = match marks.wall {
        Wall::Front | Wall::Back => DVec2::new(chamber.min.x + marks.at.to_mm(), host.plane),
        Wall::InletEnd | Wall::FarEnd => DVec2::new(host.plane, chamber.min.y + marks.at.to_mm()),
    };
    // To the reader's right: outside, the reader looks along the face's inward direction.
    let looking = if read_from == Reading::Outside { host.inward } else { -host.inward };
    let right = looking.cross(DVec3::Z);
    let to_local =
        |p: DVec2| host.local(near.extend(enclosure.floor_z) + right * p.x + DVec3::Z * p.y);
    if !is_beside(chamber, marks, &scale) {
        let message = format!("the scale reaches out of chamber `{}`", chamber.name);
        b.find(
            Finding::fails("marks-outside-chamber", format!("{parameter}.at"), message).with_hint(
                "move it with `at`, the distance of its middle from the chamber's near side",
            ),
        );
        return;
    }
    if let Some(level) = highest_safe {
        let [near_mm, far_mm] = beside(chamber, marks);
        // The reader's right may run either way along the wall.
        let is_along = right.x + right.y > 0.0;
        let beside_mm = if is_along { [near_mm, far_mm] } else { [far_mm, near_mm] };
        let room = Room { beside_mm, top_mm: enclosure.inside_height_mm() };
        scale.extend(safe_level::strokes(b, marks, level, &room, parameter));
    }
    let strokes = scale.into_iter().map(|s| s.into_iter().map(to_local).collect()).collect();
    let face = host.face();
    b.engrave(host.draft, Engraving { face, strokes }, parameter);
}

/// Whether the scale has marks and lies, numbers and all, between the bottom and the wall's upper edge.
fn check_heights(b: &mut Builder<'_>, scale: &[Vec<DVec2>], top: f64, parameter: &str) -> bool {
    let heights = || scale.iter().flatten().map(|p| p.y);
    let (low, high) = (heights().fold(f64::INFINITY, f64::min), heights().fold(0.0, f64::max));
    let finding = if scale.is_empty() {
        let message = "no mark lies between `from` and `to`";
        Finding::fails("marks-too-few", format!("{parameter}.to"), message).with_hint("raise `to`")
    } else if high > top {
        let message = format!(
            "the scale with its numbers reaches {high:.0} mm; the wall ends at {top:.0} mm"
        );
        Finding::fails("marks-above-wall", format!("{parameter}.to"), message)
            .with_limit(top - high, 0.0, "mm")
            .with_hint("lower `to`")
    } else if low < 0.0 {
        let message = format!("the lowest number reaches {:.1} mm into the bottom", -low);
        Finding::fails("marks-in-bottom", format!("{parameter}.from"), message)
            .with_limit(low, 0.0, "mm")
            .with_hint("raise `from`")
    } else {
        return true;
    };
    b.find(finding.with_source("the inner height of the wall"));
    false
}

/// Whether the whole scale lies beside the chamber. The reader's right may run either way along the wall.
fn is_beside(chamber: &Space, marks: &LevelMarks, scale: &[Vec<DVec2>]) -> bool {
    let half = scale.iter().flatten().map(|p| p.x.abs()).fold(0.0, f64::max);
    beside(chamber, marks).into_iter().all(|room| half <= room)
}

/// From the middle of the scale to the near and the far side of the chamber, mm.
fn beside(chamber: &Space, marks: &LevelMarks) -> [f64; 2] {
    let size = chamber.max - chamber.min;
    let length = match marks.wall {
        Wall::Front | Wall::Back => size.x,
        Wall::InletEnd | Wall::FarEnd => size.y,
    };
    [marks.at.to_mm(), length - marks.at.to_mm()]
}

/// Width of the scale with two digits, mm: long mark, gap, numbers.
const SCALE_MM: f64 = 22.0;
/// Length of the long marks, mm.
const LONG_MM: f64 = 12.0;
/// The unit's word stands so far above the highest mark, mm.
const WORD_OVER_MM: f64 = 6.0;

/// How many mm a unit has, and how many marks.
fn unit(marks: &LevelMarks) -> (f64, f64) {
    match marks.unit {
        MarkUnit::Cm => (10.0, 2.0),
        MarkUnit::In => (25.4, 4.0),
    }
}

/// From mark to mark, mm.
fn step_mm(marks: &LevelMarks) -> f64 {
    let (unit_mm, per_unit) = unit(marks);
    unit_mm / per_unit
}

/// Number of the first and of the last mark, counted from the inside of the bottom.
fn numbers(marks: &LevelMarks) -> [f64; 2] {
    let step = step_mm(marks);
    [(marks.from.to_mm() / step - 1e-6).ceil(), (marks.to.to_mm() / step + 1e-6).floor()]
}

/// Heights of the first and the last mark, mm; `None` when there is no mark.
fn reach(marks: &LevelMarks) -> Option<[f64; 2]> {
    let [first, last] = numbers(marks);
    (first <= last).then(|| [first, last].map(|k| k * step_mm(marks)))
}

/// The scale in the reader's plane: x to the right from its middle, y the height.
fn strokes(marks: &LevelMarks) -> Vec<Vec<DVec2>> {
    let (_, per_unit) = unit(marks);
    let step = step_mm(marks);
    let [first, last] = numbers(marks);
    let mut strokes = Vec::new();
    if last < first {
        return strokes;
    }
    let mut k = first;
    while k <= last {
        let y = k * step;
        let is_whole = (k % per_unit).abs() < 0.5;
        strokes.push(vec![DVec2::new(0.0, y), DVec2::new(if is_whole { LONG_MM } else { 7.0 }, y)]);
        // Every whole inch and every second centimetre carries its number, so that they keep apart.
        let number = (k / per_unit).round();
        if is_whole && (marks.unit == MarkUnit::In || number % 2.0 == 0.0) {
            let text = plate::text::strokes(&format!("{number:.0}"), NUMBER_MM);
            let shift = DVec2::new(14.5, y - 0.5 * NUMBER_MM);
            strokes.extend(
                text.strokes.into_iter().map(|s| s.into_iter().map(|p| p + shift).collect()),
            );
        }
        k += 1.0;
    }
    let word =
        plate::text::strokes(if marks.unit == MarkUnit::Cm { "cm" } else { "in" }, NUMBER_MM);
    let above = DVec2::new(0.0, last * step + WORD_OVER_MM);
    strokes.extend(word.strokes.into_iter().map(|s| s.into_iter().map(|p| p + above).collect()));
    let to_middle = DVec2::new(-0.5 * SCALE_MM, 0.0);
    strokes.iter_mut().flatten().for_each(|p| *p += to_middle);
    strokes
}

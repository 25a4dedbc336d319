//! Level marks with numbers, engraved on a wall at their true heights.

use findings::Finding;
use glam::{DVec2, DVec3};
use params::{LevelMarks, MarkUnit, Reading, Wall};
use plate::Engraving;

use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::layout::{Layout, Space};

/// Height of the numbers, mm; 5 mm lettering reads at arm's length (ISO 3098 series 2.5/3.5/5/7).
const NUMBER_MM: f64 = 5.0;

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, marks) in b.file.level_marks.iter().enumerate() {
        if let Some(chamber) = layout.chamber(&marks.chamber) {
            engrave(b, enclosure, chamber, marks, &format!("level_marks[{i}]"));
        }
    }
}

fn engrave(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    chamber: &Space,
    marks: &LevelMarks,
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
    let top = enclosure.inside_height_mm();
    if marks.to.to_mm() > top {
        let message = format!(
            "the highest mark is at {:.0} mm; the wall ends at {top:.0} mm",
            marks.to.to_mm()
        );
        b.find(
            Finding::fails("marks-above-wall", format!("{parameter}.to"), message)
                .with_limit(top - marks.to.to_mm(), 0.0, "mm")
                .with_hint("lower `to`"),
        );
        return;
    }
    let sheet_is_clear = b.sheet(None).look.is_clear;
    if marks.read_from == Reading::Outside && !sheet_is_clear {
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
    let looking = if marks.read_from == Reading::Outside { host.inward } else { -host.inward };
    let right = looking.cross(DVec3::Z);
    let to_local =
        |p: DVec2| host.local(near.extend(enclosure.floor_z) + right * p.x + DVec3::Z * p.y);
    let strokes =
        strokes(marks).into_iter().map(|s| s.into_iter().map(to_local).collect()).collect();
    let face = host.face();
    b.engrave(host.draft, Engraving { face, strokes });
}

/// The scale in the reader's plane: x to the right, y the height.
fn strokes(marks: &LevelMarks) -> Vec<Vec<DVec2>> {
    let (unit_mm, per_unit) = match marks.unit {
        MarkUnit::Cm => (10.0, 2.0),
        MarkUnit::In => (25.4, 4.0),
    };
    let step = unit_mm / per_unit;
    let (first, last) =
        ((marks.from.to_mm() / step - 1e-6).ceil(), (marks.to.to_mm() / step + 1e-6).floor());
    let mut strokes = Vec::new();
    let mut k = first;
    while k <= last {
        let y = k * step;
        let is_whole = (k % per_unit).abs() < 0.5;
        strokes.push(vec![DVec2::new(0.0, y), DVec2::new(if is_whole { 12.0 } else { 7.0 }, y)]);
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
    let above = DVec2::new(0.0, last * step + 6.0);
    strokes.extend(word.strokes.into_iter().map(|s| s.into_iter().map(|p| p + above).collect()));
    strokes
}

//! The layout tree: rows of chambers and dividers, along the sump and across it.

use findings::Finding;
use params::Item;

use crate::divider::{self, DividerPlace};
use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::frame::{Axis, Host};
use crate::guide;
use crate::rounding::without_rounding;
use crate::spaces::{Layout, Space};

/// A row to be filled.
#[derive(Clone, Copy)]
struct Row {
    axis: Axis,
    /// From where to where along the axis.
    range: [f64; 2],
    /// From where to where across it.
    span: [f64; 2],
    /// Faces at both ends of the row.
    ends: [Host; 2],
    /// Faces along both sides of the row.
    sides: [Host; 2],
    /// How far guides of the dividers beyond the row stand into its ends, mm.
    end_guides_mm: [f64; 2],
    /// How far guides of the dividers along its sides stand into its first and its last item, mm.
    side_guides_mm: [f64; 2],
}

/// The place of a chamber or section in its row.
struct Place {
    parameter: String,
    through: [f64; 2],
    /// Faces before and after it.
    ends: [Host; 2],
    /// How far guides stand into it from before and after, mm.
    end_guides_mm: [f64; 2],
    /// The same from the sides.
    side_guides_mm: [f64; 2],
}

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure) -> Layout {
    use params::Wall::{Back, FarEnd, Front, InletEnd};
    let [min, max] = enclosure.inside;
    let row = Row {
        axis: Axis::X,
        range: [min.x, max.x],
        span: [min.y, max.y],
        ends: [enclosure.wall(InletEnd), enclosure.wall(FarEnd)],
        sides: [enclosure.wall(Front), enclosure.wall(Back)],
        end_guides_mm: [0.0; 2],
        side_guides_mm: [0.0; 2],
    };
    let mut layout = Layout::default();
    let file = b.file;
    fill(b, enclosure, &mut layout, &file.along, "along", &row);
    // Dividers are built before the chambers between them; people walk from the inlet on.
    layout.spaces.sort_by(|a, b| {
        let along = |s: &Space| (s.min.x, s.min.y);
        let ((ax, ay), (bx, by)) = (along(a), along(b));
        ax.total_cmp(&bx).then(ay.total_cmp(&by))
    });
    layout
}

fn fill(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &mut Layout,
    items: &[Item],
    path: &str,
    row: &Row,
) {
    let Some(extents) = extents(b, items, path, row) else { return };
    let mut faces: Vec<[Host; 2]> = Vec::new(); // upstream and downstream face of each divider
    for (i, (item, &through)) in items.iter().zip(&extents).enumerate() {
        if item.divider.is_some() {
            let place = DividerPlace { axis: row.axis, through, span: row.span, sides: row.sides };
            faces.push(divider::build(b, enclosure, layout, item, &format!("{path}[{i}]"), &place));
        } else {
            faces.push(row.ends);
        }
    }
    let last = items.len().saturating_sub(1);
    for (i, (item, &through)) in items.iter().zip(&extents).enumerate() {
        let guides = |neighbour: usize| guide::reach_mm(b, &items[neighbour]);
        let place = Place {
            parameter: format!("{path}[{i}]"),
            through,
            ends: [
                if i == 0 { row.ends[0] } else { faces[i - 1][1] },
                if i == last { row.ends[1] } else { faces[i + 1][0] },
            ],
            end_guides_mm: [
                if i == 0 { row.end_guides_mm[0] } else { guides(i - 1) },
                if i == last { row.end_guides_mm[1] } else { guides(i + 1) },
            ],
            // Guides stand where a divider ends, which is beside the first and the last of a row.
            side_guides_mm: if i == 0 || i == last { row.side_guides_mm } else { [0.0; 2] },
        };
        if let Some(name) = &item.chamber {
            layout.spaces.push(chamber(name, item, row, place));
        } else if item.section.is_some() {
            section(b, enclosure, layout, item, row, &place);
        }
    }
}

/// A part of a row that is a row across it.
fn section(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &mut Layout,
    item: &Item,
    row: &Row,
    place: &Place,
) {
    let (inner, key) = match row.axis {
        Axis::X => (&item.across, "across"),
        Axis::Y => (&item.along, "along"),
    };
    let inside = Row {
        axis: row.axis.across(),
        range: row.span,
        span: place.through,
        ends: row.sides,
        sides: place.ends,
        end_guides_mm: place.side_guides_mm,
        side_guides_mm: place.end_guides_mm,
    };
    fill(b, enclosure, layout, inner, &format!("{}.{key}", place.parameter), &inside);
}

fn chamber(name: &str, item: &Item, row: &Row, place: Place) -> Space {
    let along = (place.ends, place.end_guides_mm);
    let across = (row.sides, place.side_guides_mm);
    let ((x_hosts, x_guides_mm), (y_hosts, y_guides_mm)) = match row.axis {
        Axis::X => (along, across),
        Axis::Y => (across, along),
    };
    Space {
        name: name.to_owned(),
        parameter: place.parameter,
        min: row.axis.point(place.through[0], row.span[0]),
        max: row.axis.point(place.through[1], row.span[1]),
        is_chamber: true,
        kept_level_mm: item.level.map(units::Length::to_mm),
        x_hosts,
        y_hosts,
        x_guides_mm,
        y_guides_mm,
    }
}

/// Where each item of a row begins and ends; `None` with a finding when they do not add up.
fn extents(b: &mut Builder<'_>, items: &[Item], path: &str, row: &Row) -> Option<Vec<[f64; 2]>> {
    let size = |item: &Item| match row.axis {
        _ if item.divider.is_some() => Some(divider::extent_mm(b, item)),
        Axis::X => item.length.map(units::Length::to_mm),
        Axis::Y => item.width.map(units::Length::to_mm),
    };
    let sizes: Vec<Option<f64>> = items.iter().map(size).collect();
    let whole = row.range[1] - row.range[0];
    let given: f64 = sizes.iter().flatten().sum();
    let rest = whole - given;
    let free = sizes.iter().position(Option::is_none);
    let word = if row.axis == Axis::X { "length" } else { "width" };
    match free {
        Some(i) if rest < LEAST_CHAMBER_MM => {
            let left = if rest < 0.0 {
                format!("{} more than there is", b.show(-rest))
            } else {
                format!(
                    "{} are left for this one, at least {} are needed",
                    b.show(rest),
                    b.show(LEAST_CHAMBER_MM)
                )
            };
            let message = format!(
                "the row is {} long inside and its other chambers and dividers take {}: {left}",
                b.show(whole),
                b.show(given)
            );
            b.find(
                Finding::fails("row-too-full", format!("{path}[{i}]"), message)
                    .with_limit(rest, LEAST_CHAMBER_MM, "mm")
                    .with_hint(format!("give less {word} to the others, or more to the box")),
            );
            return None;
        }
        None if rest.abs() > SAME_LENGTH_MM => {
            let message = format!(
                "the chambers and dividers of this row take {} and it is {} long inside: {} {}",
                b.show(given),
                b.show(whole),
                b.show(rest.abs()),
                if rest > 0.0 { "are left over" } else { "too much" }
            );
            let last = items.iter().rposition(|item| item.divider.is_none()).unwrap_or(0);
            b.find(
                Finding::fails("row-does-not-add-up", format!("{path}[{last}].{word}"), message)
                    .with_limit(-rest.abs(), -SAME_LENGTH_MM, "mm")
                    .with_hint(format!("leave the `{word}` of one chamber out: it takes the rest")),
            );
            return None;
        }
        _ => {}
    }
    let mut at = row.range[0];
    let mut extents = Vec::with_capacity(items.len());
    for size in &sizes {
        let end = without_rounding(at + size.unwrap_or(rest));
        extents.push([at, end]);
        at = end;
    }
    // The last one ends at the wall to the last bit.
    if let Some(last) = extents.last_mut() {
        last[1] = row.range[1];
    }
    Some(extents)
}

/// What a chamber needs at least, mm: the least that the file may ask for.
const LEAST_CHAMBER_MM: f64 = 10.0;
/// Lengths that add up this closely are meant to.
const SAME_LENGTH_MM: f64 = 0.05;

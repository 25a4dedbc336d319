//! The layout tree: rows of chambers and dividers, along the sump and across it.

use findings::Finding;
use params::{GuideKind, Item};

use crate::divider::{self, DividerPlace};
use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::frame::{Axis, Host};
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
    };
    let mut layout = Layout::default();
    let file = b.file;
    fill(b, enclosure, &mut layout, &file.along, "along", &row);
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
    let mut hosts: Vec<[Host; 2]> = Vec::new(); // upstream and downstream face of each divider
    for (i, (item, &through)) in items.iter().zip(&extents).enumerate() {
        if item.divider.is_some() {
            let place = DividerPlace { axis: row.axis, through, span: row.span, sides: row.sides };
            hosts.push(divider::build(b, enclosure, layout, item, &format!("{path}[{i}]"), &place));
        } else {
            hosts.push(row.ends);
        }
    }
    for (i, (item, &through)) in items.iter().zip(&extents).enumerate() {
        let before = if i == 0 { row.ends[0] } else { hosts[i - 1][1] };
        let after = if i + 1 == items.len() { row.ends[1] } else { hosts[i + 1][0] };
        let parameter = format!("{path}[{i}]");
        let guides = [guide_depth(b, items, i.checked_sub(1)), guide_depth(b, items, Some(i + 1))];
        if let Some(name) = &item.chamber {
            layout.spaces.push(chamber(
                name,
                parameter,
                item,
                row,
                through,
                [before, after],
                guides,
            ));
        } else if item.section.is_some() {
            section(b, enclosure, layout, item, &parameter, row, through, [before, after]);
        }
    }
}

#[expect(clippy::too_many_arguments, reason = "a section is placed by all that is around it")]
fn section(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &mut Layout,
    item: &Item,
    parameter: &str,
    row: &Row,
    through: [f64; 2],
    sides: [Host; 2],
) {
    let (inner, key) = match row.axis {
        Axis::X => (&item.across, "across"),
        Axis::Y => (&item.along, "along"),
    };
    let inside =
        Row { axis: row.axis.across(), range: row.span, span: through, ends: row.sides, sides };
    fill(b, enclosure, layout, inner, &format!("{parameter}.{key}"), &inside);
}

fn chamber(
    name: &str,
    parameter: String,
    item: &Item,
    row: &Row,
    through: [f64; 2],
    ends: [Host; 2],
    guides: [f64; 2],
) -> Space {
    let (x_hosts, y_hosts) = match row.axis {
        Axis::X => (ends, row.sides),
        Axis::Y => (row.sides, ends),
    };
    Space {
        name: name.to_owned(),
        parameter,
        min: row.axis.point(through[0], row.span[0]),
        max: row.axis.point(through[1], row.span[1]),
        is_chamber: true,
        kept_level_mm: item.level.map(units::Length::to_mm),
        x_hosts,
        y_hosts,
        x_guides_mm: if row.axis == Axis::X { guides } else { [0.0; 2] },
    }
}

/// How far the guides of a neighbouring divider stand into a chamber.
fn guide_depth(b: &Builder<'_>, items: &[Item], neighbour: Option<usize>) -> f64 {
    let Some(item) = neighbour.and_then(|i| items.get(i)) else { return 0.0 };
    if divider::leaf_names(item).iter().all(|name| !divider::lifts_out(b, name)) {
        return 0.0;
    }
    match item.guide.unwrap_or_default() {
        GuideKind::Strips => divider::STRIP_WIDTH_MM,
        GuideKind::Printed => divider::printed_wall_mm(b),
        GuideKind::Groove => 0.0,
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
                format!("{:.1} mm more than there is", -rest)
            } else {
                format!(
                    "{rest:.1} mm are left for this one, at least {LEAST_CHAMBER_MM:.0} mm are needed"
                )
            };
            let message = format!(
                "the row is {whole:.1} mm inside and its other chambers and dividers take {given:.1} mm: {left}"
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
                "the chambers and dividers of this row take {given:.2} mm and the box is {whole:.2} mm inside: {:.2} mm {}",
                rest.abs(),
                if rest > 0.0 { "are left over" } else { "too much" }
            );
            let last = items.iter().rposition(|item| item.divider.is_none()).unwrap_or(0);
            b.find(
                Finding::fails("row-does-not-add-up", format!("{path}[{last}].{word}"), message)
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

const LEAST_CHAMBER_MM: f64 = 10.0;
/// Lengths that add up this closely are meant to.
const SAME_LENGTH_MM: f64 = 0.05;

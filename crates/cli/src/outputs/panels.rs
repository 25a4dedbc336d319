//! Flat panels for the shop, one drawing each, at true scale.

use design::Design;
use export::{Panel, dxf, svg};
use units::Length;

use super::Output;
use crate::parts::{Flat, Part};

/// The drawings of a part, when it is cut from sheet.
pub(super) fn of_part(design: &Design, part: &Part<'_>) -> Vec<Output> {
    let Some(flat) = &part.flat else { return Vec::new() };
    let panel = panel(part, flat);
    let thickness = Length::mm(flat.thickness_mm).show(design.report);
    let purpose = |what| {
        format!("{}: {} × {thickness} {}, {what}", panel.name, panel.quantity, panel.material)
    };
    vec![
        (
            "panels",
            part.file_name.clone(),
            "dxf",
            purpose("for the machine"),
            dxf::write(&panel).into_bytes(),
        ),
        (
            "panels",
            part.file_name.clone(),
            "svg",
            purpose("to look at or for the machine"),
            svg::write(&panel).into_bytes(),
        ),
    ]
}

/// A flat part as its drawings show it.
pub(super) fn panel<'a>(part: &'a Part<'_>, flat: &'a Flat) -> Panel<'a> {
    Panel {
        number: &part.piece.number,
        name: &part.piece.name,
        material: &part.piece.material,
        thickness_mm: flat.thickness_mm,
        quantity: part.piece.quantity,
        notes: &part.piece.notes,
        pattern: &flat.pattern,
    }
}

//! Flat panels for the shop, one drawing each, at true scale.

use design::Design;
use export::{Panel, dxf, svg};
use params::Cutting;
use study::PanelWords;
use study::parts::{Flat, Part};
use units::Length;

use super::Output;
use crate::file_name::FileName;

/// The drawings of a part, when it is cut from sheet.
pub(super) fn of_part(design: &Design, cutting: &Cutting, part: &Part<'_>) -> Vec<Output> {
    let Some(flat) = &part.flat else { return Vec::new() };
    let words = PanelWords::of(design, cutting, part.piece);
    let panel = panel(part, flat, &words);
    let thickness = Length::mm(flat.thickness_mm).show_fine(design.report);
    let purpose = |what| {
        format!("{}: {} × {thickness} {}, {what}", panel.name, panel.quantity, panel.material)
    };
    vec![
        (
            "panels",
            FileName::of_part(part.piece),
            "dxf",
            purpose("for the machine"),
            dxf::write(&panel).into_bytes(),
        ),
        (
            "panels",
            FileName::of_part(part.piece),
            "svg",
            purpose("to look at or for the machine"),
            svg::write(&panel).into_bytes(),
        ),
    ]
}

/// A flat part as its drawings show it.
pub(super) fn panel<'a>(part: &'a Part<'_>, flat: &'a Flat, words: &'a PanelWords) -> Panel<'a> {
    Panel {
        number: &part.piece.number,
        name: &part.piece.name,
        project: &words.project,
        material: &part.piece.material,
        thickness_mm: flat.thickness_mm,
        order: &words.order,
        facing: &words.facing,
        engraving_mm: words.engraving_mm,
        quantity: part.piece.quantity,
        notes: &words.notes,
        pattern: &flat.pattern,
    }
}

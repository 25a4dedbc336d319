//! Parts that are others: in size, in number, in what is cut out of them, there or not.

use design::{Design, Piece};
use plate::Shape;
use units::System;

use crate::size::{Size, show_box, show_mass};
use crate::told::table::Table;

use super::{NONE, note_same, row};

/// A row for every part that differs, and for box and mass as a whole.
pub(super) fn table(designs: [&Design; 2]) -> Table {
    let system = designs[1].report;
    let mut table = Table::new("Parts", ["part", "before", "after"]);
    table.rows.extend(row("the box, outside", designs.map(|d| show_box(d.outside, system))));
    table.rows.extend(row("all cut sheet, together", designs.map(|d| mass(d, system))));
    let [before, after] = designs.map(listed);
    let mut n_same = 0;
    for piece in &after {
        let was = before.iter().find(|was| was.name == piece.name);
        match differs(was.copied(), piece, system) {
            Some(both) => table.rows.extend(row(&piece.name, both)),
            None => n_same += 1,
        }
    }
    let is_gone = |was: &&&Piece| after.iter().all(|piece| piece.name != was.name);
    let gone = before.iter().filter(is_gone);
    table.rows.extend(gone.filter_map(|was| row(&was.name, [words(was, system), NONE.to_owned()])));
    note_same(&mut table, n_same, ["part", "parts"]);
    table
}

/// Pieces that are a line of the parts list.
fn listed(design: &Design) -> Vec<&Piece> {
    design.pieces.iter().filter(|piece| piece.body_of.is_none()).collect()
}

/// Both in words, unless they are the same in everything.
fn differs(was: Option<&Piece>, is: &Piece, system: System) -> Option<[String; 2]> {
    let after = words(is, system);
    let Some(was) = was else { return Some([NONE.to_owned(), after]) };
    let before = words(was, system);
    if before != after {
        return Some([before, after]);
    }
    (was.shape != is.shape).then(|| [before, "of the same size, cut differently".to_owned()])
}

/// `2 of 420 × 380 × 7.85 mm, clear8`.
fn words(piece: &Piece, system: System) -> String {
    let sheet = piece.sheet.as_ref().map_or_else(String::new, |sheet| format!(", {sheet}"));
    let spare = if piece.is_spare { ", spare" } else { "" };
    format!("{} of {}{sheet}{spare}", piece.quantity, size(piece).show(system))
}

/// Outer size of a piece, in its own frame.
fn size(piece: &Piece) -> Size {
    match &piece.shape {
        Shape::Sheet(plate) => {
            let [least, greatest] = plate.outline.bounds().unwrap_or_default();
            let sides = greatest - least;
            Size::Flat([sides.max_element(), sides.min_element(), plate.thickness])
        }
        Shape::Turned(turned) => {
            let (radius, [low, high]) = turned.extent();
            Size::Round([2.0 * radius, high - low])
        }
    }
}

/// Mass of all that is cut from sheet, spares included.
fn mass(design: &Design, system: System) -> String {
    let cut = design.pieces.iter().filter(|piece| piece.role.is_sheet());
    let count = |piece: &Piece| u32::try_from(piece.quantity).map_or(f64::INFINITY, f64::from);
    let kg = cut.filter_map(|piece| Some(piece.mass_kg()? * count(piece))).sum();
    show_mass(Some(kg), system)
}

//! The parts list.

use design::Design;
use show::PartRow;

use crate::parts::{Part, listed};
use crate::size::{show_mass, size};
use crate::stock;

/// A row for everything that is made or bought.
pub(super) fn rows(design: &Design, parts: &[Part<'_>]) -> Vec<PartRow> {
    let row = |part: &Part<'_>| PartRow {
        number: part.piece.number.clone(),
        name: part.piece.name.clone(),
        count: part.piece.quantity,
        size: size(part).show(design.report),
        stock: stock::words(design, part.piece),
        mass: part.mass_kg().map(|kg| show_mass(Some(kg), design.report)),
    };
    listed(parts).map(row).collect()
}

//! The parts list: what is to be cut, printed and bought.

use design::{Design, Piece, Role};
use study::Part;
use study::parts::listed;
use study::size::{Size, size};

use crate::csv::{self, cell};

/// The list as comma-separated values (RFC 4180), in mm and kg whatever the report's units. It begins
/// with a byte order mark, by which spreadsheets know UTF-8.
pub(crate) fn csv(design: &Design, parts: &[Part<'_>]) -> String {
    let mut text = String::from(csv::MARK);
    text += "number,name,quantity,role,material,sheet,sheet_to_order_mm,measured_least_mm,measured_greatest_mm,length_mm,width_mm,thickness_mm,diameter_mm,height_mm,mass_kg_each,notes\r\n";
    for part in listed(parts) {
        let piece = part.piece;
        let mm = |value: Option<f64>| value.map_or(String::new(), |value| format!("{value:.3}"));
        let (flat, round) = match size(part) {
            Size::Flat(sides) => (sides.map(Some), [None; 2]),
            Size::Round(sides) => ([None; 3], sides.map(Some)),
        };
        let mut cells = vec![
            cell(&piece.number),
            cell(&piece.name),
            piece.quantity.to_string(),
            piece.role.words().to_owned(),
            cell(&piece.material),
            cell(piece.sheet.as_deref().unwrap_or_default()),
        ];
        cells.extend(bought_sheet(design, piece).map(mm));
        cells.extend(flat.into_iter().chain(round).map(mm));
        cells.push(part.mass_kg().map_or(String::new(), |kg| format!("{kg:.3}")));
        cells.push(cell(&notes(piece)));
        text += &csv::line(&cells);
    }
    text
}

/// Ordered thickness of a piece's sheet, and the least and greatest that were measured; mm.
fn bought_sheet(design: &Design, piece: &Piece) -> [Option<f64>; 3] {
    let sheet = study::stock::sheet_of(design, piece);
    let measured = sheet.filter(|sheet| sheet.is_measured);
    [
        sheet.map(|sheet| sheet.nominal_mm),
        measured.map(|sheet| sheet.band_mm[0]),
        measured.map(|sheet| sheet.band_mm[1]),
    ]
}

/// What to know about a piece, in one line.
pub(crate) fn notes(piece: &Piece) -> String {
    let spare = piece.is_spare.then_some("spare: takes the place of another in the same slot");
    // Common practice.
    let screw =
        (piece.role == Role::Screw).then_some("plastic (nylon); metal corrodes in salt water");
    let store = (piece.only_made > 0 && piece.role == Role::Fitting)
        .then(|| format!("{} of them without a place in the sump", piece.only_made));
    let ours = spare.into_iter().chain(screw).chain(store.as_deref());
    ours.chain(piece.notes.iter().map(String::as_str)).collect::<Vec<_>>().join("; ")
}

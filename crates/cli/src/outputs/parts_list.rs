//! The parts list: what is to be cut, printed and bought.

use design::{Design, Piece, Role};
use plate::Shape;
use units::{Length, Mass, System};

use super::panels;
use crate::csv::{self, cell};
use crate::parts::Part;

/// Outer size, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Size {
    /// Flat: the longer and the shorter side, and the thickness.
    Flat([f64; 3]),
    /// Round: diameter and height.
    Round([f64; 2]),
}

impl Size {
    /// `400 × 300 × 8 mm`, `⌀ 40 × 160 mm`.
    pub(crate) fn show(self, system: System) -> String {
        let (sign, sides) = match &self {
            Self::Flat(sides) => ("", &sides[..]),
            Self::Round(sides) => ("⌀ ", &sides[..]),
        };
        let shown: Vec<String> = sides.iter().map(|mm| Length::mm(*mm).show_fine(system)).collect();
        let number = |text: &String| text.split(' ').next().unwrap_or_default().to_owned();
        let (last, others) = shown.split_last().expect("a size has sides");
        let others: String = others.iter().map(|side| number(side) + " × ").collect();
        format!("{sign}{others}{last}")
    }
}

/// Outer size of a part, in its own frame.
pub(crate) fn size(part: &Part<'_>) -> Size {
    let [least, greatest] = part.solid.bounds();
    let sides = greatest - least;
    match part.piece.shape {
        Shape::Sheet(_) => Size::Flat([sides.x.max(sides.y), sides.x.min(sides.y), sides.z]),
        Shape::Turned(_) => Size::Round([sides.x, sides.z]),
    }
}

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

/// The parts that are a line of a list: further bodies of a bought thing are none.
pub(crate) fn listed<'p, 'a>(parts: &'p [Part<'a>]) -> impl Iterator<Item = &'p Part<'a>> {
    parts.iter().filter(|part| part.piece.body_of.is_none())
}

/// Ordered thickness of a piece's sheet, and the least and greatest that were measured; mm.
fn bought_sheet(design: &Design, piece: &Piece) -> [Option<f64>; 3] {
    let sheet = panels::sheet_of(design, piece);
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
    let ours = spare.into_iter().chain(screw);
    ours.chain(piece.notes.iter().map(String::as_str)).collect::<Vec<_>>().join("; ")
}

/// `0.42 kg`, or a dash when it is not known.
pub(crate) fn show_mass(kg: Option<f64>, system: System) -> String {
    kg.map_or("–".to_owned(), |kg| Mass::kg(kg).show(system))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_read_as_people_write_them() {
        assert_eq!(Size::Flat([400.0, 300.5, 8.0]).show(System::Metric), "400 × 300.5 × 8 mm");
        assert_eq!(Size::Round([25.4, 50.8]).show(System::UsCustomary), "⌀ 1 × 2 in");
    }
}

//! The list of parts and hardware.

use design::{Design, Piece};
use paper::Block;
use plate::Shape;
use shop::{HardwareItem, Origin};
use study::size::Size;
use study::stock;
use units::Mass;

use crate::prose::{Kind, chapter, table, title, words};

/// Everything that is cut, printed, bought or needed.
pub fn lists(design: &Design, hardware: &[HardwareItem]) -> Vec<Block> {
    let mut blocks = vec![title(format!("Parts and hardware: {}", design.title))];
    blocks.extend(cut(design));
    let of = |origin: Origin| hardware.iter().filter(move |item| item.origin == origin);
    let lists = [
        (Origin::Printed, "Printed", ""),
        (Origin::Bought, "Bought", ""),
        (
            Origin::Equipment,
            "Stands in the sump",
            "As the file describes it; usually there already.",
        ),
        (
            Origin::Beside,
            "Needed beside",
            "Not described in the file; common practice. Hose, clips, pipe above the sump and cement for pipe come on top.",
        ),
    ];
    for (origin, head, note) in lists {
        if of(origin).next().is_none() {
            continue;
        }
        blocks.push(chapter(head));
        let rows = of(origin).map(|item| {
            [
                item.number.clone(),
                item.name.clone(),
                item.quantity.to_string(),
                item.notes.join("; "),
                String::new(),
            ]
        });
        let columns = [
            ("no.", Kind::Name),
            ("what", Kind::Words),
            ("how many", Kind::Number),
            ("notes", Kind::Words),
            ("have", Kind::Name),
        ];
        blocks.push(table(columns, rows));
        if !note.is_empty() {
            blocks.push(words(note));
        }
    }
    blocks.extend(for_gluing(design));
    blocks
}

/// What gluing uses up.
fn for_gluing(design: &Design) -> Vec<Block> {
    let supplies = shop::supplies(design);
    if supplies.is_empty() {
        return Vec::new();
    }
    let rows =
        supplies.into_iter().map(|supply| [supply.name, supply.amount, supply.note, String::new()]);
    let columns = [
        ("what", Kind::Words),
        ("how much", Kind::Name),
        ("notes", Kind::Words),
        ("have", Kind::Name),
    ];
    vec![
        chapter("Used up in gluing"),
        table(columns, rows),
        words("The tools beside them stand in the glue-up guide."),
    ]
}

/// What is cut from sheet.
fn cut(design: &Design) -> Vec<Block> {
    let pieces: Vec<&Piece> = design.pieces.iter().filter(|piece| piece.role.is_sheet()).collect();
    let mut known = 0.0;
    let rows: Vec<[String; 6]> = pieces
        .iter()
        .map(|piece| {
            let mass = piece.mass_kg();
            #[expect(clippy::cast_precision_loss, reason = "a small count")]
            let of_all = mass.map_or(0.0, |kg| kg * piece.quantity as f64);
            known += of_all;
            let spare = if piece.is_spare { " (spare)" } else { "" };
            [
                piece.number.clone(),
                format!("{}{spare}", piece.name),
                piece.quantity.to_string(),
                piece.sheet.clone().unwrap_or_default(),
                size(design, piece),
                mass.map_or("?".to_owned(), |kg| Mass::kg(kg).show(design.report)),
            ]
        })
        .collect();
    let columns = [
        ("no.", Kind::Name),
        ("part", Kind::Words),
        ("how many", Kind::Number),
        ("sheet", Kind::Name),
        ("outer size", Kind::Number),
        ("mass of one", Kind::Number),
    ];
    let sheets = design.sheets.values().map(|sheet| {
        let order = stock::order(sheet, design.report);
        let material = pieces.iter().find(|p| p.sheet.as_deref() == Some(&sheet.name));
        let material = material.map_or(String::new(), |p| format!("{}, ", p.material));
        format!("{}: {material}{order}.", sheet.name)
    });
    let mut blocks = vec![chapter("Cut from sheet"), table(columns, rows)];
    blocks.push(words(format!(
        "All together {}, spares included.",
        Mass::kg(known).show(design.report)
    )));
    blocks.push(crate::prose::items(sheets));
    blocks
}

/// Longer and shorter side of the outline, and the thickness.
fn size(design: &Design, piece: &Piece) -> String {
    let Shape::Sheet(plate) = &piece.shape else { return String::new() };
    let Some([lo, hi]) = plate.outline.bounds() else { return String::new() };
    let sides = hi - lo;
    Size::Flat([sides.max_element(), sides.min_element(), plate.thickness]).show(design.report)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::text;

    #[test]
    fn every_piece_is_in_a_list_once() {
        for name in ["brook", "fragfarm", "seahorse"] {
            let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
            let design = design::resolve(&file).design.unwrap();
            let told = text(&lists(&design, &shop::hardware(&design)));
            for piece in design.pieces.iter().filter(|piece| piece.body_of.is_none()) {
                let lines =
                    told.lines().filter(|line| line.starts_with(&format!("{} | ", piece.number)));
                assert_eq!(lines.count(), 1, "{name}: {}", piece.name);
            }
        }
    }

    #[test]
    fn a_thickness_reads_as_in_drawing_and_letter() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/brook.toml");
        let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
        let design = design::resolve(&file).design.unwrap();
        let told = text(&lists(&design, &shop::hardware(&design)));
        assert!(told.contains("× 0.375 in") && !told.contains("0.38 in"), "{told}");
    }
}

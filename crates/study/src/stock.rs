//! What a part is cut from, or bought as, in words.

use design::{Design, Piece, Sheet};
use units::{Length, System};

/// The sheet that a piece is cut from.
pub fn sheet_of<'a>(design: &'a Design, piece: &Piece) -> Option<&'a Sheet> {
    design.sheets.get(piece.sheet.as_deref()?)
}

/// `8 mm sheet (measured 7.7 mm to 8 mm)`. A sheet is bought by its ordered thickness, never by
/// the one that a caliper reads.
pub fn order(sheet: &Sheet, system: System) -> String {
    let show = |mm: f64| Length::mm(mm).show_fine(system);
    let [least, most] = sheet.band_mm.map(show);
    let measured = match (sheet.is_measured, least == most) {
        (false, _) => "not measured: drawn for the ordered thickness".to_owned(),
        (true, true) => format!("measured {least}"),
        (true, false) => format!("measured {least} to {most}"),
    };
    format!("{} sheet ({measured})", show(sheet.nominal_mm))
}

/// `cast acrylic, sheet clear8: 8 mm sheet (measured 7.9 mm)`; of what is printed or bought what it is made of.
pub fn words(design: &Design, piece: &Piece) -> String {
    match sheet_of(design, piece) {
        Some(sheet) => {
            format!("{}, sheet {}: {}", piece.material, sheet.name, order(sheet, design.report))
        }
        None => piece.material.clone(),
    }
}

#[cfg(test)]
mod tests {
    use params::Material;

    use super::*;

    #[test]
    fn a_sheet_is_ordered_by_its_ordered_thickness() {
        let mut sheet = Sheet {
            name: "clear".into(),
            material: Material::CastAcrylic,
            nominal_mm: 8.0,
            band_mm: [7.7, 8.0],
            is_measured: true,
            density_kg_m3: 1190.0,
            source: "",
            look: design::Look { colour: [0; 3], is_clear: true },
        };
        assert_eq!(order(&sheet, System::Metric), "8 mm sheet (measured 7.7 mm to 8 mm)");
        sheet.is_measured = false;
        assert!(order(&sheet, System::Metric).contains("not measured"));
    }
}

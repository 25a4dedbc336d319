//! Thicknesses that are tried: those of the file, and those that sheet is sold in.

use design::{Design, Sheet};
use params::{File, Material};
use units::{Length, MM_PER_IN, System};

/// A thickness as ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Size {
    /// As ordered, mm.
    pub(crate) nominal_mm: f64,
    /// The least that it may be, mm: measured, or less the usual tolerance.
    pub(crate) least_mm: f64,
}

/// Thicknesses that sheet is sold in, mm (common practice).
const SOLD_MM: [f64; 12] = [2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0];
/// The same where inches are in use, with how they are written (common practice).
const SOLD_IN: [(f64, &str); 7] = [
    (0.125, "1/8 in"),
    (0.1875, "3/16 in"),
    (0.25, "1/4 in"),
    (0.375, "3/8 in"),
    (0.5, "1/2 in"),
    (0.75, "3/4 in"),
    (1.0, "1 in"),
];
/// Thicknesses as near as this are one, mm.
const SAME_MM: f64 = 0.05;

/// What is tried of a material, ascending: sheets of the file, and what is sold where the report's units are in use.
pub(crate) fn tried(file: &File, design: &Design, material: Material) -> Vec<Size> {
    let of_file = design.sheets.values().filter(|sheet| sheet.material == material);
    let mut sizes: Vec<Size> = of_file
        .map(|sheet| Size { nominal_mm: sheet.nominal_mm, least_mm: sheet.band_mm[0] })
        .collect();
    let sold: Vec<f64> = match file.report.system() {
        System::Metric => SOLD_MM.to_vec(),
        System::UsCustomary => SOLD_IN.iter().map(|(inch, _)| MM_PER_IN * inch).collect(),
    };
    for nominal_mm in sold {
        if sizes.iter().all(|size| (size.nominal_mm - nominal_mm).abs() > SAME_MM) {
            let least_mm = nominal_mm - Sheet::deviation_of(material, nominal_mm);
            sizes.push(Size { nominal_mm, least_mm });
        }
    }
    sizes.sort_by(|a, b| a.least_mm.total_cmp(&b.least_mm));
    sizes
}

/// As it is written on an order: `10 mm`, `3/8 in`.
pub(crate) fn words(nominal_mm: f64, system: System) -> String {
    let sold = SOLD_IN.iter().find(|(inch, _)| (MM_PER_IN * inch - nominal_mm).abs() < SAME_MM);
    match (system, sold) {
        (System::UsCustomary, Some((_, words))) => (*words).to_owned(),
        _ => Length::mm(nominal_mm).show(system),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::changed;

    fn of(changes: &[(&str, &str)]) -> Vec<Size> {
        let (file, design) = changed(changes);
        tried(&file, &design, Material::CastAcrylic)
    }

    /// The sample's sheet of 8 mm was measured as 8 mm: that is its least, not 8 mm less 1.2 mm.
    #[test]
    fn sheets_of_the_file_are_tried_as_they_are() {
        let sizes = of(&[]);
        assert!(sizes.contains(&Size { nominal_mm: 8.0, least_mm: 8.0 }), "{sizes:?}");
        assert_eq!(sizes.len(), SOLD_MM.len());
        assert!(sizes.is_sorted_by(|a, b| a.least_mm < b.least_mm));
        let odd =
            of(&[("[box]", "[sheet.odd]\nmaterial = \"cast acrylic\"\nthickness = 9\n[box]")]);
        assert!(odd.iter().any(|size| (size.nominal_mm - 9.0).abs() < 1e-9), "{odd:?}");
        let other = of(&[("[box]", "[sheet.odd]\nmaterial = \"PVC\"\nthickness = 9\n[box]")]);
        assert_eq!(other, sizes, "of another material nothing is tried");
    }

    #[test]
    fn inches_are_tried_and_written_where_they_are_in_use() {
        let sizes = of(&[("title =", "report = \"us\"\ntitle =")]);
        let words: Vec<String> =
            sizes.iter().map(|size| words(size.nominal_mm, System::UsCustomary)).collect();
        assert!(words.contains(&"3/8 in".to_owned()), "{words:?}");
        assert_eq!(super::words(9.525, System::Metric), "9.5 mm");
    }
}

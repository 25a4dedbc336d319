//! Sheets: what a material's standard says where the maker has not measured.

use std::collections::BTreeMap;

use params::{File, Material, Measured};

use crate::model::{Look, Sheet};
use crate::rounding::without_rounding;

/// All sheets of a file, by name.
pub(crate) fn sheets(file: &File) -> BTreeMap<String, Sheet> {
    file.sheet.iter().map(|(name, sheet)| (name.clone(), resolved(name, sheet))).collect()
}

fn resolved(name: &str, sheet: &params::Sheet) -> Sheet {
    let nominal_mm = sheet.thickness.to_mm();
    let facts = facts(sheet.material);
    let band_mm = match sheet.measured {
        Some(Measured::One(t)) => [without_rounding(t.to_mm()); 2],
        Some(Measured::Band([least, most])) => [least, most].map(|t| without_rounding(t.to_mm())),
        None => {
            let off = (facts.tolerance_mm)(nominal_mm);
            [nominal_mm - off, nominal_mm + off]
        }
    };
    Sheet {
        name: name.to_owned(),
        material: sheet.material,
        nominal_mm,
        band_mm,
        is_measured: sheet.measured.is_some(),
        density_kg_m3: facts.density_kg_m3,
        source: facts.source,
        look: look(sheet.colour.as_deref(), sheet.material),
    }
}

struct Facts {
    density_kg_m3: f64,
    /// Greatest deviation from the ordered thickness, mm, for an ordered thickness in mm.
    tolerance_mm: fn(f64) -> f64,
    source: &'static str,
}

/// Density and thickness tolerance.
///
/// - Cast acrylic: ±(0.4 + 0.1 t) mm, ISO 7823-1; 1190 kg/m³, makers' data sheets (ISO 1183).
/// - Extruded acrylic: ±10 % below 3 mm, ±5 % from 3 mm, ISO 7823-2; 1190 kg/m³ likewise.
/// - PVC-U: ±(0.1 + 0.03 t) mm, EN ISO 11833-1 (value from memory); 1400 kg/m³, middle of makers' 1380–1420.
/// - Polycarbonate: ±10 %, the wide end of EN ISO 11963 (value from memory); 1200 kg/m³.
///
/// Valid for sheets of 1.5–25 mm.
fn facts(material: Material) -> Facts {
    match material {
        Material::CastAcrylic => Facts {
            density_kg_m3: 1190.0,
            tolerance_mm: |t| 0.4 + 0.1 * t,
            source: "ISO 7823-1 for thickness, makers' data sheets for density",
        },
        Material::ExtrudedAcrylic => Facts {
            density_kg_m3: 1190.0,
            tolerance_mm: |t| if t < 3.0 { 0.1 * t } else { 0.05 * t },
            source: "ISO 7823-2 for thickness, makers' data sheets for density",
        },
        Material::Pvc => Facts {
            density_kg_m3: 1400.0,
            tolerance_mm: |t| 0.1 + 0.03 * t,
            source: "EN ISO 11833-1 for thickness (from memory), makers' data sheets for density",
        },
        Material::Polycarbonate => Facts {
            density_kg_m3: 1200.0,
            tolerance_mm: |t| 0.1 * t,
            source: "EN ISO 11963 for thickness (from memory), makers' data sheets for density",
        },
    }
}

impl Sheet {
    /// Density of a material, kg/m³.
    pub fn density_of(material: Material) -> f64 {
        facts(material).density_kg_m3
    }

    /// Greatest deviation of a sheet of a material from its ordered thickness, mm.
    pub fn deviation_of(material: Material, nominal_mm: f64) -> f64 {
        (facts(material).tolerance_mm)(nominal_mm)
    }

    /// The material in words, as in the file.
    pub fn material_words(&self) -> &'static str {
        words(self.material)
    }
}

/// The material in words, as in the file.
pub(crate) fn words(material: Material) -> &'static str {
    match material {
        Material::CastAcrylic => "cast acrylic",
        Material::ExtrudedAcrylic => "extruded acrylic",
        Material::Pvc => "PVC",
        Material::Polycarbonate => "polycarbonate",
    }
}

fn look(colour: Option<&str>, material: Material) -> Look {
    match (colour, material) {
        (Some("clear"), _)
        | (None, Material::CastAcrylic | Material::ExtrudedAcrylic | Material::Polycarbonate) => {
            CLEAR
        }
        (None, Material::Pvc) => Look { colour: [120, 128, 136], is_clear: false },
        (Some(hex), _) => opaque(hex),
    }
}

/// Clear sheet, with the tint of its edges.
const CLEAR: Look = Look { colour: [178, 216, 222], is_clear: true };

/// `#rrggbb`, checked when the file was read.
pub(crate) fn opaque(hex: &str) -> Look {
    let channel =
        |i: usize| hex.get(i..i + 2).and_then(|s| u8::from_str_radix(s, 16).ok()).unwrap_or(128);
    Look { colour: [channel(1), channel(3), channel(5)], is_clear: false }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cast_acrylic_keeps_the_published_band() {
        // ISO 7823-1 as tabled by sheet makers: 5/8/10/20 mm vary by 0.9/1.2/1.4/2.4 mm.
        for (t, off) in [(5.0, 0.9), (8.0, 1.2), (10.0, 1.4), (20.0, 2.4)] {
            assert!(((facts(Material::CastAcrylic).tolerance_mm)(t) - off).abs() < 1e-12);
        }
    }

    #[test]
    fn a_colour_is_read() {
        assert_eq!(opaque("#0a10ff").colour, [10, 16, 255]);
    }
}

//! The values, with source and range of each.
//!
//! Two kinds of sources: standards, which say what a sheet of their kind must reach at least, and makers' data sheets
//! (seven of acrylic, nine of polycarbonate, six of PVC read), which say what theirs do. Where they differ, the
//! careful end is taken. What could not be read again is marked "from memory". All that was read stands in
//! `tests/outside/material_data.toml`, and is compared with these values by `material_judge.py` beside it.

use design::Sheet;
use design::tolerance::Growth;
use params::Material;

use super::{Facts, TESTED_C};

/// Values of a material at 23 °C. Density and growth are those that the design is built with.
pub(super) fn of(material: Material) -> Facts {
    let facts = match material {
        Material::CastAcrylic => CAST_ACRYLIC,
        Material::ExtrudedAcrylic => EXTRUDED_ACRYLIC,
        Material::Pvc => PVC,
        Material::Polycarbonate => POLYCARBONATE,
    };
    let Growth { expansion_per_k, swelling } = Growth::of(material);
    Facts { density_kg_m3: Sheet::density_of(material), expansion_per_k, swelling, ..facts }
}

/// Stress from which on acrylic crazes in air, MPa: one maker's limits, 1500 psi for cast and 750 psi for extruded sheet.
/// `None` of what nothing like it is published of.
pub fn crazing_mpa(material: Material) -> Option<f64> {
    match material {
        Material::CastAcrylic => Some(10.3),
        Material::ExtrudedAcrylic => Some(5.2),
        Material::Pvc | Material::Polycarbonate => None,
    }
}

/// Cast acrylic, ISO 7823-1.
///
/// - Modulus: makers 2800–3300 MPa; 3000 is the least of ISO 7823-1 (from memory), but sheet is sold too of which no more than
///   400 000 psi, 2758 MPa, is vouched for (Unified Facilities Guide Specification 4-159-01): 2750.
/// - Lasting modulus: 1200–1600 MPa for ten years at low stress (from memory of creep curves to ISO 899-1); the lower.
/// - Poisson's ratio 0.37, and lasting stress 3 MPa on the side of the water and 5 MPa on that of the air: a maker's
///   guide to aquarium panels, for a load of years. Another maker's limit against crazing is 10.3 MPa (1500 psi) in air.
/// - Strength: makers 61–75 MPa in tension, 62 the least of that specification; 60.
/// - Service temperature: makers 70–80 °C without load. For a lasting load 50 °C, and 1.5 % less per kelvin above 23 °C
///   (our judgement: by makers' curves, from memory, strength falls by 1.2 % and creep grows faster).
const CAST_ACRYLIC: Facts = Facts {
    modulus_mpa: 2750.0,
    lasting_modulus_mpa: 1200.0,
    poisson: 0.37,
    lasting_stress_mpa: 3.0,
    lasting_stress_dry_mpa: 5.0,
    strength_mpa: 60.0,
    expansion_per_k: 0.0, // The design's own, as swelling and density.
    swelling: 0.0,
    service_c: 50.0,
    loss_per_k: 0.015,
    lasting_to_c: TESTED_C,
    density_kg_m3: 0.0,
    source: "makers' data sheets and a maker's guide to aquarium panels; lasting modulus from memory",
};

/// Extruded acrylic, ISO 7823-2.
///
/// As cast acrylic, but:
/// - Modulus: 2900 MPa is the least of ISO 7823-2 (from memory); makers 2800–3300, two of them 400 000 psi, 2758 MPa.
/// - Lasting modulus: 1000–1400 MPa (from memory); the lower.
/// - Lasting stress: half of that of cast acrylic, as one maker's limits against crazing stand to each other: 5.2 and
///   10.3 MPa (750 and 1500 psi). Makers advise against extruded sheet for aquariums.
/// - Strength: makers 69–72 MPa; 60 is the least of ISO 7823-2 (from memory).
/// - Service temperature: makers 70 °C without load; 45 °C for a lasting one (our judgement).
const EXTRUDED_ACRYLIC: Facts = Facts {
    lasting_modulus_mpa: 1000.0,
    lasting_stress_mpa: 1.5,
    lasting_stress_dry_mpa: 2.5,
    service_c: 45.0,
    source: "makers' data sheets; lasting stress half of cast acrylic's by a maker's limits; lasting modulus from memory",
    ..CAST_ACRYLIC
};

/// Unplasticised PVC, EN ISO 11833-1, not foamed.
///
/// - Modulus: makers 2200–3300 MPa; 2500 is the least of EN ISO 11833-1 for its normal kind (from memory).
/// - Lasting modulus: 1200 MPa for 50 years at 20 °C (a maker of pipes); 1000–1600 for 25 to 50 years (from memory of DVS 2205).
///   By what is lost in warmth, below, 1125 are left at 23 °C.
/// - Poisson's ratio: makers 0.38–0.41.
/// - Lasting stress: pipes may bear 10–11 MPa at 20 °C for 50 years (their makers: 25 MPa of strength over 2.5); half of that for
///   a sheet with seams (DVS 2205, from memory), and at 23 °C 4.7.
/// - Strength: makers 50–60 MPa at yield; the lower.
/// - Temperature: of the pressure that a pipe may hold at 20 °C, ISO 4422-2 leaves 0.94 at 25 °C, 0.87 at 30, 0.70 at 40, and 0.58
///   at 50 (as a maker tables it); a supplier takes off 2 % for every kelvin above 20 °C. The latter; modulus likewise.
const PVC: Facts = Facts {
    modulus_mpa: 2500.0,
    lasting_modulus_mpa: 1125.0,
    poisson: 0.38,
    lasting_stress_mpa: 4.7,
    lasting_stress_dry_mpa: 4.7,
    strength_mpa: 50.0,
    expansion_per_k: 0.0,
    swelling: 0.0,
    service_c: 45.0,
    // Of what is left at 23 °C.
    loss_per_k: 0.0213,
    lasting_to_c: TESTED_C,
    density_kg_m3: 0.0,
    source: "makers' data sheets of sheets and pipes; ISO 4422-2 for warmth; lasting stress halved by DVS 2205, from memory",
};

/// Polycarbonate, EN ISO 11963.
///
/// - Modulus: makers 2200–2400 MPa; the lower, which is the creep modulus after 1 h too.
/// - Lasting modulus: a maker's creep modulus to ISO 899-1 is 2200 MPa after 1 h and 1900 MPa after 1000 h; on the same
///   power of time it is 1730 MPa after ten years. 1400 is taken (our judgement: the test does not reach so far).
/// - Poisson's ratio: suppliers 0.37.
/// - Lasting stress: 5–7 MPa dry (from memory), 5 taken; 3 in water (our judgement: what is left of solvents and cleaners
///   crazes it).
/// - Strength: makers 55–67 MPa at yield; the lower.
/// - Service temperature: a maker gives 60 °C in water, another warns of water above 70 °C; 60. 1 % less per kelvin above
///   23 °C (our judgement).
const POLYCARBONATE: Facts = Facts {
    modulus_mpa: 2200.0,
    lasting_modulus_mpa: 1400.0,
    poisson: 0.37,
    lasting_stress_mpa: 3.0,
    lasting_stress_dry_mpa: 5.0,
    strength_mpa: 55.0,
    expansion_per_k: 0.0,
    swelling: 0.0,
    service_c: 60.0,
    loss_per_k: 0.01,
    lasting_to_c: TESTED_C,
    density_kg_m3: 0.0,
    source: "makers' data sheets, creep to ISO 899-1; lasting stress from memory and our judgement",
};

/// Annealed float glass, EN 572-1 and -2. A file cannot ask for it: it is not solvent-welded.
///
/// - Modulus 70 000 MPa, Poisson's ratio 0.2, density 2500 kg/m³, expansion 9 · 10⁻⁶/K: EN 572-1.
/// - Lasting stress `k_e k_mod f_gk / γ` of EN 16612: strength 45 MPa, `k_mod = 0.663 t^(−1/16)` with `t` in hours, which is
///   0.29 after 50 years, `k_e` = 0.8 for edges that are cut or ground (from memory) and γ = 1.8, the greater of the factors in use:
///   5.8 MPa.
/// - Neither swells nor creeps. 60 °C is what its silicone seams bear (our judgement), not the glass.
pub const GLASS: Facts = Facts {
    modulus_mpa: 70_000.0,
    lasting_modulus_mpa: 70_000.0,
    poisson: 0.2,
    lasting_stress_mpa: 5.8,
    lasting_stress_dry_mpa: 5.8,
    strength_mpa: 45.0,
    expansion_per_k: 9e-6,
    swelling: 0.0,
    service_c: 60.0,
    loss_per_k: 0.0,
    lasting_to_c: 60.0,
    density_kg_m3: 2500.0,
    source: "EN 572-1 and EN 16612",
};

/// Most that float glass may be off its nominal thickness, mm: EN 572-2, as a supplier tables it for float in tempered panes: 0.2 up
/// to 6 mm, 0.3 up to 12, 0.5 of 15, and 1.0 of 19 and more. Between two thicknesses in trade that of the thicker.
pub fn glass_deviation_mm(nominal_mm: f64) -> f64 {
    match nominal_mm {
        mm if mm <= 6.0 => 0.2,
        mm if mm <= 12.0 => 0.3,
        mm if mm <= 15.0 => 0.5,
        _ => 1.0,
    }
}

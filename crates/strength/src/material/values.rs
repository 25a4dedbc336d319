//! The values, with source and range of each.
//!
//! Two kinds of sources: standards, which say what a sheet of their kind must reach at least, and makers' data sheets
//! (five of acrylic, four of polycarbonate, three of PVC read), which say what theirs do. Where they differ, the
//! careful end is taken. What could not be read again is marked "from memory".

use design::Sheet;
use params::Material;

use super::{Facts, TESTED_C};

/// Values of a material at 23 °C.
pub(super) fn of(material: Material) -> Facts {
    let facts = match material {
        Material::CastAcrylic => CAST_ACRYLIC,
        Material::ExtrudedAcrylic => EXTRUDED_ACRYLIC,
        Material::Pvc => PVC,
        Material::Polycarbonate => POLYCARBONATE,
    };
    Facts { density_kg_m3: Sheet::density_of(material), ..facts }
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
/// - Modulus: makers 2800–3300 MPa; 3000 is the least of ISO 7823-1 (from memory).
/// - Lasting modulus: 1200–1600 MPa for ten years at low stress (from memory of creep curves to ISO 899-1); the lower.
/// - Poisson's ratio 0.37, and lasting stress 3 MPa on the side of the water and 5 MPa on that of the air: a maker's
///   guide to aquarium panels, for a load of years. Another maker's limit against crazing is 10.3 MPa (1500 psi) in air.
/// - Strength: makers 67–75 MPa in tension.
/// - Expansion: makers 65–80 · 10⁻⁶/K; the upper end.
/// - Swelling: makers 0.2/0.3/0.6 % of length at 60/80/100 % humidity against dry, another 0.15 % at 1 % water of about 2 %
///   that it takes up. From a room at 50 to 60 % to wet through: 0.2–0.4 %; the upper end.
/// - Service temperature: makers 70–80 °C without load. For a lasting load 50 °C, and 1.5 % less per kelvin above 23 °C
///   (our judgement: by makers' curves, from memory, strength falls by 1.2 % and creep grows faster).
const CAST_ACRYLIC: Facts = Facts {
    modulus_mpa: 3000.0,
    lasting_modulus_mpa: 1200.0,
    poisson: 0.37,
    lasting_stress_mpa: 3.0,
    lasting_stress_dry_mpa: 5.0,
    strength_mpa: 67.0,
    expansion_per_k: 80e-6,
    swelling: 0.004,
    service_c: 50.0,
    loss_per_k: 0.015,
    lasting_to_c: TESTED_C,
    density_kg_m3: 0.0, // The design's own.
    source: "makers' data sheets and a maker's guide to aquarium panels; lasting modulus from memory",
};

/// Extruded acrylic, ISO 7823-2.
///
/// As cast acrylic, but:
/// - Modulus: 2900 MPa, the least of ISO 7823-2 (from memory); makers 2800–3300.
/// - Lasting modulus: 1000–1400 MPa (from memory); the lower.
/// - Lasting stress: half of that of cast acrylic, as one maker's limits against crazing stand to each other: 5.2 and
///   10.3 MPa (750 and 1500 psi). Makers advise against extruded sheet for aquariums.
/// - Strength: makers 69–72 MPa.
/// - Service temperature: makers 70 °C without load; 45 °C for a lasting one (our judgement).
const EXTRUDED_ACRYLIC: Facts = Facts {
    modulus_mpa: 2900.0,
    lasting_modulus_mpa: 1000.0,
    lasting_stress_mpa: 1.5,
    lasting_stress_dry_mpa: 2.5,
    strength_mpa: 69.0,
    service_c: 45.0,
    source: "makers' data sheets; lasting stress half of cast acrylic's by a maker's limits; lasting modulus from memory",
    ..CAST_ACRYLIC
};

/// Unplasticised PVC, EN ISO 11833-1, not foamed.
///
/// - Modulus: makers 2200–3300 MPa; 2500 is the least of EN ISO 11833-1 for its normal kind (from memory).
/// - Lasting modulus: 1000–1600 MPa for 25 to 50 years at 20 °C (from memory of DVS 2205 and of pipe standards); 1200.
/// - Poisson's ratio 0.38–0.40 (from memory).
/// - Lasting stress: 5 MPa, the 10 MPa of minimum required strength classes over a factor of 2 (DVS 2205, from memory).
/// - Strength: makers 50–60 MPa at yield; the lower.
/// - Expansion: makers 60–80 · 10⁻⁶/K; the upper end.
/// - Swelling: below 0.1 % of water (makers), of which length takes a quarter to a third: 0.03 %, taken as 0.05.
/// - Temperature: EN ISO 1452-2 holds pipes at full pressure up to 25 °C and covers up to 45 °C; there 0.63 of the pressure
///   is left (its Figure A.1, from memory), 1.85 % per kelvin, taken as 2 % from 23 °C on.
const PVC: Facts = Facts {
    modulus_mpa: 2500.0,
    lasting_modulus_mpa: 1200.0,
    poisson: 0.38,
    lasting_stress_mpa: 5.0,
    lasting_stress_dry_mpa: 5.0,
    strength_mpa: 50.0,
    expansion_per_k: 80e-6,
    swelling: 0.0005,
    service_c: 45.0,
    loss_per_k: 0.02,
    lasting_to_c: TESTED_C,
    density_kg_m3: 0.0,
    source: "makers' data sheets; EN ISO 1452-2 for warmth; lasting values from memory of DVS 2205",
};

/// Polycarbonate, EN ISO 11963.
///
/// - Modulus: makers 2300–2400 MPa; the lower.
/// - Lasting modulus: a maker's creep modulus to ISO 899-1 is 2200 MPa after 1 h and 1900 MPa after 1000 h; on the same
///   power of time it is 1730 MPa after ten years. 1400 is taken (our judgement: the test does not reach so far).
/// - Poisson's ratio 0.37–0.38 (from memory).
/// - Lasting stress: 5–7 MPa dry (from memory), 5 taken; 3 in water (our judgement: what is left of solvents and cleaners
///   crazes it).
/// - Strength: makers 60–67 MPa at yield; the lower.
/// - Expansion: makers 65–70 · 10⁻⁶/K; the upper end.
/// - Swelling: makers 0.12–0.15 % of water in air and 0.30–0.35 % wet through; length takes up to a third of it: 0.08 %,
///   taken as 0.1.
/// - Service temperature: a maker gives 60 °C in water, another warns of water above 70 °C; 60. 1 % less per kelvin above
///   23 °C (our judgement).
const POLYCARBONATE: Facts = Facts {
    modulus_mpa: 2300.0,
    lasting_modulus_mpa: 1400.0,
    poisson: 0.37,
    lasting_stress_mpa: 3.0,
    lasting_stress_dry_mpa: 5.0,
    strength_mpa: 60.0,
    expansion_per_k: 70e-6,
    swelling: 0.001,
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

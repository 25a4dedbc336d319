//! Prints the values of all materials, for a judge that compares them with what others have published:
//!
//! `cargo run -p strength --example materials`
//!
//! One JSON object for each material: its values at 23 °C, its lasting ones at other temperatures, and how far a sheet may be
//! off its ordered thickness.
#![expect(clippy::print_stdout, reason = "it tells what is known")]

use design::Sheet;
use params::Material;
use serde_json::{Map, Value, json};
use strength::material::{Facts, GLASS, crazing_mpa, facts, glass_deviation_mm};

/// Thicknesses in trade, mm.
const THICK_MM: [f64; 14] =
    [1.5, 2.0, 2.5, 3.0, 4.0, 4.5, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0];
/// The same of float glass, mm.
const GLASS_THICK_MM: [f64; 9] = [3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 19.0];
const WARM_C: [f64; 8] = [20.0, 23.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0];

fn main() {
    let sheets = [
        ("cast acrylic", Material::CastAcrylic),
        ("extruded acrylic", Material::ExtrudedAcrylic),
        ("PVC", Material::Pvc),
        ("polycarbonate", Material::Polycarbonate),
    ];
    for (name, material) in sheets {
        let deviations = THICK_MM.map(|t| (t.to_string(), json!(Sheet::deviation_of(material, t))));
        let known = facts(material, None);
        println!("{}", of(name, &known, crazing_mpa(material), Map::from_iter(deviations)));
    }
    let deviations = GLASS_THICK_MM.map(|t| (t.to_string(), json!(glass_deviation_mm(t))));
    println!("{}", of("float glass", &GLASS, None, Map::from_iter(deviations)));
}

fn of(name: &str, facts: &Facts, crazing: Option<f64>, deviations: Map<String, Value>) -> Value {
    let warm = WARM_C.map(|c| {
        let at = facts.at(c);
        let lasting = json!({
            "lasting_modulus_mpa": at.lasting_modulus_mpa,
            "lasting_stress_mpa": at.lasting_stress_mpa,
            "lasting_stress_dry_mpa": at.lasting_stress_dry_mpa,
        });
        (c.to_string(), lasting)
    });
    json!({
        "material": name,
        "modulus_mpa": facts.modulus_mpa,
        "lasting_modulus_mpa": facts.lasting_modulus_mpa,
        "poisson": facts.poisson,
        "lasting_stress_mpa": facts.lasting_stress_mpa,
        "lasting_stress_dry_mpa": facts.lasting_stress_dry_mpa,
        "crazing_mpa": crazing,
        "strength_mpa": facts.strength_mpa,
        "expansion_per_k": facts.expansion_per_k,
        "swelling": facts.swelling,
        "service_c": facts.service_c,
        "density_kg_m3": facts.density_kg_m3,
        "at_c": Map::from_iter(warm),
        "deviation_mm": deviations,
    })
}

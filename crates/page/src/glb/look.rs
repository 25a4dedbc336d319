//! How things look, as materials: those of the standard, so that any reader shows something sensible.

use scene::{Look, Side};
use serde_json::{Value, json};

/// Extensions that materials use; none is required.
pub(super) const EXTENSIONS: [&str; 2] = ["KHR_materials_ior", "KHR_materials_unlit"];

/// Refractive index of cast acrylic sheet at 20 °C (ISO 489, typical value of makers' data sheets) and of water.
const ACRYLIC_IOR: f64 = 1.49;
const WATER_IOR: f64 = 1.33;

/// How much of what is behind clear sheet is covered, seen straight through a broad face, and on its edge where light gathers;
/// and by water. Our judgement: what reads as clear beside a picture of the same.
const BROAD_ALPHA: f64 = 0.16;
const EDGE_ALPHA: f64 = 0.62;
const WATER_ALPHA: f64 = 0.34;

/// Colours of water and of edges, sRGB.
const WATER: [u8; 3] = [106, 178, 214];
const LINE: [u8; 3] = [13, 41, 56];

/// All looks that were asked for.
#[derive(Debug, Default)]
pub(super) struct Looks {
    asked: Vec<Ask>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Ask {
    Solid([u8; 3]),
    Clear([u8; 3], Side),
    Water,
    Line,
}

impl Looks {
    /// The material of a face.
    pub(super) fn face(&mut self, look: Look, side: Side) -> usize {
        if look.is_clear {
            self.of(Ask::Clear(look.colour, side))
        } else {
            self.of(Ask::Solid(look.colour))
        }
    }

    pub(super) fn water(&mut self) -> usize {
        self.of(Ask::Water)
    }

    pub(super) fn line(&mut self) -> usize {
        self.of(Ask::Line)
    }

    fn of(&mut self, ask: Ask) -> usize {
        self.asked.iter().position(|known| *known == ask).unwrap_or_else(|| {
            self.asked.push(ask);
            self.asked.len() - 1
        })
    }

    /// All of them as glTF says it.
    pub(super) fn materials(&self) -> Vec<Value> {
        self.asked.iter().map(material).collect()
    }
}

fn material(ask: &Ask) -> Value {
    match ask {
        Ask::Solid(colour) => json!({
            "name": "solid",
            "pbrMetallicRoughness": pbr(*colour, 1.0, 0.55),
        }),
        Ask::Clear(colour, side) => json!({
            "name": if *side == Side::Broad { "clear sheet" } else { "edge of clear sheet" },
            "alphaMode": "BLEND",
            "doubleSided": true,
            "pbrMetallicRoughness": pbr(*colour, if *side == Side::Broad { BROAD_ALPHA } else { EDGE_ALPHA }, 0.1),
            "extensions": { "KHR_materials_ior": { "ior": ACRYLIC_IOR } },
        }),
        Ask::Water => json!({
            "name": "water",
            "alphaMode": "BLEND",
            "pbrMetallicRoughness": pbr(WATER, WATER_ALPHA, 0.05),
            "extensions": { "KHR_materials_ior": { "ior": WATER_IOR } },
        }),
        Ask::Line => json!({
            "name": "line",
            "pbrMetallicRoughness": pbr(LINE, 1.0, 1.0),
            "extensions": { "KHR_materials_unlit": {} },
        }),
    }
}

fn pbr(colour: [u8; 3], alpha: f64, roughness: f64) -> Value {
    let [r, g, b] = colour.map(linear);
    json!({
        "baseColorFactor": [r, g, b, alpha], "metallicFactor": 0.0, "roughnessFactor": roughness,
    })
}

/// From sRGB to linear (IEC 61966-2-1), rounded so that all machines write the same digits.
fn linear(value: u8) -> f64 {
    let c = f64::from(value) / 255.0;
    let linear = if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) };
    (linear * 1e4).round() / 1e4
}

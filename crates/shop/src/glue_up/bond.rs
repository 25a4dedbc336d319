//! What a joint is bonded with, how long that takes, and how much of it is needed.

use design::{Design, JointKind};
use params::Material;

use super::JointId;

/// What two parts can be bonded with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bond {
    /// Both of one plastic: its solvent cement.
    Solvent(Material),
    /// Two kinds of plastic: a cement that its maker names for both.
    Mixed(Material, Material),
    /// One of them is printed: solvent for sheet welds no filament that is not known.
    Printed,
}

impl Bond {
    /// Whether adhesive or cement is put on both faces before they meet, instead of solvent that a needle feeds into the
    /// joint. A joint like that is pressed while it sets, and what is pressed out is wiped off.
    pub fn is_adhesive(self) -> bool {
        !matches!(self, Self::Solvent(_))
    }
}

/// What a glued joint can be bonded with. Cast and extruded acrylic are one plastic.
pub fn bond(design: &Design, joint: JointId) -> Bond {
    let material = |id: usize| {
        let piece = &design.pieces[design.placed[id].piece];
        design.sheets.get(piece.sheet.as_deref()?).map(|sheet| sheet.material)
    };
    let Some(joint) = design.joints.get(joint) else { return Bond::Printed };
    match (material(joint.a), material(joint.b)) {
        (Some(a), Some(b)) if a == b => Bond::Solvent(a),
        // The slower of the two decides.
        (Some(a), Some(b)) if is_acrylic(a) && is_acrylic(b) => {
            Bond::Solvent(Material::ExtrudedAcrylic)
        }
        (Some(a), Some(b)) => Bond::Mixed(a.min(b), a.max(b)),
        _ => Bond::Printed,
    }
}

fn is_acrylic(material: Material) -> bool {
    matches!(material, Material::CastAcrylic | Material::ExtrudedAcrylic)
}

/// What a plastic is called.
pub fn plastic(material: Material) -> &'static str {
    match material {
        Material::CastAcrylic => "cast acrylic",
        Material::ExtrudedAcrylic => "extruded acrylic",
        Material::Pvc => "PVC",
        Material::Polycarbonate => "polycarbonate",
    }
}

/// How long a bond takes, least and greatest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Times {
    /// Until it holds by itself and the next joint may be fed, min.
    pub sets_min: [f64; 2],
    /// Until it may be turned and handled with care, min.
    pub handled_min: [f64; 2],
    /// Until it may carry water, h.
    pub water_h: [f64; 2],
    /// Where that comes from, for the reader.
    pub source: &'static str,
}

/// How long a bond takes at room temperature, 18 to 25 °C.
///
/// - Acrylic sets in 2 to 5 min, sometimes longer, by solvent and weather; the room between 16 and 38 °C, at best 21 to
///   24 °C. Source: Plexiglas MC fabrication manual, "Basic cementing techniques" (capillary method: 2–5 min; soaked joints
///   24 h before handling), and the fabrication manual "Cementing" of Acrylite sheet (60 to 100 °F, 70 to 75 °F ideal). 24
///   to 48 h before water is common practice.
///   Extruded sheet takes longer by the same manuals; twice as long is our judgement.
/// - PVC: initial set 15 min (½ in pipe) to 1 h (8 in pipe) and cure 1 to 24 h at 60 to 100 °F, half as much again above
///   60 % relative humidity. Source: Charlotte Pipe, Plastics Technical Manual, tables "Recommended initial set times" and
///   "Recommended curing time before pressure testing", joints made as ASTM D2855 describes. For flat sheet we know of no
///   table; a full day is reckoned with at least.
/// - Polycarbonate: "somewhat longer than acrylic" ("Bonding and fastening Tuffak GP"); twice as long is our judgement.
/// - A cement for two plastics, or a filled adhesive, is as slow as its maker says; 24 to 72 h is common practice.
pub fn times(bond: Bond) -> Times {
    match bond {
        Bond::Solvent(Material::CastAcrylic) => Times {
            sets_min: [2.0, 5.0],
            handled_min: [30.0, 60.0],
            water_h: [24.0, 48.0],
            source: "sets: makers' manuals for acrylic sheet; handling and water: common practice",
        },
        Bond::Solvent(Material::ExtrudedAcrylic) => Times {
            sets_min: [4.0, 10.0],
            handled_min: [60.0, 120.0],
            water_h: [24.0, 48.0],
            source: "makers' manuals: longer than cast sheet; twice as long is our judgement",
        },
        Bond::Solvent(Material::Pvc) => Times {
            sets_min: [15.0, 60.0],
            handled_min: [60.0, 240.0],
            water_h: [24.0, 48.0],
            source: "sets: makers' tables for pipe joints at 16 to 38 °C; half as long again in damp air; handling and \
                water: our judgement",
        },
        Bond::Solvent(Material::Polycarbonate) => Times {
            sets_min: [5.0, 10.0],
            handled_min: [60.0, 120.0],
            water_h: [48.0, 72.0],
            source: "makers' advice: longer than acrylic; twice as long is our judgement",
        },
        Bond::Mixed(..) | Bond::Printed => Times {
            sets_min: [5.0, 60.0],
            handled_min: [240.0, 1440.0],
            water_h: [24.0, 72.0],
            source: "common practice; the maker of the adhesive decides",
        },
    }
}

/// How thick a film of solvent stays in a fitted joint, mm, least and greatest: it runs into 0.05 to 0.2 mm (common
/// practice).
const FILM_MM: [f64; 2] = [0.05, 0.2];
/// What is spilt, dries in the needle, or is fed a second time, as a factor; our judgement.
const WASTE: [f64; 2] = [2.0, 4.0];

/// How much solvent all solvent joints take, mL, least and greatest, with what goes astray.
pub fn solvent_ml(design: &Design) -> [f64; 2] {
    let glued = design.joints.iter().enumerate().filter(|(_, joint)| joint.kind.is_glued());
    let of_solvent = glued.filter(|(id, _)| matches!(bond(design, *id), Bond::Solvent(_)));
    let area_mm2: f64 = of_solvent
        .map(|(_, joint)| {
            // Nobody floods a face that is glued flat: a strip along each of its edges is enough.
            let wide = if joint.kind == JointKind::Butt {
                2.0 * super::ONE_SIDE_MM
            } else {
                f64::INFINITY
            };
            joint.length_mm * joint.width_mm.min(wide)
        })
        .sum();
    [0, 1].map(|k| area_mm2 * FILM_MM[k] * WASTE[k] * 1e-3)
}

//! What strength, weight and tolerance are judged by.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Length, Temperature};

/// By what strength is judged.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Strength {
    /// What carries the bottom of the box. Left out: taken as `"flat"`, and said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bottom: Option<BottomSupport>,
    /// Greatest share of the sheet's lasting stress that a glued seam may carry. Left out: 0.3 (our judgement: tests of
    /// butt joints find 20 to 50 % of the sheet's own strength).
    #[schemars(range(min = 0.01, max = 1.0))]
    pub joint: f64,
    /// Greatest deflection under lasting load, of walls, bottom and leaves. Left out: the shorter side of the panel
    /// divided by 100 (our judgement: more looks unsafe and lets leaves come loose).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.1, "x-most" = 100.0))]
    pub bulge: Option<Length>,
    /// Most that one person lifts, close to the body and at knuckle height. Left out: 25 kg, for men by the guidance of HSE
    /// (INDG143); for women it says 16 kg. In kg.
    #[schemars(range(min = 1.0, max = 100.0), extend("x-unit" = "kg"))]
    pub lift: f64,
}

/// What carries the bottom.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum BottomSupport {
    /// A level board or floor under all of it, with the mat that the material wants.
    Flat,
    /// A frame under its edges only: the bottom bends.
    Frame,
}

impl Default for Strength {
    fn default() -> Self {
        Self { bottom: None, joint: 0.3, bulge: None, lift: 25.0 }
    }
}

/// How far parts differ from their drawing, and what water and warmth make of them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Tolerance {
    /// How far a cut edge may lie from where it is drawn. Left out: 0.2 mm for router and laser, 0.5 mm for a saw (common
    /// practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 5.0))]
    pub cut: Option<Length>,
    /// How far a part may stand from its place when it is glued by hand. Left out: 0.5 mm (our judgement).
    #[schemars(extend("x-least" = 0.0, "x-most" = 10.0))]
    pub assembly: Length,
    /// How far a printed face may lie from where it is drawn. Left out: 0.2 mm (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 2.0))]
    pub printed: Length,
    /// Temperature at which parts are cut and fitted. Left out: 20 °C, that of ISO 1.
    #[schemars(extend("x-least" = -10.0, "x-most" = 45.0))]
    pub fitted_at: Temperature,
    /// Least and greatest temperature that the sump sees later. Left out: 15 to 30 °C (our judgement: an unheated room,
    /// and a warm aquarium in summer).
    #[schemars(extend("x-least" = -10.0, "x-most" = 60.0))]
    pub temperature: [Temperature; 2],
    /// Most that a sheet grows in length by taking up water, as a share. Left out: that of the material.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 0.02))]
    pub swelling: Option<f64>,
    /// Most play that a loose leaf may have in its guides before it rattles. Left out: 2 mm (our judgement).
    #[schemars(extend("x-least" = 0.0, "x-most" = 20.0))]
    pub play: Length,
}

impl Default for Tolerance {
    fn default() -> Self {
        Self {
            cut: None,
            assembly: Length::mm(0.5),
            printed: Length::mm(0.2),
            fitted_at: Temperature::celsius(20.0),
            temperature: [Temperature::celsius(15.0), Temperature::celsius(30.0)],
            swelling: None,
            play: Length::mm(2.0),
        }
    }
}

/// What the maker of a sheet says of it, where that is better known than the values of its kind. MPa is N/mm².
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct DataSheet {
    /// Modulus of elasticity for a load of minutes, in MPa: 1 `GPa` is 1000 MPa, 1000 psi are 6.9 MPa. Sheets have 2200 to 3300.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 100.0, max = 200_000.0), extend("x-unit" = "MPa"))]
    pub modulus: Option<f64>,
    /// Modulus of elasticity for a load of years (creep modulus), in MPa. Less than `modulus`: sheets have 1000 to 2000.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 50.0, max = 200_000.0), extend("x-unit" = "MPa"))]
    pub lasting_modulus: Option<f64>,
    /// Greatest tensile stress that it may carry for years in air (design stress), in MPa; never its tensile strength, which is of
    /// a test of minutes. Sheets have 2.5 to 5. In water it is reckoned with less, as careful values of its material have it,
    /// unless `lasting_stress_wet` is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.1, max = 100.0), extend("x-unit" = "MPa"))]
    pub lasting_stress: Option<f64>,
    /// The same in water, in MPa, where the maker vouches for one. Sheets have 1.5 to 4.7. Left out: by `lasting_stress`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.1, max = 100.0), extend("x-unit" = "MPa"))]
    pub lasting_stress_wet: Option<f64>,
}

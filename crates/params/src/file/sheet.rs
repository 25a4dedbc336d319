use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::Process;

/// A kind of sheet, as bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// What it is made of.
    pub material: Material,
    /// Thickness as ordered.
    #[schemars(extend("x-least" = 1.0, "x-most" = 40.0))]
    pub thickness: Length,
    /// Thickness by caliper: one value, or the least and the greatest found. Left out: the band that
    /// the material's standard allows. Every slot is made for this, never for the ordered thickness.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.5, "x-most" = 50.0))]
    pub measured: Option<Measured>,
    /// Colour as `"clear"`, or red, green and blue as `"#rrggbb"`. Left out: clear for acrylic and
    /// polycarbonate, grey for PVC.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(regex(pattern = "^(clear|#[0-9a-fA-F]{6})$"), extend("x-words" = "`\"clear\"` or a colour as `\"#rrggbb\"`"))]
    pub colour: Option<String>,
    /// Whether it has a pattern or a grain, so that no part may lie turned by 90°. Left out: `false`.
    #[serde(default)]
    pub patterned: bool,
    /// What this sheet is cut with, if not with what the others are. Parts of one stock that are cut in two ways are of two
    /// sheets here. Left out: `cutting.process`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<Process>,
    /// What the maker's data sheet says of its strength. Left out: careful values for its material.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub data_sheet: Option<super::DataSheet>,
    /// Sizes that the shop sells or that you have at home. Parts are laid out on the cheapest set of them.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub stock: Vec<StockSize>,
}

/// Materials that a home-made sump is solvent-welded from.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
pub enum Material {
    /// Cast poly(methyl methacrylate), sheet to ISO 7823-1. The usual choice.
    #[serde(rename = "cast acrylic")]
    CastAcrylic,
    /// Extruded poly(methyl methacrylate), sheet to ISO 7823-2. Truer in thickness, crazes more easily.
    #[serde(rename = "extruded acrylic")]
    ExtrudedAcrylic,
    /// Unplasticised poly(vinyl chloride), sheet to EN ISO 11833-1. Never to be cut by laser.
    #[serde(rename = "PVC")]
    Pvc,
    /// Polycarbonate, sheet to EN ISO 11963. Tough, but suffers from solvents.
    #[serde(rename = "polycarbonate")]
    Polycarbonate,
}

impl Material {
    /// The widest gap that thin solvent is drawn into and fills, mm; common practice: it runs into 0.05 to 0.2 mm.
    pub const SOLVENT_FILLS_MM: f64 = 0.2;
    /// The widest gap that thickened (gap-filling) cement fills, mm; common practice, from memory.
    pub const THICKENED_FILLS_MM: f64 = 0.5;
}

/// A thickness by caliper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Measured {
    /// The same everywhere.
    One(Length),
    /// Least and greatest found.
    Band([Length; 2]),
}

/// A size in which the sheet can be had.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockSize {
    /// Length and width.
    #[schemars(extend("x-least" = 50.0, "x-most" = 10000.0))]
    pub size: [Length; 2],
    /// Price of one, in your currency. Left out: not known. Where sheets without a price may have to be bought, the least
    /// area is bought in place of the cheapest set. 0 says the same as `own`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1e9))]
    pub price: Option<f64>,
    /// Whether you have it already, as an offcut at home: it costs nothing, is used before any is bought, and the letter
    /// to the shop says that you bring it. There is one of it, unless `quantity` says that there are more. Left out: `false`.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub own: bool,
    /// How many there are. Left out: as many as are needed of what is bought, and one of your own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1, max = 10000))]
    pub quantity: Option<u32>,
}

impl StockSize {
    /// Whether it is the maker's own, which costs nothing.
    pub fn is_own(&self) -> bool {
        self.own || self.price.is_some_and(|price| price <= 0.0)
    }

    /// How many there are; `None` for as many as are needed. Of what is at home there is one, unless the file says more:
    /// sheet that costs nothing never comes without end.
    pub fn number(&self) -> Option<u32> {
        self.quantity.or_else(|| self.is_own().then_some(1))
    }
}

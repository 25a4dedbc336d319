//! Money, the film behind the glass, and what stands on every paper.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::Wall;

/// What things cost. All prices are in your own currency. What is left out is not reckoned with, and the estimate
/// says so.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Costs {
    /// What the currency is called behind a number. Left out: nothing is written.
    #[schemars(length(max = 8))]
    pub currency: String,
    /// What the shop asks for an hour of its machine, least and greatest.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1e6))]
    pub machine_hour: Option<[f64; 2]>,
    /// Minutes to set up the machine and lay on a sheet, for each sheet, least and greatest. Left out: 10 to 20 (common
    /// practice).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 600.0))]
    pub minutes_per_sheet: Option<[f64; 2]>,
    /// Price of a litre of solvent cement.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1e6))]
    pub solvent_litre: Option<f64>,
    /// Prices of things that are bought or printed, each, by the names that the parts list gives them.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(extend("maxProperties" = 200))]
    pub each: BTreeMap<String, f64>,
}

/// Coloured film on the outside of a wall, as a background.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Background {
    /// The walls of the box that it covers. Left out: the back.
    #[serde(default = "back")]
    #[schemars(length(min = 1, max = 4))]
    pub walls: Vec<Wall>,
    /// How far it is cut larger than the wall on every side, to be trimmed on the wall. Left out: 10 mm (common practice).
    #[serde(default = "bleed")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 100.0))]
    pub bleed: Length,
    /// How far it stays clear of the edge of a hole, so that a flange seals on bare sheet. Left out: 5 mm beyond the
    /// flange (our judgement).
    #[serde(default = "around_holes")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 100.0))]
    pub around_holes: Length,
    /// Width of the roll. Left out: 1220 mm (common practice: 48 in).
    #[serde(default = "roll")]
    #[schemars(extend("x-least" = 100.0, "x-most" = 5000.0))]
    pub roll: Length,
    /// Price of a square metre, of the film alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1e6))]
    pub price_m2: Option<f64>,
    /// Price of a square foot, of the film alone, in place of `price_m2`. Common practice: about 7 US dollars in retail.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1e6))]
    pub price_ft2: Option<f64>,
    /// What a shop asks for an hour of putting it on, beside the film.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1e6))]
    pub shop_hour: Option<f64>,
}

/// Square metres in a square foot, exactly (international foot of 0.3048 m).
pub const M2_PER_FT2: f64 = 0.092_903_04;

impl Background {
    /// Price of a square metre, whichever way it is given.
    pub fn price_of_m2(&self) -> Option<f64> {
        self.price_m2.or(self.price_ft2.map(|price| price / M2_PER_FT2))
    }
}

fn back() -> Vec<Wall> {
    vec![Wall::Back]
}

fn bleed() -> Length {
    Length::mm(10.0)
}

fn around_holes() -> Length {
    Length::mm(5.0)
}

fn roll() -> Length {
    Length::mm(1220.0)
}

/// What stands in the title block of drawings and on every paper. Nothing is taken from the clock: what is left out
/// stays an empty field, to be filled in by hand.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Papers {
    /// Paper that you print on. Left out: A4, or Letter where `report` is `"us"`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<PaperSize>,
    /// Whose drawings they are.
    #[schemars(length(max = 40))]
    pub owner: String,
    /// Who drew them.
    #[schemars(length(max = 20))]
    pub creator: String,
    /// Who approved them.
    #[schemars(length(max = 20))]
    pub approved: String,
    /// Day of issue, as `2026-11-26`.
    #[schemars(length(max = 10))]
    pub date: String,
    /// Which revision it is: `A`, `B`.
    #[schemars(length(max = 2))]
    pub revision: String,
}

/// Paper, with the next larger size for drawings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum PaperSize {
    /// 210 × 297 mm to ISO 216; drawings on A3, 420 × 297 mm.
    A4,
    /// 8.5 × 11 in; drawings on Tabloid, 17 × 11 in.
    Letter,
}

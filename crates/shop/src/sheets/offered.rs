//! Sizes of sheet that can be had, and what the choice among them weighs.

use glam::DVec2;
use params::{Sheet, StockSize};
use units::Length;

use super::USUAL_SIZE_MM;
use crate::ChosenBy;

/// A size of sheet that can be had.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Offered {
    /// An index into the file's `stock`; `None` for the usual size.
    pub stock: Option<usize>,
    /// Length and width.
    pub size_mm: DVec2,
    /// What the set of sheets is to have least of, in whole numbers: see [`of`].
    pub weight: u64,
    /// Its price; nothing for the maker's own, `None` where it is not known.
    pub price: Option<f64>,
    /// Whether the maker has it already.
    pub is_own: bool,
    /// How many there are; `None` for as many as are needed.
    pub quantity: Option<usize>,
}

/// The sizes that the file offers of a sheet, or the usual one, and what is weighed: prices in [`PARTS`] of the currency
/// where every size has one, else areas in cm², and of usual sheets their number. The maker's own weigh nothing.
pub(super) fn of(sheet: &Sheet) -> (ChosenBy, Vec<Offered>) {
    if sheet.stock.is_empty() {
        let usual = Offered {
            stock: None,
            size_mm: DVec2::from(USUAL_SIZE_MM),
            weight: 1,
            price: None,
            is_own: false,
            quantity: None,
        };
        return (ChosenBy::Number, vec![usual]);
    }
    let is_known = |size: &StockSize| size.is_own() || size.price.is_some();
    let chosen_by = if sheet.stock.iter().all(is_known) { ChosenBy::Price } else { ChosenBy::Area };
    let sizes = sheet.stock.iter().enumerate();
    (chosen_by, sizes.map(|(k, size)| offered(k, size, chosen_by)).collect())
}

fn offered(k: usize, size: &StockSize, chosen_by: ChosenBy) -> Offered {
    let size_mm = DVec2::from(size.size.map(Length::to_mm));
    let is_own = size.is_own();
    let price = if is_own { Some(0.0) } else { size.price };
    let weight = match (chosen_by, price) {
        _ if is_own => 0,
        (ChosenBy::Price, Some(price)) => whole(price * PARTS),
        _ => whole(size_mm.x * size_mm.y / MM2_PER_CM2),
    };
    let quantity = size.number().map(|quantity| quantity as usize);
    Offered { stock: Some(k), size_mm, weight, price, is_own, quantity }
}

/// Prices are weighed in ten-thousandths of the currency.
const PARTS: f64 = 1e4;
const MM2_PER_CM2: f64 = 100.0;

/// The money that is weighed so.
#[expect(clippy::cast_precision_loss, reason = "a price of 1e9 is 1e13 parts")]
pub(super) fn money(weight: u64) -> f64 {
    weight as f64 / PARTS
}

/// The nearest whole number, but at least 1: what is bought is never reckoned as free, however little it costs.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the schema allows prices from 0 to 1e9, and sides to 10 m"
)]
fn whole(weight: f64) -> u64 {
    (weight.round() as u64).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(stock: &str) -> Sheet {
        let text = include_str!("../../../../params/seahorse.toml");
        let begin = text.find("stock = [").expect("the demo has it");
        let end = begin + text[begin..].find("\n]").expect("its end") + 2;
        let text = format!("{}stock = [{stock}]{}", &text[..begin], &text[end..]);
        let read = params::read(&text);
        read.file.unwrap_or_else(|| panic!("{:#?}", read.findings)).sheet["clear8"].clone()
    }

    #[test]
    fn little_money_is_not_nothing() {
        let (by, sizes) = of(&sheet(
            "{ size = [900, 600], price = 0.004 }, { size = [800, 600], price = 0.000001 }, { size = [700, 600], own = true }",
        ));
        assert_eq!(by, ChosenBy::Price);
        assert_eq!(sizes.iter().map(|size| size.weight).collect::<Vec<_>>(), [40, 1, 0]);
        assert!((money(sizes[0].weight) - 0.004).abs() < 1e-12);
    }

    #[test]
    fn without_a_price_areas_are_weighed() {
        let (by, sizes) = of(&sheet(
            "{ size = [900, 600] }, { size = [800, 600], price = 9.0 }, { size = [700, 600], own = true }",
        ));
        assert_eq!(by, ChosenBy::Area);
        assert_eq!(sizes.iter().map(|size| size.weight).collect::<Vec<_>>(), [5400, 4800, 0]);
        assert_eq!(
            sizes.iter().map(|size| size.price).collect::<Vec<_>>(),
            [None, Some(9.0), Some(0.0)]
        );
    }

    #[test]
    fn own_is_also_what_costs_nothing() {
        let (by, sizes) = of(&sheet("{ size = [900, 600], price = 0 }"));
        assert_eq!((by, sizes[0].is_own), (ChosenBy::Price, true));
    }

    #[test]
    fn of_own_sheet_there_is_one_unless_more_are_said() {
        let (_, sizes) = of(&sheet(
            "{ size = [900, 600], own = true }, { size = [800, 600], price = 0 }, { size = [700, 600], own = true, quantity = 3 }, { size = [600, 600], price = 9 }, { size = [500, 600], price = 9, quantity = 2 }",
        ));
        let quantities: Vec<_> = sizes.iter().map(|size| size.quantity).collect();
        assert_eq!(quantities, [Some(1), Some(1), Some(3), None, Some(2)]);
    }
}

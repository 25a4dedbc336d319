//! Which sheets to take, and what lies where on them.
//!
//! Every copy of every panel is laid by its bounding box, which stands along the edges of the sheet. How near parts may be
//! to one another and to the edge says [`gaps`]; lengths are counted on a grid of 0.01 mm and rounded so that nothing ever
//! comes nearer.

mod findings;
pub mod gaps;
mod grid;
mod offcuts;
mod offered;
mod opening;
mod part;
#[cfg(test)]
mod tests;
mod unsawn;

use ::findings::Finding;
use design::Design;
use glam::DVec2;
use params::File;
use rayon::prelude::*;

use crate::nest::{Item, Kind, Nest, NestError, Rules, Sheet, Size, nest};
use crate::{ChosenBy, Laid, LaidSheet, StockPlan, Work};
use gaps::Gaps;
use offered::Offered;
use part::Part;

/// A sheet whose sizes the file does not name is laid on this, mm: a usual size of acrylic (common practice).
pub const USUAL_SIZE_MM: [f64; 2] = [3050.0, 2050.0];

/// Lays all panels of a design on sheets: for each kind of sheet the cheapest set that is found, or where not all sheets
/// have a price the one of the least area to buy, at the same price the smaller one, with as large a rest in one piece as can be. Tells too what fits on no sheet, and whether a cheaper set
/// may exist.
///
/// Sheets of which no set is large enough have no plan, but a finding that fails.
pub fn lay(file: &File, design: &Design, works: &[Work]) -> (Vec<StockPlan>, Vec<Finding>) {
    let names: Vec<&String> = file.sheet.keys().collect();
    let laid: Vec<(Option<StockPlan>, Vec<Finding>)> =
        names.par_iter().map(|name| Task::new(file, design, works, name).lay()).collect();
    let (plans, found): (Vec<_>, Vec<_>) = laid.into_iter().unzip();
    (plans.into_iter().flatten().collect(), found.into_iter().flatten().collect())
}

/// One sheet of the file, with all that is cut from it.
struct Task<'a> {
    file: &'a File,
    design: &'a Design,
    name: &'a str,
    parts: Vec<Part>,
    sizes: Vec<Offered>,
    chosen_by: ChosenBy,
    gaps: Gaps,
}

impl<'a> Task<'a> {
    fn new(file: &'a File, design: &'a Design, works: &'a [Work], name: &'a str) -> Self {
        let gaps = Gaps::of(&file.cutting_of(Some(name)));
        let of_sheet = works.iter().filter(|work| {
            let piece = &design.pieces[work.piece];
            piece.role.is_sheet() && piece.sheet.as_deref() == Some(name)
        });
        let has_rooms = file.cutting.nest_in_openings && !gaps.is_straight_through;
        let parts: Vec<Part> =
            of_sheet.filter_map(|work| Part::new(work, &gaps, has_rooms)).collect();
        let (chosen_by, sizes) = offered::of(&file.sheet[name]);
        Self { file, design, name, parts, sizes, chosen_by, gaps }
    }

    fn lay(&self) -> (Option<StockPlan>, Vec<Finding>) {
        let mut found = Vec::new();
        let mut copies: Vec<(&Part, usize)> = Vec::new();
        for part in &self.parts {
            let quantity = self.design.pieces[part.piece].quantity;
            copies.extend((1..=quantity).map(|copy| (part, copy)));
        }
        if copies.is_empty() {
            return (None, found);
        }
        let turns = !self.file.sheet[self.name].patterned;
        let kinds: Vec<Kind> = self.sizes.iter().map(|size| self.kind(size, turns)).collect();
        let rules = Rules { is_guillotine: self.gaps.is_straight_through, ..Rules::default() };
        loop {
            let items: Vec<Item> = copies.iter().map(|(part, _)| part.item(&self.gaps)).collect();
            match nest(&items, &kinds, rules) {
                Ok(nest) => {
                    let plan = self.plan(&nest, &items, &copies);
                    found.extend(unsawn::unsawn(&plan));
                    if plan.n_left_out == 0 {
                        found.extend(self.price_findings(&plan));
                    }
                    return (Some(plan), found);
                }
                // What fits on no sheet is told, and all else is laid.
                Err(NestError::TooLarge(large)) => {
                    found.extend(self.too_large(large.iter().map(|k| copies[*k].0), turns));
                    let mut k = 0;
                    copies.retain(|_| {
                        k += 1;
                        !large.contains(&(k - 1))
                    });
                    if copies.is_empty() {
                        return (None, found);
                    }
                }
                Err(NestError::TooFew { left, is_proved }) => {
                    found.push(self.too_few(left.iter().map(|k| copies[*k].0), is_proved));
                    return (None, found);
                }
            }
        }
    }

    fn kind(&self, offered: &Offered, turns: bool) -> Kind {
        let within = |mm: f64| grid::down(mm) - 2 * self.gaps.edge + self.gaps.between;
        let size = Size { width: within(offered.size_mm.x), height: within(offered.size_mm.y) };
        Kind { size, cost: offered.weight, quantity: offered.quantity, turns }
    }

    fn plan(&self, nest: &Nest, items: &[Item], copies: &[(&Part, usize)]) -> StockPlan {
        let wanted: usize =
            self.parts.iter().map(|part| self.design.pieces[part.piece].quantity).sum();
        let n_left_out = wanted - copies.len();
        let sheets = nest.sheets.iter().enumerate();
        let sheets: Vec<LaidSheet> =
            sheets.map(|(k, sheet)| self.laid_sheet(k + 1, sheet, items, copies)).collect();
        // What does not hold all of it has no price.
        let prices = sheets.iter().map(|sheet| sheet.price).sum::<Option<f64>>();
        let price = prices.filter(|_| n_left_out == 0);
        let by_price = price.filter(|_| self.chosen_by == ChosenBy::Price);
        StockPlan {
            sheet: self.name.to_owned(),
            sheets,
            price,
            least_price: by_price.map(|price| price.min(offered::money(nest.bound))),
            chosen_by: self.chosen_by,
            n_left_out,
            is_proved: nest.is_proved() && n_left_out == 0,
            is_straight_through: self.gaps.is_straight_through,
        }
    }

    fn laid_sheet(
        &self,
        number: usize,
        sheet: &Sheet,
        items: &[Item],
        copies: &[(&Part, usize)],
    ) -> LaidSheet {
        let offered = &self.sizes[sheet.kind];
        let laid = |k: usize| {
            let put = sheet.puts[k];
            let (part, copy) = copies[put.item];
            let at = [put.rect.x, put.rect.y].map(|x| grid::mm(x + self.gaps.edge));
            let holds = |parent: &crate::nest::Put| {
                parent.rooms(&items[parent.item]).any(|room| room.contains(put.rect))
            };
            Laid {
                piece: part.piece,
                copy,
                at: part.origin(DVec2::from(at), put.is_turned),
                is_turned: put.is_turned,
                is_in_opening: sheet.puts[..k].iter().any(holds),
            }
        };
        let laid: Vec<Laid> = (0..sheet.puts.len()).map(laid).collect();
        let name = format!("{}-{number}", self.name);
        let lying: Vec<(Laid, &Part)> =
            laid.iter().zip(&sheet.puts).map(|(laid, put)| (*laid, copies[put.item].0)).collect();
        let rest = offcuts::Rest::of(offered.size_mm, &lying, &self.gaps);
        let offcuts = rest.offcuts(&name);
        LaidSheet {
            name,
            stock: offered.stock,
            size_mm: offered.size_mm,
            price: offered.price,
            is_own: offered.is_own,
            laid,
            offcuts,
            saw_cuts: rest.saw_cuts,
        }
    }
}

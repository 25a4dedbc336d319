//! What is said of sheets: too small, too few, and whether cheaper ones would do.

use std::collections::BTreeMap;

use ::findings::Finding;
use design::PieceId;
use glam::DVec2;
use units::Length;

use super::{Part, Task, USUAL_SIZE_MM, grid};
use crate::{ChosenBy, StockPlan};

impl Task<'_> {
    /// Parts that fit on no sheet, one finding each.
    pub(super) fn too_large<'b>(
        &self,
        parts: impl Iterator<Item = &'b Part>,
        turns: bool,
    ) -> Vec<Finding> {
        let by_piece: BTreeMap<PieceId, &Part> = parts.map(|part| (part.piece, part)).collect();
        by_piece.values().map(|part| self.part_too_large(part, turns)).collect()
    }

    fn part_too_large(&self, part: &Part, turns: bool) -> Finding {
        let piece = &self.design.pieces[part.piece];
        let left = |size: DVec2| size - DVec2::splat(2.0 * grid::mm(self.gaps.edge));
        // The one of which the part sticks out least.
        let wanted = part.size_mm();
        let over = |size: DVec2| {
            let lying = |part: DVec2| (part - left(size)).max_element();
            if turns {
                lying(wanted).min(lying(DVec2::new(wanted.y, wanted.x)))
            } else {
                lying(wanted)
            }
        };
        let nearest = self.sizes.iter().map(|size| size.size_mm);
        let nearest = nearest.min_by(|a, b| over(*a).total_cmp(&over(*b)));
        let nearest = nearest.unwrap_or(DVec2::from(USUAL_SIZE_MM));
        let turned = if turns { "" } else { ", which has a pattern, so that no part is turned" };
        let message = format!(
            "{} {} is {}; the sheet nearest to it is {}, of which {} are left within margins and cut{turned}",
            piece.number,
            piece.name,
            self.show(wanted),
            self.show(nearest),
            self.show(left(nearest)),
        );
        Finding::fails("part-larger-than-sheet", &piece.parameter, message).with_hint(format!(
            "name a larger sheet in `sheet.{}.stock`, make the part smaller, or a smaller `cutting.margin`",
            self.name
        ))
    }

    /// The sheets that there are do not suffice.
    pub(super) fn too_few<'b>(
        &self,
        left: impl Iterator<Item = &'b Part>,
        is_proved: bool,
    ) -> Finding {
        let mut numbers: Vec<&str> =
            left.map(|part| self.design.pieces[part.piece].number.as_str()).collect();
        numbers.sort_unstable();
        numbers.dedup();
        let sure = if is_proved { "do not suffice" } else { "were not found to suffice" };
        let message = format!(
            "the sheets in `sheet.{}.stock` {sure}: no room for {}",
            self.name,
            numbers.join(", ")
        );
        Finding::fails("too-few-sheets", format!("sheet.{}.stock", self.name), message)
            .with_hint("add a size that can be bought, or a greater `quantity`")
    }

    /// Whether a cheaper set of sheets may exist.
    pub(super) fn price_findings(&self, plan: &StockPlan) -> Option<Finding> {
        let parameter = format!("sheet.{}.stock", self.name);
        let unpriced = |message: String, hint: &str| {
            let hint = format!("{hint} in `sheet.{}.stock`", self.name);
            Finding::not_checked("sheets-cheapest", &parameter, message).with_hint(hint)
        };
        let number = plan.sheets.len();
        if plan.chosen_by == ChosenBy::Number {
            let message = format!(
                "`{}` names no size of sheet, so its parts were laid on {number} of {}, a usual size; what they cost is \
                 not known",
                self.name,
                self.show(DVec2::from(USUAL_SIZE_MM)),
            );
            let finding = unpriced(message, "name sizes and prices");
            return Some(finding.with_source("common practice"));
        }
        let (Some(price), Some(least)) = (plan.price, plan.least_price) else {
            let message = format!(
                "not all sheets of `{}` have a price, so the least area was bought, not the least money; {}",
                self.name,
                plan.area_words()
            );
            return Some(unpriced(message, "give each size its `price`, or `own = true`"));
        };
        let source =
            "our search; lower bound by dual feasible functions (Fekete and Schepers 2001)";
        let finding = if plan.is_proved {
            let message = format!(
                "the sheets of `{}` cost {}, and no set of those in the file costs less while parts are laid by the rectangles around them",
                self.name,
                self.money(price)
            );
            Finding::holds("sheets-cheapest", parameter, message)
        } else {
            let message = format!(
                "the sheets of `{}` cost {}; no set costs less than {}, but whether one costs less than these is not known",
                self.name,
                self.money(price),
                self.money(least)
            );
            Finding::not_checked("sheets-cheapest", parameter, message)
        };
        Some(finding.with_source(source))
    }

    fn money(&self, price: f64) -> String {
        crate::shown_price(price, &self.file.costs.currency)
    }

    fn show(&self, size: DVec2) -> String {
        let side = |mm: f64| Length::mm(mm).show(self.design.report);
        format!("{} × {}", side(size.x), side(size.y))
    }
}
